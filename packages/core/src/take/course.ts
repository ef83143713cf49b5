import type { Analysis, ChordScale } from '../analysis/index.ts';
import { beatTicksOf, isCompound, TICKS_PER_QUARTER } from '../chart/index.ts';
import { coverOf, familyIn, USUAL_SHAPES, type Position } from '../hand/index.ts';
import type { Plan, PlannedSlot } from '../plan/index.ts';
import type { Score } from '../score/index.ts';
import {
  degreeOnStep,
  guideTonesOf,
  noteAbove,
  setOfChord,
  setOfNotes,
  type Chord,
  type PitchClassSet,
} from '../theory/index.ts';

/** What a take is judged by: a lesson in the key it was played in. */
export interface TakeGround {
  readonly analysis: Analysis;
  readonly plan: Plan;
  readonly score: Score;
}

/** Another chord-scale of the ladder, which moves the family there. */
export interface OtherMove {
  readonly chordScale: ChordScale;
  /** Its positions where one of the usual shapes makes the whole of it; none elsewhere. */
  readonly positions: readonly Position[];
}

/** A chord's place in the take, with all that its notes are judged by. */
export interface CourseSlot {
  readonly planned: PlannedSlot;
  readonly bar: CourseBar;
  readonly startTicks: number;
  readonly endTicks: number;
  readonly chord: Chord | null;
  /** The chord differs from the one before it. */
  readonly changes: boolean;
  readonly chordTones: PitchClassSet;
  readonly guideTones: PitchClassSet;
  /** The lesson's chord-scale; everything where there is none. */
  readonly scale: PitchClassSet;
  readonly avoid: PitchClassSet;
  /** Positions of the lesson's family here. */
  readonly family: readonly Position[];
  readonly others: readonly OtherMove[];
  /** What the bass rests on: the written bass and the root. */
  readonly grounds: PitchClassSet;
}

/** A bar of the take. */
export interface CourseBar {
  /** As counted on paper in the chart. */
  readonly number: number;
  /** Time through the form, from 1. */
  readonly chorus: number;
  /** Ticks from the first full bar of the first chorus. */
  readonly startTicks: number;
  readonly endTicks: number;
  readonly slots: CourseSlot[];
}

/** The form, as often as the take goes round it. */
export interface Course {
  readonly bars: readonly CourseBar[];
  readonly slots: readonly CourseSlot[];
  /** Length of one time through. */
  readonly chorusTicks: number;
  readonly choruses: number;
  /** The pulse that notes are counted by: the beat, the quarter of an alla breve. */
  readonly pulseTicks: number;
  readonly pulseSeconds: number;
  readonly barTicks: number;
  /** Whether the eighths may swing. */
  readonly swings: boolean;
  /** Whether the beat has three parts. */
  readonly isCompound: boolean;
}

/** Rungs that are no move of the family: a side-slip nobody chose, and scales whose passing notes belong to lines. */
const NO_MOVE = new Set(['scale.side-slip-up', 'scale.side-slip-down', 'scale.bebop']);

/** Scales that merely hold the chord are no row a lesson has shown, but over a dominant. */
function isMove({ reason, inside }: ChordScale, isDominant: boolean): boolean {
  if (NO_MOVE.has(reason.code)) return false;
  return inside || isDominant || reason.code !== 'scale.holds-chord';
}

function otherMoves({ analysed, chordScale }: PlannedSlot): OtherMove[] {
  const isDominant = analysed.chord?.quality === 'dominant';
  return analysed.chordScales
    .filter((each) => each !== chordScale && isMove(each, isDominant))
    .map((each) => {
      const shape = USUAL_SHAPES.find((usual) => coverOf(usual, each.set) === each.set);
      return {
        chordScale: each,
        positions: shape === undefined ? [] : familyIn(shape, each.notes, each.kept).positions,
      };
    });
}

const EVERYTHING = 0xfff as PitchClassSet;
const NOTHING = 0 as PitchClassSet;

type Aims = Omit<CourseSlot, 'bar' | 'startTicks' | 'endTicks' | 'changes'>;

function aimsOf(planned: PlannedSlot): Aims {
  const { analysed, chordScale, family } = planned;
  const { chord } = analysed;
  if (chord === null) {
    return {
      planned,
      chord,
      chordTones: EVERYTHING,
      guideTones: NOTHING,
      scale: EVERYTHING,
      avoid: NOTHING,
      family: [],
      others: [],
      grounds: EVERYTHING,
    };
  }
  const fifth = degreeOnStep(chord, 4);
  const grounds = [chord.root, ...(chord.bass === null ? [] : [chord.bass])];
  return {
    planned,
    chord,
    chordTones: (setOfChord(chord) |
      setOfNotes([chord.root, ...(fifth === undefined ? [] : [noteAbove(chord.root, fifth)])])) as PitchClassSet,
    guideTones: setOfNotes(guideTonesOf(chord).map((each) => noteAbove(chord.root, each))),
    scale: chordScale === null ? EVERYTHING : chordScale.set,
    avoid: setOfNotes(chordScale?.avoid.map(({ note }) => note) ?? []),
    family: family?.positions ?? [],
    others: otherMoves(planned),
    grounds: setOfNotes(grounds),
  };
}

const known = new WeakMap<PlannedSlot, Aims>();

/** As `aimsOf`, once for each chord of a lesson: a teacher hears many takes of it. */
function knownAims(planned: PlannedSlot): Aims {
  const own = known.get(planned) ?? aimsOf(planned);
  known.set(planned, own);
  return own;
}

/**
 * The way a take has gone: the form's bars as often as the notes go round it. A pickup leads into the first chorus only; later
 * the last bar stands in its place, as in a programme.
 * @param tempoBpm beats a minute of the chart's metre
 * @param lastSeconds when the last note was struck, from bar 1
 */
export function courseOf({ analysis, plan, score }: TakeGround, tempoBpm: number, lastSeconds: number): Course {
  const { form } = analysis;
  const beatTicks = beatTicksOf(score.meter);
  const compound = isCompound(score.meter);
  const pulseTicks = !compound && beatTicks > TICKS_PER_QUARTER ? TICKS_PER_QUARTER : beatTicks;
  const pulseSeconds = (60 / tempoBpm) * (pulseTicks / beatTicks);
  const chorusTicks = Math.max(form.endTicks, pulseTicks);
  const lastTicks = (lastSeconds / pulseSeconds) * pulseTicks;
  // a stroke a little before the double bar is the last of this time through, or the first of the next
  const choruses = Math.max(1, Math.ceil((lastTicks + pulseTicks / 4) / chorusTicks));
  const aims = plan.slots.map(knownAims);
  const bars: CourseBar[] = [];
  const slots: CourseSlot[] = [];
  let chordBefore = '';
  for (let chorus = 1; chorus <= choruses; chorus++) {
    const from = (chorus - 1) * chorusTicks;
    const placed = new Map<number, CourseBar>();
    for (const { bar, index, startTicks } of form.bars) {
      if (startTicks < 0 && chorus > 1) continue;
      const start = from + startTicks;
      const placedBar = {
        number: bar.number,
        chorus,
        startTicks: start,
        endTicks: start + bar.durationTicks,
        slots: [],
      };
      placed.set(index, placedBar);
      bars.push(placedBar);
    }
    for (const [index, { analysed }] of plan.slots.entries()) {
      const bar = placed.get(analysed.played.playedBar.index);
      if (bar === undefined) continue;
      const symbol = analysed.played.slot.chord.symbol;
      const own = aims[index] as Aims;
      // field by field: spread, the slots of ten minutes cost as much as following the line
      const slot: CourseSlot = {
        planned: own.planned,
        chord: own.chord,
        chordTones: own.chordTones,
        guideTones: own.guideTones,
        scale: own.scale,
        avoid: own.avoid,
        family: own.family,
        others: own.others,
        grounds: own.grounds,
        bar,
        startTicks: from + analysed.played.startTicks,
        endTicks: from + analysed.played.endTicks,
        changes: symbol !== chordBefore,
      };
      chordBefore = symbol;
      bar.slots.push(slot);
      slots.push(slot);
    }
  }
  const fullBars = form.bars.filter(({ startTicks }) => startTicks >= 0).length;
  return {
    bars,
    slots,
    chorusTicks,
    choruses,
    pulseTicks,
    pulseSeconds,
    barTicks: chorusTicks / Math.max(1, fullBars),
    swings: score.feel === 'swing' && !compound && score.meter.unit <= 4,
    isCompound: compound,
  };
}

/** The index of the last of some places, in order, that has begun at a tick; 0 before the first. */
export function indexAt(places: readonly { readonly startTicks: number }[], ticks: number): number {
  let low = 0;
  let high = places.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((places[middle] as { startTicks: number }).startTicks <= ticks) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** Whether a key sounds one of these pitch classes. */
export function sounds(set: PitchClassSet, key: number): boolean {
  return (set & (1 << (key % 12))) !== 0;
}
