import * as v from 'valibot';
import type { Issue, Result } from '../issue/index.ts';
import {
  LONGEST_SCENE_SECONDS,
  LONGEST_VOICE_NAME,
  LONGEST_VOICE_SECONDS,
  LONGEST_WORDS,
  MOST_SCENES,
  SCENE_KINDS,
} from '../film/index.ts';
import { FINGERS, WIDEST_SPAN_MM, NAMED_HANDS, NARROWEST_SPAN_MM } from '../hand/index.ts';
import {
  BASS_FEELS,
  BASS_RANGES,
  COMP_DENSITIES,
  LINES,
  LONGEST_PHRASE_NAME,
  LONGEST_PIN_TICKS,
  MOST_CHORDS_OF_PHRASE,
  MOST_MOTIVE_PINS,
  MOST_NOTES_OF_PHRASE,
  MOST_NOTES_OF_PIN,
  MOST_PHRASES,
  motiveFault,
  MOST_PINNED_KEYS,
  SHORTEST_PINNED_TICKS,
  VOICING_KINDS,
} from '../parts/index.ts';
import { FURTHEST_WISH, MOST_WISHES } from '../plan/index.ts';
import { TRIO_PLAYERS } from '../performance/index.ts';
import { formatKey, parseKey, type Key } from '../theory/index.ts';
import { cutText } from '../plain-text.ts';
import { ENGINE_VERSION } from './engine.ts';
import { placeOfField, placeOfJsonFault } from './json-place.ts';
import { PLAY_PAGES, type Choices } from './lesson.ts';
import { migrated } from './migrations.ts';
import { ANSWERS, METRONOMES, MOST_REST_BARS } from './programme/aids.ts';
import { FASTEST_BPM, MOST_COUNT_IN_BARS, MOST_PROGRAMME_CHORUSES, SLOWEST_BPM } from './programme/programme.ts';

/** Newest version of the document that this program writes; older ones are migrated, one step at a time. */
export const DOCUMENT_VERSION = 5;

/** Larger than any chart a person types; what is larger is refused before it is looked at. */
export const LONGEST_DOCUMENT_CHARACTERS = 2_000_000;

/** A lesson as it is kept: the chart as typed and the teacher's choices. Everything else is computed from it. */
export interface LessonDocument {
  /** The chart's text, byte for byte. */
  readonly chartText: string;
  readonly choices: Choices;
  /** The music engine that made it; a newer one may make other music. */
  readonly engine: number;
}

const pass = v.pipe(v.number(), v.integer(), v.minValue(1), v.maxValue(1000));
const midiNumber = v.pipe(v.number(), v.integer(), v.minValue(0), v.maxValue(127));
const slot = v.pipe(v.string(), v.maxLength(100));
const key = v.pipe(
  v.string(),
  v.maxLength(20),
  v.transform((text) => parseKey(text)),
  v.custom<Key>((value) => value !== undefined, "it takes a key such as 'Eb major'"),
);

const ticks = (least: number) => v.pipe(v.number(), v.integer(), v.minValue(least), v.maxValue(LONGEST_PIN_TICKS));
const pinnedNote = v.strictObject({
  onsetTicks: ticks(0),
  durationTicks: ticks(SHORTEST_PINNED_TICKS),
  key: midiNumber,
});

const motive = v.pipe(
  v.strictObject({
    notes: v.pipe(
      v.array(
        v.strictObject({
          onsetTicks: ticks(0),
          durationTicks: ticks(SHORTEST_PINNED_TICKS),
          finger: v.picklist(FINGERS),
        }),
      ),
      v.maxLength(MOST_NOTES_OF_PIN),
    ),
  }),
  v.check((value) => motiveFault(value) === null, 'it takes three to six notes one after another, at most two bars'),
);

const VERSION_5 = v.strictObject({
  version: v.literal(5),
  engine: v.pipe(v.number(), v.integer(), v.minValue(1)),
  chart: v.pipe(v.string(), v.maxLength(LONGEST_DOCUMENT_CHARACTERS)),
  choices: v.strictObject({
    shownIn: v.nullable(key),
    keys: v.pipe(v.array(key), v.maxLength(30)),
    seed: v.pipe(v.number(), v.integer(), v.minValue(0), v.maxValue(0xffffffff)),
    level: v.picklist([1, 2, 3, 4]),
    curve: v.pipe(
      v.array(v.pipe(v.number(), v.integer(), v.minValue(0), v.maxValue(FURTHEST_WISH))),
      v.maxLength(MOST_WISHES),
    ),
    bass: v.strictObject({ feel: v.nullable(v.picklist(BASS_FEELS)), range: v.picklist(BASS_RANGES) }),
    comping: v.picklist(COMP_DENSITIES),
    voicings: v.picklist(VOICING_KINDS),
    hand: v.union([
      v.picklist(NAMED_HANDS),
      v.strictObject({
        spanMm: v.pipe(v.number(), v.integer(), v.minValue(NARROWEST_SPAN_MM), v.maxValue(WIDEST_SPAN_MM)),
      }),
    ]),
    playPage: v.picklist(PLAY_PAGES),
    programme: v.nullable(
      v.strictObject({
        setUp: v.picklist(['trio', 'solo']),
        swing: v.picklist(['measured', 'published']),
        voicings: v.picklist(['rootless', 'shells']),
        countInBars: v.pipe(v.number(), v.integer(), v.minValue(0), v.maxValue(MOST_COUNT_IN_BARS)),
        aids: v.strictObject({
          restBars: v.pipe(v.number(), v.integer(), v.minValue(0), v.maxValue(MOST_REST_BARS)),
          metronome: v.picklist(METRONOMES),
          answers: v.picklist(ANSWERS),
        }),
        choruses: v.pipe(
          v.array(
            v.strictObject({
              key,
              tempoBpm: v.pipe(v.number(), v.integer(), v.minValue(SLOWEST_BPM), v.maxValue(FASTEST_BPM)),
              players: v.pipe(v.array(v.picklist(TRIO_PLAYERS)), v.minLength(1), v.maxLength(TRIO_PLAYERS.length)),
            }),
          ),
          v.minLength(1),
          v.maxLength(MOST_PROGRAMME_CHORUSES),
        ),
      }),
    ),
    film: v.nullable(
      v.pipe(
        v.array(
          v.strictObject({
            kind: v.picklist(SCENE_KINDS),
            words: v.nullable(v.pipe(v.string(), v.maxLength(LONGEST_WORDS))),
            seconds: v.nullable(v.pipe(v.number(), v.minValue(0), v.maxValue(LONGEST_SCENE_SECONDS))),
            slot: v.nullable(slot),
            key: v.nullable(key),
            isDemonstrated: v.boolean(),
            voice: v.nullable(
              v.strictObject({
                name: v.pipe(v.string(), v.minLength(1), v.maxLength(LONGEST_VOICE_NAME)),
                hash: v.pipe(v.string(), v.regex(/^[0-9a-f]{64}$/u, 'it takes 64 hexadecimal digits')),
                seconds: v.pipe(v.number(), v.minValue(0), v.maxValue(LONGEST_VOICE_SECONDS)),
                key,
              }),
            ),
          }),
        ),
        v.minLength(1),
        v.maxLength(MOST_SCENES),
      ),
    ),
    phrases: v.pipe(
      v.array(
        v.strictObject({
          name: v.pipe(v.string(), v.minLength(1), v.maxLength(LONGEST_PHRASE_NAME)),
          part: v.picklist(LINES),
          lengthTicks: ticks(SHORTEST_PINNED_TICKS),
          chords: v.pipe(
            v.array(v.strictObject({ onsetTicks: ticks(0), symbol: v.pipe(v.string(), v.maxLength(100)) })),
            v.minLength(1),
            v.maxLength(MOST_CHORDS_OF_PHRASE),
          ),
          notes: v.pipe(v.array(pinnedNote), v.minLength(1), v.maxLength(MOST_NOTES_OF_PHRASE)),
        }),
      ),
      v.maxLength(MOST_PHRASES),
    ),
    pins: v.strictObject({
      analysis: v.strictObject({
        regions: v.array(v.strictObject({ slot, pass, key })),
        numerals: v.array(v.strictObject({ slot, pass, numeral: v.pipe(v.string(), v.maxLength(50)) })),
      }),
      plan: v.strictObject({
        chordScales: v.array(v.strictObject({ slot, pass, chordScale: v.pipe(v.string(), v.maxLength(100)) })),
        positions: v.array(
          v.strictObject({
            slot,
            pass,
            shape: v.pipe(v.string(), v.maxLength(100)),
            thumbMidi: midiNumber,
          }),
        ),
        secondScales: v.array(v.strictObject({ slot, pass, chordScale: v.pipe(v.string(), v.maxLength(100)) })),
      }),
      parts: v.strictObject({
        voicings: v.array(
          v.strictObject({
            slot,
            pass,
            keys: v.pipe(v.array(midiNumber), v.minLength(1), v.maxLength(MOST_PINNED_KEYS)),
            own: v.exactOptional(
              v.strictObject({
                over: v.pipe(v.string(), v.maxLength(100)),
                left: v.pipe(v.number(), v.integer(), v.minValue(0), v.maxValue(MOST_PINNED_KEYS)),
              }),
            ),
          }),
        ),
        notes: v.array(
          v.strictObject({
            part: v.picklist(LINES),
            slot,
            pass,
            over: v.pipe(v.string(), v.maxLength(100)),
            notes: v.pipe(v.array(pinnedNote), v.maxLength(MOST_NOTES_OF_PIN)),
          }),
        ),
        motives: v.pipe(v.array(motive), v.maxLength(MOST_MOTIVE_PINS)),
      }),
    }),
  }),
});

/** A document as JSON text, the same bytes for the same lesson. */
export function writeLessonDocument(document: LessonDocument): string {
  const { choices } = document;
  const { analysis, plan, parts } = choices.pins;
  const stored = {
    version: DOCUMENT_VERSION,
    engine: document.engine,
    chart: document.chartText,
    choices: {
      shownIn: choices.shownIn === null ? null : formatKey(choices.shownIn),
      keys: choices.keys.map(formatKey),
      seed: choices.seed,
      level: choices.level,
      curve: choices.curve,
      bass: choices.bass,
      comping: choices.comping,
      voicings: choices.voicings,
      hand: choices.hand,
      playPage: choices.playPage,
      programme:
        choices.programme === null
          ? null
          : {
              ...choices.programme,
              choruses: choices.programme.choruses.map((chorus) => ({ ...chorus, key: formatKey(chorus.key) })),
            },
      film:
        choices.film?.map((scene) => ({
          ...scene,
          key: scene.key === null ? null : formatKey(scene.key),
          voice: scene.voice === null ? null : { ...scene.voice, key: formatKey(scene.voice.key) },
        })) ?? null,
      phrases: choices.phrases,
      pins: {
        analysis: {
          regions: analysis.regions.map((pin) => ({ slot: pin.slot, pass: pin.pass, key: formatKey(pin.key) })),
          numerals: analysis.numerals,
        },
        plan: { chordScales: plan.chordScales, positions: plan.positions, secondScales: plan.secondScales },
        parts: { voicings: parts.voicings, notes: parts.notes, motives: parts.motives },
      },
    },
  };
  return `${JSON.stringify(stored, null, 2)}\n`;
}

/** The most faults of a lesson file that are reported; a list of thousands helps nobody. */
const MOST_FAULTS = 100;

const LONGEST_FIELD = 200;

/** What valibot calls a kind of value, as one says it. */
const KINDS: Readonly<Record<string, string>> = {
  number: 'a number',
  string: 'a text',
  Array: 'a list',
  Object: 'a group of fields',
  null: 'nothing (null)',
};

/** `(1 | 2 | 3)` as one says it: `1, 2 or 3`. */
function alternatives(expected: string): string {
  const words = expected
    .replaceAll(/[()]/gu, '')
    .split(' | ')
    .map((each) => KINDS[each] ?? each.replaceAll('"', "'"));
  return words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} or ${words.at(-1)}`;
}

/** What is wrong with a field, in words. */
function ruleOf(issue: v.BaseIssue<unknown>): string {
  const { type, expected, received } = issue;
  if (type === 'custom') return issue.message;
  if (expected === 'never') return 'it is no field of a lesson';
  if (received === 'undefined') return 'it is missing';
  const { requirement } = issue;
  if (type === 'integer' || received === 'NaN' || received === 'Infinity' || received === '-Infinity') {
    return 'it takes a whole number';
  }
  if (type === 'min_value') return `it takes a number of at least ${String(requirement)}`;
  if (type === 'max_value') return `it takes a number of at most ${String(requirement)}`;
  if (type === 'max_length') return `it is longer than ${String(requirement)}`;
  if (type === 'min_length') return 'it is empty';
  return `it takes ${alternatives(expected ?? 'something else')}`;
}

/** The path of a field as JSON has it. */
function pathOf(issue: v.BaseIssue<unknown>): (string | number)[] {
  return (issue.path ?? []).flatMap(({ key: name }) =>
    typeof name === 'string' || typeof name === 'number' ? [name] : [],
  );
}

/** Each key once, in the order they were asked for. */
function eachOnce(keys: readonly Key[]): Key[] {
  return keys.filter((each, index) => keys.findIndex((other) => formatKey(other) === formatKey(each)) === index);
}

const refuse = (issue: Issue): Result<never> => ({ ok: false, issues: [issue] });

/**
 * Reads a lesson document from outside: bounded, validated, nothing trusted.
 * A newer version is refused rather than read in part; a newer engine than this one's is a warning, the music may differ.
 */
export function readLessonDocument(text: string): Result<LessonDocument> {
  if (text.length > LONGEST_DOCUMENT_CHARACTERS) {
    return refuse({ code: 'lesson.too-large', args: { limit: LONGEST_DOCUMENT_CHARACTERS }, place: {} });
  }
  let raw: unknown;
  try {
    raw = JSON.parse(text);
  } catch {
    return refuse({ code: 'lesson.not-json', args: {}, place: placeOfJsonFault(text) });
  }
  const version = v.safeParse(v.object({ version: v.pipe(v.number(), v.integer()) }), raw);
  if (version.success && version.output.version > DOCUMENT_VERSION) {
    return refuse({ code: 'lesson.newer', args: { version: version.output.version }, place: {} });
  }
  const parsed = v.safeParse(VERSION_5, migrated(raw));
  if (!parsed.success) {
    return {
      ok: false,
      issues: parsed.issues.slice(0, MOST_FAULTS).map((issue) => ({
        code: 'lesson.field',
        args: { field: cutText(v.getDotPath(issue) ?? 'all of it', LONGEST_FIELD), rule: ruleOf(issue) },
        place: placeOfField(text, pathOf(issue)),
      })),
    };
  }
  const { chart: chartText, choices, engine } = parsed.output;
  const warnings: Issue[] =
    engine === ENGINE_VERSION ? [] : [{ code: 'lesson.engine', args: { engine, current: ENGINE_VERSION }, place: {} }];
  return { ok: true, value: { chartText, choices: { ...choices, keys: eachOnce(choices.keys) }, engine }, warnings };
}
