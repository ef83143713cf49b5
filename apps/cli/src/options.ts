import {
  FURTHEST_WISH,
  MOST_WISHES,
  BASS_FEELS,
  MOST_MOTIVE_PINS,
  parseMotive,
  COMP_DENSITIES,
  WIDEST_SPAN_MM,
  NAMED_HANDS,
  parseKey,
  NARROWEST_SPAN_MM,
  PART_READERS,
  usualKeys,
  nextSeed,
  VOICING_KINDS,
  type BassChoice,
  type Choices,
  type HandSize,
  type Key,
  type MotivePin,
  type PartReader,
  type VoicingKind,
} from '@fivespan/core';
import { UsageError, type Call } from './command.ts';

/** The text given with an option, undefined where it is not given. */
export function textOf(call: Call, name: string): string | undefined {
  const value = call.options[name];
  return typeof value === 'string' ? value : undefined;
}

/** One of a few words, or the first of them where the option is not given. */
export function choiceOf<Word extends string>(
  call: Call,
  name: string,
  words: readonly [Word, ...Word[]],
  fallback: Word,
): Word {
  const text = textOf(call, name);
  if (text === undefined) return fallback;
  const word = words.find((each) => each === text);
  if (word === undefined) throw new UsageError(`--${name} takes ${words.join(', ')}, not '${text}'`);
  return word;
}

/** The words of `--range`. */
const RANGES = { 'left-hand': 'left hand', 'double-bass': 'double bass' } as const;

function bassOf(call: Call, fallback: BassChoice): BassChoice {
  const given = textOf(call, 'range');
  return {
    feel: textOf(call, 'feel') === undefined ? fallback.feel : choiceOf(call, 'feel', [...BASS_FEELS], 'four'),
    range:
      given === undefined ? fallback.range : RANGES[choiceOf(call, 'range', ['left-hand', 'double-bass'], 'left-hand')],
  };
}

/** The kinds of voicings as options write them: `guide-tones`. */
function voicingKindOf(call: Call, fallback: VoicingKind): VoicingKind {
  const words = VOICING_KINDS.map((kind) => kind.replace(' ', '-')) as [string, ...string[]];
  const given = textOf(call, 'kind');
  if (given === undefined) return fallback;
  const chosen = choiceOf(call, 'kind', words, 'rootless');
  return VOICING_KINDS[words.indexOf(chosen)] ?? fallback;
}

function seedOf(call: Call, fallback: number): number {
  const text = textOf(call, 'seed') ?? String(fallback);
  const seed = Number(text);
  if (!/^\d+$/u.test(text) || seed > 0xffffffff) {
    throw new UsageError(`--seed takes a whole number from 0 to 4294967295, not '${text}'`);
  }
  return seed;
}

/**
 * A key as asked for: `Eb`, `Eb major`, `Cm`. A tonic alone takes the mode of the tune.
 * @throws UsageError where it is no key, or the tune is in the other mode
 */
export function readKeyOption(name: string, text: string, mode: Key['mode']): Key {
  const word = text.trim();
  const key = parseKey(/^[A-G][b#♭♯]?$/u.test(word) ? `${word} ${mode}` : word);
  if (key === undefined) {
    throw new UsageError(`--${name}: '${word}' is no ${mode} key that can be written; take one such as Eb or F#`);
  }
  if (key.mode !== mode) throw new UsageError(`--${name}: the tune is in ${mode}, so '${word}' cannot be its key`);
  return key;
}

/** The key of `--key`, null where it is not given. */
export function keyOf(call: Call, mode: Key['mode']): Key | null {
  const text = textOf(call, 'key');
  return text === undefined ? null : readKeyOption('key', text, mode);
}

/** The keys of `--keys`: names with commas, or all twelve; `fallback` where it is not given. */
export function keysOf(call: Call, mode: Key['mode'], fallback: readonly Key[]): readonly Key[] {
  const text = textOf(call, 'keys');
  if (text === undefined) return fallback;
  if (text.trim() === 'all') return usualKeys(mode);
  const keys = text.split(',').map((word) => readKeyOption('keys', word, mode));
  return keys.filter((key, index) => keys.findIndex((each) => each.tonic === key.tonic) === index);
}

/** A hand: one of the three sizes, or its span in millimetres. */
function handOf(call: Call, fallback: HandSize): HandSize {
  const text = textOf(call, 'hand');
  if (text === undefined) return fallback;
  const named = NAMED_HANDS.find((each) => each === text);
  if (named !== undefined) return named;
  const spanMm = Number(text);
  if (Number.isInteger(spanMm) && spanMm >= NARROWEST_SPAN_MM && spanMm <= WIDEST_SPAN_MM) return { spanMm };
  throw new UsageError(
    `--hand takes ${NAMED_HANDS.join(', ')} or a span in millimetres from ${NARROWEST_SPAN_MM} to ${WIDEST_SPAN_MM}, not '${text}'`,
  );
}

/** Who in the band gets a part, by `--for`: keys of instruments or bass-clef, with commas; nobody where it is not given. */
export function readersOf(call: Call): readonly PartReader[] {
  const words = textOf(call, 'for')?.split(',') ?? [];
  const readers = words.map((word) => {
    // as a musician may write it: bb, B♭, Eb
    const plain = word.trim().replace('♭', 'b').toLowerCase();
    const reader = PART_READERS.find((each) => each.toLowerCase() === plain);
    if (reader !== undefined) return reader;
    throw new UsageError(
      `--for takes the key an instrument is in (${PART_READERS.filter((each) => each !== 'bass-clef').join(', ')}) or bass-clef, several with commas such as Bb,Eb, not '${word.trim()}'`,
    );
  });
  return [...new Set(readers)];
}

/** The curve of outsideness of `--curve`: whole numbers with commas, in equal stretches of the form. */
function curveOf(call: Call, fallback: readonly number[]): readonly number[] {
  const text = textOf(call, 'curve');
  if (text === undefined) return fallback;
  const words = text.split(',').map((word) => word.trim());
  if (words.length > MOST_WISHES || words.some((word) => !/^\d$/u.test(word) || Number(word) > FURTHEST_WISH)) {
    throw new UsageError(
      `--curve takes at most ${MOST_WISHES} whole numbers from 0 (inside) to ${FURTHEST_WISH} (furthest outside) with commas, such as 0,1,2,0, not '${text}'`,
    );
  }
  return words.map(Number);
}

/** The motives of `--motive`, with semicolons where there are several; those the lesson has where it is not given. */
function motivesOf(call: Call, fallback: readonly MotivePin[]): readonly MotivePin[] {
  const text = textOf(call, 'motive');
  if (text === undefined) return fallback;
  const words = text.split(';');
  if (words.length > MOST_MOTIVE_PINS) {
    throw new UsageError(`--motive takes at most ${MOST_MOTIVE_PINS} motives, not ${words.length}`);
  }
  return words.map((word) => {
    const motive = parseMotive(word);
    if (typeof motive === 'string') throw new UsageError(`--motive '${word.trim()}': ${motive}`);
    return motive;
  });
}

/** The choices the options make, over those a lesson file holds; keys apart, since they need the tune's mode. */
export function choicesOf(call: Call, base: Choices): Choices {
  return {
    ...base,
    seed: call.options['another'] === true ? nextSeed(seedOf(call, base.seed)) : seedOf(call, base.seed),
    level: Number(choiceOf(call, 'level', ['1', '2', '3', '4'], `${base.level}`)) as Choices['level'],
    curve: curveOf(call, base.curve),
    bass: bassOf(call, base.bass),
    comping: choiceOf(call, 'comping', [...COMP_DENSITIES], base.comping),
    voicings: voicingKindOf(call, base.voicings),
    hand: handOf(call, base.hand),
    playPage:
      choiceOf(call, 'play-page', ['one-way', 'free-hand'], base.playPage === 'one way' ? 'one-way' : 'free-hand') ===
      'one-way'
        ? 'one way'
        : 'free hand',
    pins: {
      ...base.pins,
      parts: { ...base.pins.parts, motives: motivesOf(call, base.pins.parts.motives) },
    },
  };
}
