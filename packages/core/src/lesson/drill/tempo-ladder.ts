import type { Reason } from '../../analysis/index.ts';
import { beatTicksOf } from '../../chart/index.ts';
import { distanceMm, isPracticalStep, moveHundredths } from '../../hand/index.ts';
import type { ChorusNote } from '../../parts/index.ts';
import { midi, midiOf, formatKey } from '../../theory/index.ts';
import type { Lesson } from '../lesson.ts';
import { FASTEST_BPM, SLOWEST_BPM } from '../programme/programme.ts';

/** The tempi a drill is played at, slowest first, and the fastest its moves allow. */
export interface TempoLadder {
  readonly tempi: readonly number[];
  /** Beats a minute: a hand finds every key in time up to here. */
  readonly limitBpm: number;
  /** What sets the limit, where the ladder ends at it: code and arguments; words: wordsOfLimit. Null where it ends before. */
  readonly because: Reason | null;
}

/** What a teacher asks of the tempi: the ends of a ladder, or every step of it. */
export type TempiAsked = { readonly fromBpm: number; readonly toBpm: number } | { readonly steps: readonly number[] };

/**
 * Tenths of notes a second that nine of ten recorded soloists stay under: 6.2. Source: Weimar data package, p90 of notes a second
 * (docs/sources.md, 5; C). A drill asks for no more.
 */
const MOST_NOTES_TENTHS = 62;

/** Where the hand lies when it plays a note: the thumb's key in the position, or the key itself where it keeps to none. */
function handAt({ pitch, position, finger }: ChorusNote, inPositions: boolean): number {
  return inPositions ? midiOf(pitch) - (position.shape.steps[finger - 1] as number) : midiOf(pitch);
}

const placed = ({ pitch, finger }: ChorusNote) => ({ key: midiOf(pitch), finger });

/**
 * How long the finger that plays a note has had for its way: since it left its last key, while others played on, but not longer than
 * twice the last step, for the hand itself comes along only when its last note is struck. Our own judgement.
 */
function freeTicks(chorus: readonly ChorusNote[], index: number): number {
  const [before, note] = [chorus[index - 1], chorus[index]] as [ChorusNote, ChorusNote];
  const step = note.startTicks - before.startTicks;
  const last = chorus.slice(0, index).findLastIndex(({ finger }) => finger === note.finger);
  const leftAt = chorus[last + 1]?.startTicks ?? before.startTicks;
  return last < 0 || last === index - 1 ? step : Math.min(2 * step, note.startTicks - leftAt);
}

/** A limit and what sets it. */
interface Limit {
  readonly bpm: number;
  readonly because: Reason;
}

/** The fastest tempo at which a lesson's right hand comes in time from each note to the next. */
function limitOf({ chorus, chart, analysis, choices }: Lesson, inPositions: boolean): Limit | undefined {
  const beatTicks = beatTicksOf(chart.meter);
  const key = formatKey(analysis.key);
  let least: Limit | undefined;
  const take = (bpm: number, because: () => Reason): void => {
    if (least === undefined || bpm < least.bpm) least = { bpm, because: because() };
  };
  for (const [index, note] of chorus.slice(1).entries()) {
    const before = chorus[index] as ChorusNote;
    const ticks = note.startTicks - before.startTicks;
    if (ticks <= 0) continue;
    const bar = String((analysis.slots[note.slotIndex]?.played.playedBar.index ?? 0) + 1);
    take(Math.floor((ticks * 6 * MOST_NOTES_TENTHS) / beatTicks), () => ({
      code: 'drill.limit-notes',
      args: { key, bar },
    }));
    const [from, to] = [handAt(before, inPositions), handAt(note, inPositions)];
    if (from === to || (!inPositions && ticks >= beatTicks)) continue;
    // a position that is reached by a pass of the thumb, or by an open hand, needs no leap: only the notes' own pace
    if (inPositions && isPracticalStep(placed(before), placed(note), choices.hand)) continue;
    const wayMm = distanceMm(midi(from), midi(to));
    const hundredths = moveHundredths(midi(from), midi(to));
    if (hundredths === 0) continue;
    take(Math.floor((freeTicks(chorus, index + 1) * 6000) / (beatTicks * hundredths)), () => ({
      code: 'drill.limit-way',
      args: { key, bar, mm: String(Math.round(wayMm)) },
    }));
  }
  return least;
}

/**
 * The fastest tempo, beats a minute, at which the right hand of a lesson comes in time from each of its written notes to the next, played in
 * its positions.
 */
export function handLimitBpm(lesson: Lesson): number {
  return Math.max(SLOWEST_BPM, Math.min(FASTEST_BPM, limitOf(lesson, true)?.bpm ?? FASTEST_BPM));
}

/** Steps of a ladder, ends included: our own. */
const STEPS = 5;
/** Where a ladder begins that nobody asked for: three fifths of its top. Our own. */
const FIRST_SHARE = 0.6;

function stepsBetween(from: number, to: number): number[] {
  const steps = Math.min(STEPS, Math.floor((to - from) / 4) + 1);
  // between its ends a ladder has even numbers, as metronomes do
  const inner = Array.from(
    { length: steps - 1 },
    (_, index) => Math.round((from + ((to - from) * (index + 1)) / (steps - 1)) / 2) * 2,
  ).slice(0, -1);
  return steps === 1 ? [to] : [from, ...inner, to];
}

/**
 * The tempi of a drill: those asked for, as far as its moves allow; where none are asked for, five from three fifths of the tune's
 * tempo up to it.
 * @param lessons the drill in each of its keys
 * @param tempoBpm the tune's
 */
export function tempoLadder(
  lessons: readonly Lesson[],
  inPositions: boolean,
  asked: TempiAsked | null,
  tempoBpm: number,
): TempoLadder {
  const limits = lessons.flatMap((each) => limitOf(each, inPositions) ?? []);
  const least = limits.reduce<Limit | undefined>(
    (slowest, each) => (slowest === undefined || each.bpm < slowest.bpm ? each : slowest),
    undefined,
  );
  const limitBpm = Math.max(SLOWEST_BPM, Math.min(FASTEST_BPM, least?.bpm ?? FASTEST_BPM));
  const ending = (tempi: readonly number[]): TempoLadder => ({
    tempi,
    limitBpm,
    because: tempi.at(-1) === limitBpm && least !== undefined ? least.because : null,
  });
  const within = (bpm: number): number => Math.max(SLOWEST_BPM, Math.min(limitBpm, bpm));
  if (asked !== null && 'steps' in asked) {
    return ending([...new Set(asked.steps.map(within))].toSorted((a, b) => a - b));
  }
  const top = within(asked?.toBpm ?? tempoBpm);
  const from = asked === null ? within(Math.round((top * FIRST_SHARE) / 4) * 4) : within(asked.fromBpm);
  return ending(stepsBetween(Math.min(from, top), top));
}

/** What sets the limit of a ladder, in English. `key` is the key's name as it is shown. */
export function wordsOfLimit({ code, args }: Reason, key: string): string {
  const { bar = '', mm = '' } = args;
  return code === 'drill.limit-way'
    ? `the hand moves ${mm} mm into a note of bar ${bar} in ${key}`
    : `the notes of bar ${bar} in ${key} come as fast as a soloist plays`;
}
