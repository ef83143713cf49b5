import type { Form } from '../../chart/index.ts';
import { degree, degreeOnStep, pitchClassOf, type Chord, type ChordSymbol } from '../../theory/index.ts';
import { soundingChord } from './sonority.ts';

/**
 * Chords as far as their functions differ: M major with a sixth or seventh, T plain major triad, m minor, D dominant,
 * h half-diminished, o diminished, + augmented, s suspended, p power.
 */
export type ChordClass = 'M' | 'T' | 'm' | 'D' | 'h' | 'o' | '+' | 's' | 'p';

/** One chord as long as it lasts: neighbouring slots with the same chord are one event, however the chart cuts them. */
export interface HarmonicEvent {
  /** As written. */
  readonly chord: Chord;
  /** What it sounds as: another where root and upper chord are one sonority (F/G is G9sus). */
  readonly sounding: Chord;
  readonly chordClass: ChordClass;
  /** Pitch class of the sounding chord's root. */
  readonly root: number;
  /** What the numeral adds to the degree: the chord's suffix, `9sus` over such a bass. */
  readonly suffix: string;
  /** Indices of its slots in the form. */
  readonly slots: readonly number[];
  readonly startTicks: number;
  readonly endTicks: number;
  /** Length of the bar it begins in. */
  readonly barTicks: number;
  /** How much it counts: 1 up to half a bar, 2 up to a bar, 3 up to two, 4 beyond. */
  readonly weight: number;
  /** Whether it begins on a bar's first beat. */
  readonly onDownbeat: boolean;
}

const SIXTH = degree('6');
const MINOR_SEVENTH = degree('b7');
const MAJOR_SEVENTH = degree('7');

export function classOfChord(chord: Chord): ChordClass {
  switch (chord.quality) {
    case 'major':
      return degreeOnStep(chord, 6) === undefined && !chord.degrees.includes(SIXTH) ? 'T' : 'M';
    case 'minor':
      return 'm';
    case 'dominant':
      return 'D';
    case 'half-diminished':
      return 'h';
    case 'diminished':
      return 'o';
    case 'augmented':
      // with a major seventh it rests or moves like a major seventh chord; it is nobody's dominant
      return degreeOnStep(chord, 6) === MAJOR_SEVENTH ? 'M' : '+';
    case 'suspended':
      return 's';
    case 'power':
      return 'p';
    default:
      return chord.quality satisfies never;
  }
}

/** A minor chord with a sixth or a major seventh: somebody's tonic. */
export function isTonicMinor({ sounding: chord, chordClass }: HarmonicEvent): boolean {
  if (chordClass !== 'm') return false;
  const seventh = degreeOnStep(chord, 6);
  return seventh === undefined ? chord.degrees.includes(SIXTH) : seventh === MAJOR_SEVENTH;
}

/** Whether a chord has a minor seventh. */
export function hasMinorSeventh({ sounding: chord }: HarmonicEvent): boolean {
  return degreeOnStep(chord, 6) === MINOR_SEVENTH;
}

function weightOf(durationTicks: number, barTicks: number): number {
  if (durationTicks * 2 <= barTicks) return 1;
  if (durationTicks <= barTicks) return 2;
  return durationTicks <= 2 * barTicks ? 3 : 4;
}

function chordOrNone(chord: ChordSymbol | undefined): Chord | null {
  return chord === undefined || chord.kind === 'no chord' ? null : chord;
}

/**
 * The form's chords in time order, repeated ones joined, silences (N.C.) left out.
 * @param cuts slots at which an event begins though the chord goes on
 */
export function eventsOf(form: Form, cuts: ReadonlySet<number> = new Set()): HarmonicEvent[] {
  const events: HarmonicEvent[] = [];
  let slots: number[] = [];
  let first = 0;
  const close = (): void => {
    const opening = form.slots[first];
    const closing = form.slots[slots.at(-1) ?? first];
    if (slots.length === 0 || opening === undefined || closing === undefined) return;
    const { chord } = opening.slot;
    if (chord.kind === 'no chord') return;
    const before = form.slots[first - 1]?.slot.chord;
    const after = form.slots[(slots.at(-1) ?? first) + 1]?.slot.chord ?? form.slots[0]?.slot.chord;
    const sounding = soundingChord(chord, { previous: chordOrNone(before), next: chordOrNone(after) });
    const barTicks = opening.playedBar.bar.durationTicks;
    events.push({
      chord,
      sounding,
      chordClass: classOfChord(sounding),
      root: pitchClassOf(sounding.root),
      suffix: sounding.suffix,
      slots,
      startTicks: opening.startTicks,
      endTicks: closing.endTicks,
      barTicks,
      weight: weightOf(closing.endTicks - opening.startTicks, barTicks),
      onDownbeat: opening.slot.startTicks === 0,
    });
  };
  for (const [index, played] of form.slots.entries()) {
    const opening = form.slots[first]?.slot.chord;
    if (slots.length > 0 && opening !== undefined && opening.symbol === played.slot.chord.symbol && !cuts.has(index)) {
      slots.push(index);
      continue;
    }
    close();
    slots = [index];
    first = index;
  }
  close();
  return events;
}

/** What follows a chord, the end of the form leading back to its top. Distances are semitones up from the chord's root, 0 to 11. */
export interface Surroundings {
  readonly next: HarmonicEvent;
  readonly afterNext: HarmonicEvent;
  readonly previous: HarmonicEvent;
  readonly toNext: number;
  readonly toAfterNext: number;
  readonly toPrevious: number;
  /** To the next chord's written bass, where it is not its root. */
  readonly toNextBass: number | null;
}

/** Classes that go on as one sound when the root stays: G7sus G7, Em7b5 Em7, F F6. */
const SAME_SOUND: Readonly<Record<ChordClass, number>> = { M: 0, T: 0, p: 0, m: 1, h: 1, D: 2, s: 2, '+': 2, o: 3 };

/** Whether a chord only varies the one before: same root, same kind of sound. */
export function varies(a: HarmonicEvent, b: HarmonicEvent): boolean {
  return a.root === b.root && SAME_SOUND[a.chordClass] === SAME_SOUND[b.chordClass];
}

/** The next (or previous) event that is another sound, counted in a circle; the event itself where there is none. */
function neighbour(events: readonly HarmonicEvent[], from: number, step: 1 | -1): number {
  const self = events[from] as HarmonicEvent;
  const count = events.length;
  // a variation lasts a few chords at most; the bound keeps a one-chord form linear
  for (let distance = 1; distance <= Math.min(count - 1, 4); distance++) {
    const index = (from + step * distance + count * 4) % count;
    if (!varies(self, events[index] as HarmonicEvent)) return index;
  }
  return from;
}

/** The event that follows as another sound, in a circle; the event itself where there is none. */
export function nextOf(events: readonly HarmonicEvent[], index: number): HarmonicEvent {
  return events[neighbour(events, index, 1)] as HarmonicEvent;
}

/** The surroundings of every event. */
export function surroundingsOf(events: readonly HarmonicEvent[]): Surroundings[] {
  return events.map((event, index) => {
    const next = neighbour(events, index, 1);
    const afterNext = events[neighbour(events, next, 1)] as HarmonicEvent;
    const previous = events[neighbour(events, index, -1)] as HarmonicEvent;
    const distance = (other: HarmonicEvent): number => (other.root - event.root + 12) % 12;
    const following = events[next] as HarmonicEvent;
    return {
      next: following,
      afterNext,
      previous,
      toNext: distance(following),
      toAfterNext: distance(afterNext),
      toPrevious: distance(previous),
      toNextBass: following.chord.bass === null ? null : (pitchClassOf(following.chord.bass) - event.root + 12) % 12,
    };
  });
}
