/** The left hand: whether it keeps going, and whether the roots are where chords change. */
import type { Score } from '../score/index.ts';
import { midiOf, pitchClassOf } from '../theory/index.ts';
import { indexAt, sounds, type Course, type CourseSlot } from './course.ts';
import type { HeardLine, PlacedNote } from './heard-line.ts';
import type { OwnLine } from './own-line.ts';
import { writtenFor } from './written-line.ts';

export interface LeftHand {
  /** One key at a time, or chords. */
  readonly style: 'line' | 'chords';
  /** Beats it left out, as bars on paper; of a line only. */
  readonly dropped: readonly { readonly bar: number; readonly ticks: number }[];
  /** Changes at which it struck something, those with the root or written bass, and those with neither. */
  readonly changes: number;
  readonly roots: number;
  readonly wrong: readonly { readonly bar: number; readonly key: number }[];
  /** Where the line went on a beat early or late after one was lost; null where it did not. */
  readonly shifted: { readonly bars: readonly number[]; readonly pulses: number; readonly slots: number } | null;
}

/** From this share of strokes with more than one key on, the hand plays chords. */
const CHORDS_SHARE = 0.35;

/** A beat of the bar that the hand strikes so often is one it means to strike. */
const KEPT_SHARE = 0.9;
const FEWEST_BARS = 4;

/** From this share of strokes in unusual places on, a line breaks its time on purpose, and one beat left out is no slip. */
const FREE_SHARE = 0.025;

/** A stroke so near to a beat, in pulses, may be that beat; where all others are known, one that is left over may stray further. */
const NEAR_PULSES = 0.34;
const NEAR_IN_LINE = 0.5;

/** From this share of the lesson's own bass line on, the take is that line. */
const OWN_SHARE = 0.75;

interface Stroke {
  readonly ticks: number;
  readonly lowest: PlacedNote;
  readonly keys: number;
}

function strokesOf(notes: readonly PlacedNote[]): Stroke[] {
  const strokes: { ticks: number; lowest: PlacedNote; keys: number }[] = [];
  for (const note of notes) {
    const last = strokes.at(-1);
    if (last !== undefined && note.startSeconds - last.lowest.startSeconds <= 0.05) {
      last.keys++;
      if (note.key < last.lowest.key) last.lowest = note;
    } else strokes.push({ ticks: note.ticks, lowest: note, keys: 1 });
  }
  return strokes;
}

/** The lesson's bass line by tick within the form, as pitch classes. */
function ownLine(score: Score): ReadonlyMap<number, number> {
  return new Map(writtenFor(score, 'left').map((note) => [note.startTicks, midiOf(note.pitch) % 12]));
}

/** The share of strokes where in most bars there is none: what a line does to its time on purpose. */
function irregularShare(strokes: readonly Stroke[], { bars }: Course): number {
  const places = strokes.map(({ ticks }) => ticks - (bars[indexAt(bars, ticks)] as { startTicks: number }).startTicks);
  const counts = new Map<number, number>();
  for (const place of places) counts.set(place, (counts.get(place) ?? 0) + 1);
  const most = Math.max(...counts.values());
  return places.filter((place) => (counts.get(place) ?? 0) < most / 3).length / places.length;
}

/** The index of the first of ascending values that is at least this. */
function lowestFrom(values: readonly number[], least: number): number {
  let low = 0;
  let high = values.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((values[middle] as number) < least) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Bars in which a beat that the hand keeps elsewhere is left out. */
function droppedBeats(
  strokes: readonly Stroke[],
  course: Course,
  own: ReadonlyMap<number, number>,
  untilTicks: number,
  met: OwnLine | null,
): LeftHand['dropped'] {
  const { bars, slots, pulseTicks, pulseSeconds, chorusTicks } = course;
  const [first] = strokes;
  const last = strokes.at(-1);
  if (first === undefined || last === undefined) return [];
  const struck = new Set(strokes.map(({ ticks }) => ticks));
  const isInLine = ({ ticks, lowest }: Stroke): boolean => own.get(ticks % chorusTicks) === lowest.key % 12;
  const isOwn = strokes.filter(isInLine).length / strokes.length >= OWN_SHARE;
  // a stroke near by is the beat's, struck early or late, unless the line has it elsewhere
  const near = strokes.flatMap((stroke): number[] => {
    if (!isOwn) return [stroke.ticks];
    if (isInLine(stroke) || stroke.lowest.isWritten) return [];
    return [stroke.ticks, (stroke.lowest.startSeconds / pulseSeconds) * pulseTicks];
  });
  const nearTicks = near.sort((a, b) => a - b);
  const pulses = bars.flatMap((bar) => {
    const count = Math.round((bar.endTicks - bar.startTicks) / pulseTicks);
    return Array.from({ length: count }, (_, place) => ({ bar, place, ticks: bar.startTicks + place * pulseTicks }));
  });
  // a line that ends a beat before the double bar has lost one
  const [final] = pulses.slice(-1);
  const isShort = final !== undefined && last.ticks === final.ticks - pulseTicks;
  const end = isShort ? final.ticks : Math.max(last.ticks, untilTicks);
  const inside = pulses.filter(({ ticks }) => ticks >= first.ticks && ticks <= end);
  const silent = (ticks: number): boolean => slots[indexAt(slots, ticks)]?.chord === null;
  /** Of the bars of one length, how many have a stroke on this beat. */
  const kept = new Map<number, { bars: number; struck: number }>();
  // a bar has fewer pulses than 1,000
  const nameOf = ({ bar, place }: (typeof pulses)[number]): number => (bar.endTicks - bar.startTicks) * 1000 + place;
  for (const pulse of inside) {
    if (silent(pulse.ticks)) continue;
    const tally = kept.get(nameOf(pulse)) ?? { bars: 0, struck: 0 };
    tally.bars++;
    if (struck.has(pulse.ticks)) tally.struck++;
    kept.set(nameOf(pulse), tally);
  }
  const isFree = !isOwn && irregularShare(strokes, course) >= FREE_SHARE;
  const reach = (isOwn ? NEAR_IN_LINE : NEAR_PULSES) * pulseTicks;
  const isNear = (ticks: number): boolean => {
    const from = lowestFrom(nearTicks, ticks - reach);
    return (nearTicks[from] ?? Number.POSITIVE_INFINITY) <= ticks + reach;
  };
  const missing = inside.filter((pulse) => {
    const { ticks } = pulse;
    if (struck.has(ticks) || silent(ticks) || isNear(ticks)) return false;
    if (isOwn) return own.has(ticks % chorusTicks) && met?.metTicks.has(ticks) !== true;
    const tally = kept.get(nameOf(pulse));
    // one bar that misses it may not take the beat's own share down
    return tally !== undefined && tally.bars >= FEWEST_BARS && (tally.struck + 1) / tally.bars >= KEPT_SHARE;
  });
  const missingTicks = new Set(missing.map(({ ticks }) => ticks));
  const isLong = ({ ticks }: (typeof pulses)[number]): boolean =>
    missingTicks.has(ticks - pulseTicks) || missingTicks.has(ticks + pulseTicks);
  return missing.filter((each) => !isFree || isLong(each)).map(({ bar, ticks }) => ({ bar: bar.number, ticks }));
}

/** How many pulses a line may have slipped, either way. */
const SLIPS = [0, -1, 1, -2, 2, -3, 3] as const;

/** What a change of slip costs, in roots met or missed. */
const SLIP_COST = 3;

/**
 * Whether the roots come a beat early or late from some chord on: a beat lost (or put in) rather than many wrong notes.
 * The likeliest slip for each chord by dynamic programming.
 */
function slipOf(
  slots: readonly CourseSlot[],
  at: ReadonlyMap<number, PlacedNote>,
  pulseTicks: number,
): readonly number[] {
  const gain = (slot: CourseSlot, slip: number): number => {
    const note = at.get(slot.startTicks + slip * pulseTicks);
    return note === undefined ? 0 : sounds(slot.grounds, note.key) ? 1 : -1;
  };
  let scores: number[] = SLIPS.map((slip) => (slip === 0 ? 0 : -SLIP_COST));
  const came: number[][] = [];
  for (const slot of slots) {
    const best = scores.indexOf(Math.max(...scores));
    const way = SLIPS.map((_, place) =>
      (scores[best] as number) - SLIP_COST > (scores[place] as number) ? best : place,
    );
    scores = SLIPS.map((slip, place) => {
      const from = way[place] as number;
      return (scores[from] as number) - (from === place ? 0 : SLIP_COST) + gain(slot, slip);
    });
    came.push(way);
  }
  let place = scores.indexOf(Math.max(...scores));
  const slips: number[] = [];
  for (let index = slots.length - 1; index >= 0; index--) {
    slips.push(SLIPS[place] as number);
    place = came[index]?.[place] ?? 0;
  }
  return slips.reverse();
}

/** Whether two chords are a ii and its V, by their roots. */
function isFourthBelow({ chord }: CourseSlot, next: CourseSlot): boolean {
  if (chord === null || next.chord?.quality !== 'dominant') return false;
  return (pitchClassOf(next.chord.root) - pitchClassOf(chord.root) + 12) % 12 === 5;
}

/** How many pulses a line that the lesson has written lies off its place at each change, as its jumps say. */
function slipsOfOwn(changing: readonly CourseSlot[], { jumps }: OwnLine): readonly number[] {
  return changing.map(({ startTicks }) =>
    jumps.filter(({ ticks }) => ticks <= startTicks).reduce((sum, { pulses }) => sum + pulses, 0),
  );
}

/** The bars between the last root in its place and the first that is not: there the beat was lost. */
function shiftOf(changing: readonly CourseSlot[], slips: readonly number[], { bars }: Course): LeftHand['shifted'] {
  const first = slips.findIndex((slip) => slip !== 0);
  const to = changing[first] as CourseSlot;
  const from = first === 0 ? to : (changing[first - 1] as CourseSlot);
  const between = bars.filter(({ startTicks }) => startTicks >= from.bar.startTicks && startTicks <= to.bar.startTicks);
  return {
    bars: [...new Set(between.map(({ number }) => number))].sort((a, b) => a - b),
    pulses: slips[first] ?? 0,
    slots: slips.filter((slip) => slip !== 0).length,
  };
}

/** The bars where a line that the lesson has written jumped. */
function shiftOfOwn(jumps: OwnLine['jumps'], slots: number): LeftHand['shifted'] {
  const pulses = jumps.reduce((most, each) => (Math.abs(each.pulses) > Math.abs(most) ? each.pulses : most), 0);
  const bars = [...new Set(jumps.flatMap((each) => each.bars))].sort((a, b) => a - b);
  // the notes either side say it, whether or not a chord changes afterwards
  return { bars, pulses, slots: Math.max(3, slots) };
}

/**
 * Everything about what the left hand strikes; null where it strikes too little to say.
 * @param met how it met the line that the lesson has for it; null where it played another
 */
export function judgeLeftHand(
  { notes }: HeardLine,
  course: Course,
  score: Score,
  untilTicks: number,
  met: OwnLine | null,
): LeftHand | null {
  const strokes = strokesOf(notes);
  if (strokes.length < 8) return null;
  const style = strokes.filter(({ keys }) => keys > 1).length / strokes.length > CHORDS_SHARE ? 'chords' : 'line';
  const own = ownLine(score);
  const at = new Map(strokes.map(({ ticks, lowest }) => [ticks, lowest]));
  const changing = course.slots.filter(({ changes, chord }) => changes && chord !== null);
  const jumps = met?.jumps ?? [];
  const slips =
    style === 'chords'
      ? changing.map(() => 0)
      : met !== null && jumps.length > 0
        ? slipsOfOwn(changing, met)
        : slipOf(changing, at, course.pulseTicks);
  const slipped = changing.filter((_, index) => slips[index] !== 0);
  const final = course.bars.at(-1)?.endTicks ?? 0;
  const isShort = strokes.at(-1)?.ticks === final - 2 * course.pulseTicks;
  const fromRoots = slipped.length < (isShort ? 1 : 2) ? null : shiftOf(changing, slips, course);
  const shifted = style === 'line' && jumps.length > 0 ? shiftOfOwn(jumps, slipped.length) : fromRoots;
  let [changes, roots] = [0, 0];
  const strange: { bar: number; key: number; isChordTone: boolean }[] = [];
  for (const [index, slot] of changing.entries()) {
    const note = at.get(slot.startTicks);
    if (note === undefined || (shifted !== null && slips[index] !== 0)) continue;
    changes++;
    const isOwn = own.get(slot.startTicks % course.chorusTicks) === note.key % 12;
    const next = changing[index + 1];
    const atNext = next === undefined ? undefined : at.get(next.startTicks);
    // a pedal point under ii and V: the coming root already, and again when it comes
    const isPedal =
      next !== undefined && isFourthBelow(slot, next) && atNext?.key === note.key && sounds(next.grounds, note.key);
    if (isOwn || isPedal || sounds(slot.grounds, note.key)) roots++;
    else {
      strange.push({ bar: slot.bar.number, key: note.key, isChordTone: sounds(slot.chordTones, note.key) });
    }
  }
  // who nearly always plays the root means it; another chord tone may be meant where roots are not the rule
  const isRooted = changes >= 4 && (roots + 1) / changes >= 0.75;
  const isStrictlyRooted = changes >= 8 && (roots + 2) / changes >= 0.97;
  const wrong = isRooted ? strange.filter(({ isChordTone }) => !isChordTone || isStrictlyRooted) : [];
  return {
    style,
    dropped: style === 'line' && shifted === null ? droppedBeats(strokes, course, own, untilTicks, met) : [],
    changes,
    roots,
    wrong: style === 'line' ? wrong : [],
    shifted,
  };
}
