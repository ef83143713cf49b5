/**
 * What a take shows in a teacher's words: a table that a teacher can reword, nothing else holds these texts. What went well is a
 * sentence; what to work on says what was heard, and one step to start at once: a loop, a drill, a tempo. No marks, no grades.
 */
import type { Finding, FindingCode, PraiseCode } from './finding.ts';

/** What a text may name. */
export interface FindingArgs {
  /** `bar 7`, `bars 5–8`, `bars 3, 7 and 9`. */
  readonly bars: string;
  /** `The right hand`, `The left hand`, `Both hands`. */
  readonly hand: string;
  /** Without sign. */
  readonly value: number;
  /** A slower tempo to practise at. */
  readonly slower: number;
}

export interface FindingWords {
  readonly heard: (args: FindingArgs) => string;
  readonly step: (args: FindingArgs) => string;
}

const times = (count: number, one: string, many: string): string => (count === 1 ? one : `${count} ${many}`);

export const FINDING_WORDS: Readonly<Record<FindingCode, FindingWords>> = {
  'position.wrong': {
    heard: ({ bars }) => `In ${bars} the hand lay outside every position of the lesson.`,
    step: ({ bars, slower }) =>
      `Loop ${bars} at ${slower}: find the thumb first, then play the five notes up and down.`,
  },
  'position.other-move': {
    heard: ({ bars }) => `In ${bars} you went to another row of the family than the lesson has there.`,
    step: ({ bars }) => `If it was meant, play ${bars} both ways and hear the difference.`,
  },
  'avoid.hanging': {
    heard: ({ bars, value }) =>
      `${times(value, 'A note that wants to move stood', 'notes that want to move stood')} still in ${bars}.`,
    step: ({ bars, slower }) => `Loop ${bars} at ${slower} and let it step down, or up, into a chord tone.`,
  },
  'time.rushing': {
    heard: ({ hand, bars, value }) => `${hand} ran ahead in ${bars}: some ${Math.round(value)} ms more with every bar.`,
    step: ({ bars, slower }) => `Loop ${bars} at ${slower} with the click on two and four, and count aloud.`,
  },
  'time.dragging': {
    heard: ({ hand, bars, value }) =>
      `${hand} fell behind in ${bars}: some ${Math.round(value)} ms more with every bar.`,
    step: ({ bars, slower }) => `Loop ${bars} at ${slower} until it sits easily, then go up in small steps.`,
  },
  'time.late': {
    heard: ({ hand, bars, value }) => `${hand} lay about ${Math.round(value)} ms behind the beat in ${bars}.`,
    step: ({ slower }) => `At ${slower}, play single notes on the beat and aim for the middle of the click.`,
  },
  'time.early': {
    heard: ({ hand, bars, value }) => `${hand} came about ${Math.round(value)} ms before the beat in ${bars}.`,
    step: ({ slower }) => `At ${slower}, play single notes on the beat and wait for the click.`,
  },
  'left.dropped': {
    heard: ({ bars, value }) => `The left hand lost ${times(value, 'a beat', 'beats')} in ${bars}.`,
    step: ({ bars, slower }) =>
      `Left hand alone through ${bars} at ${slower}; then add the right hand, one chord at a time.`,
  },
  'left.root-wrong': {
    heard: ({ bars, value }) => `The bass did not meet the root in ${bars}${value > 1 ? ` (${value} times)` : ''}.`,
    step: ({ bars }) => `Play only the roots of ${bars} in time, saying each chord, then walk again.`,
  },
  'left.uneven': {
    heard: ({ value }) => `The left hand's beats strayed by some ${Math.round(value)} ms.`,
    step: ({ slower }) => `Walk the left hand alone at ${slower} with the click, four choruses, softly.`,
  },
  'dynamics.flat': {
    heard: ({ hand }) => `${hand} kept one loudness throughout.`,
    step: () => 'Play a phrase of four bars, its highest note the loudest and its last the softest.',
  },
  'phrase.no-rests': {
    heard: ({ bars }) => `The line did not breathe in ${bars}.`,
    step: ({ bars }) => `Loop ${bars}: play two bars, rest two bars, and sing while you rest.`,
  },
  'guide-tones.missed': {
    heard: ({ bars }) =>
      bars === ''
        ? 'Where chords changed, their thirds and sevenths were seldom heard.'
        : `Where chords changed, their thirds and sevenths were missing: ${bars}.`,
    step: () =>
      'Play only thirds and sevenths through the form in half notes; then begin each phrase from one of them.',
  },
};

export const PRAISE_WORDS: Readonly<Record<PraiseCode, string>> = {
  'position.found': 'The hand was in a position of the lesson over every chord.',
  'avoid.resolved': 'Every note that wants to move was led on.',
  'guide-tones.met': 'Thirds and sevenths were there where the chords changed.',
  'phrase.breathes': 'The line breathes.',
  'phrase.lands': 'Every phrase came to rest on a chord tone.',
  'phrase.motive': 'An idea came back.',
  'time.steady': 'The time was steady.',
  'time.together': 'Both hands were together.',
  'time.swings': 'The eighths swing.',
  'left.steady': 'The left hand was even.',
  'left.roots': 'Every root was in its place.',
  'left.goes-on': 'The left hand kept going all the way.',
  'dynamics.alive': 'Loud and soft were alive.',
};

/** Bars as one says them: runs joined, the rest listed; none is an empty text. */
export function barsInWords(bars: readonly number[]): string {
  const runs: { from: number; to: number }[] = [];
  for (const bar of bars) {
    const last = runs.at(-1);
    if (last !== undefined && bar === last.to + 1) last.to = bar;
    else runs.push({ from: bar, to: bar });
  }
  const words = runs.map(({ from, to }) => (from === to ? `${from}` : `${from}–${to}`));
  if (words.length === 0) return '';
  const isOne = runs.length === 1 && runs[0]?.from === runs[0]?.to;
  const listed = words.length === 1 ? words[0] : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
  return `${isOne ? 'bar' : 'bars'} ${listed}`;
}

const HANDS = { right: 'The right hand', left: 'The left hand', both: 'Both hands' } as const;

/** Practice begins some three quarters as fast, at a tempo a metronome has. Common practice. */
export function slowerThan(tempoBpm: number): number {
  return Math.max(40, Math.round((tempoBpm * 0.75) / 4) * 4);
}

/** A teacher's own words for a finding; what is empty is said in ours. `{bars}`, `{hand}`, `{value}` and `{slower}` are filled in. */
export interface OwnWords {
  readonly heard: string;
  readonly step: string;
}

function filled(template: string, { bars, hand, value, slower }: FindingArgs): string {
  const parts: Readonly<Record<string, string>> = { bars, hand, value: `${Math.round(value)}`, slower: `${slower}` };
  // what is no place of ours stays as it was written
  return template.replaceAll(/\{(\w+)\}/gu, (found, name: string) => parts[name] ?? found);
}

/**
 * A finding in words.
 * @param tempoBpm what was played at
 * @param own a teacher's own words for it
 */
export function wordsOfFinding(
  { code, bars, hand, value }: Finding,
  tempoBpm: number,
  own: OwnWords = { heard: '', step: '' },
): { readonly heard: string; readonly step: string } {
  const args = { bars: barsInWords(bars), hand: HANDS[hand], value: Math.abs(value), slower: slowerThan(tempoBpm) };
  const { heard, step } = FINDING_WORDS[code];
  return {
    heard: own.heard.trim() === '' ? heard(args) : filled(own.heard, args),
    step: own.step.trim() === '' ? step(args) : filled(own.step, args),
  };
}
