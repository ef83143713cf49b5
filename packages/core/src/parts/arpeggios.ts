import type { ChordScale } from '../analysis/index.ts';
import { beatTicksOf, TICKS_PER_QUARTER, type PlayedSlot } from '../chart/index.ts';
import {
  ALL_SHAPES,
  classOfShape,
  coverOf,
  familyIn,
  keysOf,
  MINOR_PENTATONIC,
  positionMasks,
  shapesInReach,
  USUAL_SHAPES,
  type Family,
  type HandSize,
  type Position,
  type Shape,
} from '../hand/index.ts';
import type { Plan, PlannedSlot } from '../plan/index.ts';
import {
  degreeAbove,
  formatDegree,
  midi,
  pitchAt,
  pitchClassOf,
  setOfNotes,
  type Chord,
  type Midi,
  type NoteName,
} from '../theory/index.ts';
import {
  fingerInStack,
  holdsGuideTones,
  semitonesInStack,
  seventhChordOf,
  stackFromFamilies,
  stackAsFarAsItGoes,
  stackOnScaleRoot,
  stacksOf,
  THIRTEENTH,
  type Stack,
  type StackedChord,
} from './arpeggios-stack.ts';
import type { HandNote } from './note.ts';

/** The study moves in eighths. */
const EIGHTH_TICKS = TICKS_PER_QUARTER / 2;

/** Roots from G3 to F♯4, so that the stack ends at F♯6 at the highest: above the walking bass. Our choice. */
const LOWEST_ROOT = 55;

/** A note the line may take: under which finger of which position. */
export interface LineNote {
  readonly key: Midi;
  readonly name: NoteName;
  readonly finger: HandNote['finger'];
  readonly position: Position;
  /** An avoid note that is a half step above a chord tone; the 6 over a ii rubs with none and may stay in the stack. */
  readonly rubs: boolean;
  /** Whether the line may end on it: not on an avoid note. */
  readonly mayRest: boolean;
}

/** How many shapes of other classes are tried where the family's own class does not hold the chord's first four notes. */
const OTHER_SHAPES = 6;

/** The first shapes in reach, usual ones first, one of whose positions holds the first four notes of the stack in one hand. */
function shapesThatHold({ notes }: Stack, { set }: ChordScale, hand: HandSize): Shape[] {
  const firstFour = setOfNotes(notes.slice(0, 4));
  const holds = (shape: Shape): boolean =>
    positionMasks(shape).some((mask) => (mask & ~set) === 0 && (firstFour & ~mask) === 0);
  return shapesInReach([...USUAL_SHAPES, ...ALL_SHAPES].filter(holds), hand).slice(0, OTHER_SHAPES);
}

/**
 * How a chord is stacked in thirds over its chord-scale: on the chord's own root wherever the scale holds its third, fifth
 * and seventh; whole to the 13th before less; out of the family's own shape before the other rotations of its class, and out
 * of other shapes only where those do not reach the seventh.
 * @returns undefined where not even the seventh chord lies under the fingers.
 */
export function stackChord(
  chord: Chord,
  chordScale: ChordScale,
  family: Family,
  hand: HandSize = 'medium',
): StackedChord | undefined {
  const inScale = (shapes: readonly Shape[]): Family[] =>
    shapes.map((shape) => familyIn(shape, chordScale.notes, chordScale.kept));
  const rotations = shapesInReach(classOfShape(family.shape).rotations, hand).filter((each) => each !== family.shape);
  const families = [family, ...inScale(rotations)];
  const stacks = stacksOf(chord, chordScale);
  const [first] = stacks;
  if (first?.onChordRoot === true) {
    return (
      stackFromFamilies(first, families) ??
      stackFromFamilies(first, [...families, ...inScale(shapesThatHold(first, chordScale, hand))])
    );
  }
  return highestOf(stacks.map((stack) => stackFromFamilies(stack, families)));
}

/** The first of the highest. */
function highestOf(found: readonly (StackedChord | undefined)[]): StackedChord | undefined {
  return found.reduce((best, each) => (each !== undefined && each.top > (best?.top ?? -1) ? each : best), undefined);
}

/**
 * A chord in thirds for its own sake: as stackChord has it where that reaches the 13th; else out of any shape in reach that holds three
 * neighbours of the stack; a scale outside that holds no chord of this root is stacked on its own.
 * @returns undefined where no seventh chord of the scale lies under the fingers.
 */
export function stackToThe13th(
  chord: Chord,
  chordScale: ChordScale,
  family: Family,
  hand: HandSize,
): StackedChord | undefined {
  const usual = stackChord(chord, chordScale, family, hand);
  if (usual !== undefined && usual.top >= THIRTEENTH) return usual;
  const others = [stackAsFarAsItGoes(chord, chordScale), stackOnScaleRoot(chordScale)];
  const stacks = [...stacksOf(chord, chordScale), ...others];
  const wider = stacks.map((stack) => {
    if (stack === undefined) return undefined;
    const shapes = shapesThatHoldThree(stack, chordScale, hand);
    const families = shapes.map((shape) => familyIn(shape, chordScale.notes, chordScale.kept));
    return stackFromFamilies(stack, [family, ...families]);
  });
  return highestOf([usual, ...wider]);
}

/** Shapes in reach one of whose positions holds three neighbours of a stack, usual ones first: a few for each three. */
function shapesThatHoldThree({ notes }: Stack, { set }: ChordScale, hand: HandSize): Shape[] {
  const reachable = shapesInReach(
    [...USUAL_SHAPES, ...ALL_SHAPES].filter((shape) => positionMasks(shape).some((mask) => (mask & ~set) === 0)),
    hand,
  );
  const chosen = notes.slice(2).flatMap((_, index) => {
    const three = setOfNotes(notes.slice(index, index + 3));
    const holds = (shape: Shape): boolean =>
      positionMasks(shape).some((mask) => (mask & ~set) === 0 && (three & ~mask) === 0);
    return reachable.filter(holds).slice(0, OTHER_SHAPES);
  });
  return [...new Set(chosen)];
}

function rubbingClasses({ avoid }: ChordScale): ReadonlySet<number> {
  const rubbing = avoid.filter(({ resolvesTo }) => resolvesTo.some((each) => each.semitones === -1));
  return new Set(rubbing.map(({ note }) => pitchClassOf(note)));
}

/** Whether a note may be rested on: no avoid note may. */
function restsOf({ avoid }: ChordScale): (note: NoteName) => boolean {
  const avoided = new Set(avoid.map(({ note }) => pitchClassOf(note)));
  return (note) => !avoided.has(pitchClassOf(note));
}

/** The stack as keys, upwards, with the root two octaves above where the last position holds it. */
function lineOfStack(stacked: StackedChord, chordScale: ChordScale): LineNote[] {
  const { stack, top } = stacked;
  const rootKey = LOWEST_ROOT + ((pitchClassOf(stack.root) - (LOWEST_ROOT % 12) + 12) % 12);
  const rubbing = rubbingClasses(chordScale);
  const mayRest = restsOf(chordScale);
  return semitonesInStack(stack)
    .slice(0, top + 1)
    .flatMap((semitones, index): LineNote[] => {
      const held = fingerInStack(stacked, index);
      if (held === undefined) return [];
      const { finger, position } = held;
      const name = position.notes[finger - 1] as NoteName;
      const rubs = rubbing.has(pitchClassOf(name));
      return [{ key: midi(rootKey + semitones), name, finger, position, rubs, mayRest: mayRest(name) }];
    });
}

/** Where no chord in thirds is in the family: the planned position itself, upwards. */
function lineOfPosition(position: Position, thumbMidi: Midi, chordScale: ChordScale): LineNote[] {
  const rubbing = rubbingClasses(chordScale);
  const mayRest = restsOf(chordScale);
  return keysOf(position, thumbMidi).map((key, index) => {
    const name = position.notes[index] as NoteName;
    const finger = (index + 1) as HandNote['finger'];
    return { key, name, finger, position, rubs: rubbing.has(pitchClassOf(name)), mayRest: mayRest(name) };
  });
}

function isOnBeat(ticks: number, { playedBar }: PlayedSlot): boolean {
  return (ticks - playedBar.startTicks) % beatTicksOf(playedBar.bar.meter) === 0;
}

/** Walks up and down the line from its lowest note, an eighth each, for as long as the slot lasts. */
function walk(line: readonly LineNote[], { analysed }: PlannedSlot, chord: Chord): HandNote[] {
  const { played } = analysed;
  const notes: HandNote[] = [];
  let [index, direction, taken] = [0, 1, -1];
  const goOn = (): void => {
    if (index + direction < 0 || index + direction >= line.length) direction = -direction;
    index += line.length > 1 ? direction : 0;
  };
  for (let ticks = played.startTicks; ticks < played.endTicks; ticks += EIGHTH_TICKS) {
    const isLast = ticks + EIGHTH_TICKS >= played.endTicks;
    // an avoid note passes off the beat on the way to another, or is left out
    const mustNotRub = isOnBeat(ticks, played) || isLast;
    const mayTake = (): boolean =>
      !(mustNotRub && line[index]?.rubs === true) && !(isLast && line[index]?.mayRest === false) && index !== taken;
    for (let tries = 0; tries < 2 * line.length && !mayTake(); tries++) goOn();
    taken = index;
    const note = line[index] as LineNote;
    const degree = formatDegree(degreeAbove(chord.root, note.name), 'extension');
    notes.push({
      startTicks: ticks,
      durationTicks: Math.min(EIGHTH_TICKS, played.endTicks - ticks),
      pitch: pitchAt(note.name, note.key),
      slotIndex: played.index,
      why: { code: note.rubs ? 'arpeggio.passing' : 'arpeggio.chord', args: { degree, chord: chord.symbol } },
      finger: note.finger,
      position: note.position,
    });
    goOn();
  }
  return notes;
}

/**
 * The chord-scale a slot's chord is stacked in, and its family: the plan's own; where that is a blues scale, which holds no chord
 * in thirds, the chord's own first rung.
 */
function chordScaleStacked({ analysed, chordScale, family }: PlannedSlot): {
  readonly chordScale: ChordScale;
  readonly family: Family;
} | null {
  if (chordScale === null || family === null) return null;
  const [first] = analysed.chordScales;
  if (chordScale.scale.kind.family !== 'blues' || first === undefined) return { chordScale, family };
  const covering = USUAL_SHAPES.find((shape) => coverOf(shape, first.set) === first.set) ?? MINOR_PENTATONIC;
  return { chordScale: first, family: familyIn(covering, first.notes, first.kept) };
}

/** A stack that stands on another note than the chord's own root. */
export interface ForeignStack {
  readonly root: NoteName;
  /** The seventh chord its first four notes are, 'Ab7'; null where they are none that has a name. */
  readonly seventhChord: string | null;
  /** Whether those hold the chord's third and seventh. */
  readonly holdsGuideTones: boolean;
}

/** A chord's way up in thirds as far as its scale goes, and whether that is whole: thirds to the 13th. */
export interface WayUp {
  readonly line: readonly LineNote[];
  readonly isWhole: boolean;
  /** Null where the way begins on the chord's own root, or is not made of thirds. */
  readonly foreign: ForeignStack | null;
}

function foreignStackOf({ stack }: StackedChord, chord: Chord): ForeignStack | null {
  if (stack.onChordRoot) return null;
  return {
    root: stack.root,
    seventhChord: seventhChordOf(stack),
    holdsGuideTones: holdsGuideTones(stack, chord),
  };
}

/** The way up over a slot in which the hand is somewhere. */
export function wayUpInThirds(slot: PlannedSlot, hand: HandSize): WayUp {
  const { position, thumbMidi, analysed } = slot;
  const stackedIn = chordScaleStacked(slot);
  if (analysed.chord === null || stackedIn === null || position === null || thumbMidi === null)
    return { line: [], isWhole: false, foreign: null };
  const { chordScale, family } = stackedIn;
  const stacked = stackToThe13th(analysed.chord, chordScale, family, hand);
  if (stacked === undefined) {
    return { line: lineOfPosition(position, thumbMidi, chordScale), isWhole: false, foreign: null };
  }
  const line = lineOfStack(stacked, chordScale);
  const gaps = line.slice(1, THIRTEENTH + 1).map(({ key }, index) => key - (line[index] as LineNote).key);
  const isWhole = gaps.length === THIRTEENTH && gaps.every((gap) => gap === 3 || gap === 4);
  return { line, isWhole, foreign: foreignStackOf(stacked, analysed.chord) };
}

/**
 * The arpeggio study: over each slot its chord in thirds up to the 13th and down again, in eighths, position by position, moving up a
 * position where the fingers end, and back down the same way where the slot has time. As much of the stack as the slot holds. An avoid note passes off
 * the beat or is left out.
 * @param hand whose reach other rotations of a shape must keep.
 * @returns notes in time order, without gaps inside a slot, from each slot's start to its end; none over N.C. or where no
 * shape serves.
 * For example over | Gm7 | C7 | Fmaj7 | → G B♭ D F A C E G | C E G B♭ D F A C | …
 */
export function arpeggioStudy(plan: Plan, hand: HandSize = 'medium'): HandNote[] {
  const stackedBefore = new Map<string, StackedChord | undefined>();
  return plan.slots.flatMap((slot) => {
    const { position, thumbMidi } = slot;
    const { chord } = slot.analysed;
    const stackedIn = chordScaleStacked(slot);
    if (chord === null || stackedIn === null || position === null || thumbMidi === null) return [];
    const { chordScale, family } = stackedIn;
    const key = `${chord.symbol}/${chordScale.id}/${chordScale.notes.join(' ')}/${family.shape.id}`;
    if (!stackedBefore.has(key)) stackedBefore.set(key, stackChord(chord, chordScale, family, hand));
    const stacked = stackedBefore.get(key);
    const line =
      stacked === undefined ? lineOfPosition(position, thumbMidi, chordScale) : lineOfStack(stacked, chordScale);
    return walk(line, slot, chord);
  });
}
