/** A document's JSON as it came: nothing of it is trusted before the newest schema has read it. */
type Raw = Readonly<Record<string, unknown>>;

function isRecord(value: unknown): value is Raw {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/**
 * One step each, from the version of its place counted from 1. A step adds what the next version has and an older program could not
 * choose, so that an old lesson opens as it was chosen; where the music engine has changed too, `lesson.engine` says so.
 */
const STEPS: readonly ((document: Raw) => Raw)[] = [
  /** 2: how the bass walks, chords are comped and voiced, the curve of outsideness and the key it is shown in are choices of their own; parts have pins. */
  (document) => {
    const { choices } = document;
    if (!isRecord(choices)) return { ...document, version: 2 };
    const pins = isRecord(choices['pins']) ? { ...choices['pins'], parts: { voicings: [] } } : choices['pins'];
    const added = {
      shownIn: null,
      curve: [],
      bass: { feel: null, range: 'left hand' },
      comping: 'usual',
      voicings: 'rootless',
    };
    return { ...document, version: 2, choices: { ...choices, ...added, pins } };
  },
  /** 3: a film, a second chord-scale at a chord, and the teacher's own notes. */
  (document) => {
    const { choices } = document;
    if (!isRecord(choices)) return { ...document, version: 3 };
    const { pins } = choices;
    const added = (stage: string, fields: Raw): Raw =>
      isRecord(pins) && isRecord(pins[stage]) ? { [stage]: { ...pins[stage], ...fields } } : {};
    const lifted = isRecord(pins)
      ? { ...pins, ...added('plan', { secondScales: [] }), ...added('parts', { notes: [] }) }
      : pins;
    return {
      ...document,
      version: 3,
      choices: { ...choices, film: null, ...(isRecord(pins) ? { pins: lifted } : {}) },
    };
  },
  /** 4: phrases, motives, what is heard beside the trio, the play page. */
  (document) => {
    const { choices } = document;
    if (!isRecord(choices)) return { ...document, version: 4 };
    const { programme, pins } = choices;
    // beside the trio nothing was to be had, and pages went one way
    const aids: Raw = { restBars: 0, metronome: 'none', answers: 'none' };
    const parts = isRecord(pins) && isRecord(pins['parts']) ? { parts: { ...pins['parts'], motives: [] } } : {};
    const added: Raw = {
      phrases: [],
      playPage: 'one way',
      ...(isRecord(programme) ? { programme: { ...programme, aids } } : {}),
      ...(isRecord(pins) ? { pins: { ...pins, ...parts } } : {}),
    };
    return { ...document, version: 4, choices: { ...choices, ...added } };
  },
  /** 5: what each addition is stands in this step, with the value that leaves the lesson as it was chosen. */
  (document) => {
    const { choices } = document;
    if (!isRecord(choices)) return { ...document, version: 5 };
    const { film } = choices;
    // nobody spoke in a film
    const scenes = Array.isArray(film)
      ? film.map((scene: unknown) => (isRecord(scene) ? { ...scene, voice: null } : scene))
      : film;
    return { ...document, version: 5, choices: { ...choices, ...(film === undefined ? {} : { film: scenes }) } };
  },
];

/** An older document lifted to the newest version, one step at a time; anything else as it came. */
export function migrated(raw: unknown): unknown {
  if (!isRecord(raw)) return raw;
  const { version } = raw;
  if (typeof version !== 'number' || !Number.isInteger(version) || version < 1) return raw;
  return STEPS.slice(version - 1).reduce((document, step) => step(document), raw);
}
