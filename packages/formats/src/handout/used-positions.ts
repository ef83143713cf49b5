import {
  pitchClassOf,
  type Chord,
  type ChordScale,
  type Family,
  type Lesson,
  type Midi,
  type NoteName,
  type PlannedSlot,
  type Position,
} from '@fivespan/core';

/** A chord a position is used over, and in which bars. */
export interface PositionUse {
  readonly chord: Chord;
  readonly chordScale: ChordScale;
  /** As counted on paper, ascending, each once. */
  readonly bars: readonly number[];
}

/** A position of the route at one place of the keyboard. */
export interface UsedPosition {
  readonly position: Position;
  readonly thumbMidi: Midi;
  readonly family: Family | null;
  /** The thumb's other names: over other chords the same key may be spelled another way. */
  readonly otherNames: readonly NoteName[];
  readonly uses: readonly PositionUse[];
}

/** A planned slot that has a hand. */
interface HeldSlot extends PlannedSlot {
  readonly chordScale: ChordScale;
  readonly position: Position;
  readonly thumbMidi: Midi;
}

function isHeld(slot: PlannedSlot): slot is HeldSlot {
  return slot.chordScale !== null && slot.position !== null && slot.thumbMidi !== null;
}

/** A position while its uses are gathered. */
interface Gathered {
  readonly used: Pick<UsedPosition, 'position' | 'thumbMidi' | 'family'>;
  readonly names: Set<NoteName>;
  readonly uses: Map<string, { chord: Chord; chordScale: ChordScale; bars: Set<number> }>;
}

/**
 * The positions a lesson's route uses, in the order the hand meets them. The same keys under the hand are one position,
 * however its thumb is spelled; it is named as the first time.
 */
export function usedPositions(lesson: Lesson): UsedPosition[] {
  const found = new Map<string, Gathered>();
  for (const slot of lesson.plan.slots) {
    const chord = slot.analysed.chord;
    if (!isHeld(slot) || chord === null) continue;
    const { position, thumbMidi, family, chordScale } = slot;
    const place = `${position.shape.id} ${thumbMidi}`;
    const entry: Gathered = found.get(place) ?? {
      used: { position, thumbMidi, family },
      names: new Set(),
      uses: new Map(),
    };
    found.set(place, entry);
    entry.names.add(position.thumb);
    const over = `${chord.symbol} ${chordScale.id}`;
    const use = entry.uses.get(over) ?? { chord, chordScale, bars: new Set<number>() };
    use.bars.add(slot.analysed.played.playedBar.bar.number);
    entry.uses.set(over, use);
  }
  return [...found.values()].map(({ used, names, uses }) => ({
    ...used,
    otherNames: [...names].slice(1),
    uses: [...uses.values()].map(({ chord, chordScale, bars }) => ({
      chord,
      chordScale,
      bars: [...bars].sort((a, b) => a - b),
    })),
  }));
}

/** Stretches of bars that are named before the rest is counted: about two lines under a picture. */
const MOST_STRETCHES = 10;

/** Bars as one says them, `1–2, 5`, and how many more there are where they are too many to name. */
export function barRanges(bars: readonly number[]): { readonly text: string; readonly more: number } {
  const ranges: string[] = [];
  let index = 0;
  while (index < bars.length && ranges.length < MOST_STRETCHES) {
    let end = index;
    while (end + 1 < bars.length && bars[end + 1] === (bars[end] as number) + 1) end++;
    ranges.push(end === index ? `${bars[index]}` : `${bars[index]}–${bars[end]}`);
    index = end + 1;
  }
  return { text: ranges.join(', '), more: bars.length - index };
}

/** The positions of the route in order, each time the hand moves or changes its shape. */
export function positionsOfRoute(lesson: Lesson): Pick<UsedPosition, 'position' | 'thumbMidi'>[] {
  const positions: Pick<UsedPosition, 'position' | 'thumbMidi'>[] = [];
  let last = '';
  for (const { position, thumbMidi } of lesson.plan.slots) {
    if (position === null || thumbMidi === null) continue;
    const place = `${position.shape.id} ${thumbMidi}`;
    if (place !== last) positions.push({ position, thumbMidi });
    last = place;
  }
  return positions;
}

/** The white keys C and F below, E and B above: where a keyboard picture looks cut cleanly. */
const CLEAN_STARTS = [0, 5];
const CLEAN_ENDS = [4, 11];
/** Semitones a picture shows at least: two octaves less one. */
const LEAST_SEMITONES = 23;
/** Half steps beyond which pictures no longer share one stretch of keyboard: keys would be too narrow for their numerals. */
const MOST_SEMITONES = 29;

export interface Stretch {
  readonly lowest: number;
  readonly highest: number;
}

function cleanStretch(low: number, high: number): Stretch {
  let lowest = low;
  while (!CLEAN_STARTS.includes(lowest % 12)) lowest--;
  let highest = Math.max(high, lowest + LEAST_SEMITONES);
  while (!CLEAN_ENDS.includes(highest % 12)) highest++;
  return { lowest, highest };
}

function highestKey(used: UsedPosition): number {
  return used.thumbMidi + used.position.shape.steps[4];
}

/**
 * The stretch of keyboard to show for each position: one for all, so that the hand is seen to move; where the route is
 * too wide for that, each its own.
 */
export function stretchesOf(positions: readonly UsedPosition[]): Stretch[] {
  if (positions.length === 0) return [];
  const common = cleanStretch(
    Math.min(...positions.map((each) => each.thumbMidi)),
    Math.max(...positions.map(highestKey)),
  );
  if (common.highest - common.lowest <= MOST_SEMITONES) return positions.map(() => common);
  return positions.map((each) => cleanStretch(each.thumbMidi, highestKey(each)));
}

/** The other thumbs of the position's family, as names; the position's own is left out. */
export function otherThumbsOf(used: UsedPosition): Position['thumb'][] {
  const own = pitchClassOf(used.position.thumb);
  return (used.family?.positions ?? []).map((each) => each.thumb).filter((each) => pitchClassOf(each) !== own);
}
