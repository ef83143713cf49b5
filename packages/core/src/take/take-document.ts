import * as v from 'valibot';
import type { Issue, Result } from '../issue/index.ts';
import { cutText } from '../plain-text.ts';
import type { Take } from './take.ts';

/** Newest version of a kept take that this program writes; older ones are lifted one step at a time. */
export const TAKE_VERSION = 1;

/** An hour of dense playing has some 40 000 notes. */
const MOST_NOTES = 50_000;
const MOST_PEDALS = 50_000;
const LONGEST_MICROS = 4_000_000_000;

/** A lesson document and all notes; what is longer is refused before it is looked at. */
export const LONGEST_TAKE_CHARACTERS = 12_000_000;

const integer = (low: number, high: number) => v.pipe(v.number(), v.integer(), v.minValue(low), v.maxValue(high));
const micros = integer(0, LONGEST_MICROS);
const channel = integer(0, 15);

const VERSION_1 = v.strictObject({
  version: v.literal(1),
  engine: integer(1, 1_000_000),
  lesson: v.pipe(v.string(), v.maxLength(200)),
  edition: integer(0, 1_000_000_000),
  document: v.pipe(v.string(), v.maxLength(2_000_000)),
  programme: v.strictObject({
    tempoBpm: v.pipe(v.number(), v.minValue(20), v.maxValue(400)),
    key: v.nullable(v.pipe(v.string(), v.maxLength(20))),
    countInBars: integer(0, 64),
    isToClick: v.boolean(),
  }),
  barOneMicros: integer(-LONGEST_MICROS, LONGEST_MICROS),
  delayMs: v.pipe(v.number(), v.minValue(-1000), v.maxValue(1000)),
  /** [start, duration, key, velocity, channel] each: a take is mostly these. */
  notes: v.pipe(
    v.array(v.strictTuple([micros, micros, integer(0, 127), integer(1, 127), channel])),
    v.maxLength(MOST_NOTES),
  ),
  /** [at, value, channel]. */
  pedals: v.pipe(v.array(v.strictTuple([micros, integer(0, 127), channel])), v.maxLength(MOST_PEDALS)),
});

type Raw = Readonly<Record<string, unknown>>;

/** One step each, from the version of its place counted from 1. None yet: version 1 is the first. */
const STEPS: readonly ((take: Raw) => Raw)[] = [];

function lifted(raw: unknown): unknown {
  if (typeof raw !== 'object' || raw === null || Array.isArray(raw)) return raw;
  const take = raw as Raw;
  const { version } = take;
  if (typeof version !== 'number' || !Number.isInteger(version) || version < 1) return raw;
  return STEPS.slice(version - 1).reduce((each, step) => step(each), take);
}

/** A take as JSON text, the same bytes for the same take. */
export function writeTake(take: Take): string {
  const { engine, lesson, edition, document, programme, barOneMicros, delayMs, notes, pedals } = take;
  const { tempoBpm, key, countInBars, isToClick } = programme;
  return JSON.stringify({
    version: TAKE_VERSION,
    engine,
    lesson,
    edition,
    document,
    programme: { tempoBpm, key, countInBars, isToClick },
    barOneMicros,
    delayMs,
    notes: notes.map((note) => [note.startMicros, note.durationMicros, note.key, note.velocity, note.channel]),
    pedals: pedals.map((pedal) => [pedal.atMicros, pedal.value, pedal.channel]),
  });
}

const refuse = (code: Issue['code'], args: Issue['args']): Result<never> => ({
  ok: false,
  issues: [{ code, args, place: {} }],
});

/**
 * Reads a kept take: bounded, validated, nothing trusted. The lesson document in it is a text that `readLessonDocument` judges
 * where it is used.
 * @example readTake('{}').ok // → false
 */
export function readTake(text: string): Result<Take> {
  if (text.length > LONGEST_TAKE_CHARACTERS) {
    return refuse('take.too-long', { what: `${LONGEST_TAKE_CHARACTERS} characters and more` });
  }
  let raw: unknown;
  try {
    raw = JSON.parse(text);
  } catch {
    return refuse('take.damaged', { field: 'all of it', rule: 'it is not JSON from beginning to end' });
  }
  const version = v.safeParse(v.object({ version: v.pipe(v.number(), v.integer()) }), raw);
  if (version.success && version.output.version > TAKE_VERSION) {
    return refuse('take.newer', { version: version.output.version });
  }
  const parsed = v.safeParse(VERSION_1, lifted(raw));
  if (!parsed.success) {
    const [issue] = parsed.issues;
    return refuse('take.damaged', {
      field: cutText(v.getDotPath(issue) ?? 'all of it', 200),
      rule: 'it is not as Fivespan writes it',
    });
  }
  const { notes, pedals, version: _, ...rest } = parsed.output;
  return {
    ok: true,
    value: {
      ...rest,
      notes: notes
        .map(([startMicros, durationMicros, key, velocity, own]) => ({
          startMicros,
          durationMicros,
          key,
          velocity,
          channel: own,
        }))
        .sort((a, b) => a.startMicros - b.startMicros),
      pedals: pedals.map(([atMicros, value, own]) => ({ atMicros, value, channel: own })),
    },
    warnings: [],
  };
}
