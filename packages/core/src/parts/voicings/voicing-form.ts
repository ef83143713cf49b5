import { degreeInScale, type AnalysedSlot, type ChordScale } from '../../analysis/index.ts';
import {
  degree,
  degreeOnStep,
  nameOver,
  pitchClassOf,
  stepOf,
  type Chord,
  type Degree,
  type NoteName,
} from '../../theory/index.ts';

/** 'shells': the root with one guide tone, a hand's first comping. 'rootless': four notes over somebody's bass. */
export type VoicingStyle = 'shells' | 'rootless';

/** How a voicing is stacked; A and B are the two ways a rootless voicing lies in the hand. */
export type VoicingFormName = 'A' | 'B' | 'shell third' | 'shell seventh' | 'open';

/** What sits in a place of a voicing: the chord's own note there, or the tension that takes its place. */
type Seat = 'root' | 'third' | 'fifth' | 'seventh' | 'ninth';

/** A form by its seats, lowest first: each note lies on the next key above the one before. */
interface FormSeats {
  readonly name: VoicingFormName;
  readonly seats: readonly Seat[];
}

/**
 * The forms. Common practice: a rootless voicing has its third lowest (A) or its seventh (B), with the 9 for the root and over
 * dominants the 13 for the fifth; a shell is the root with the third or the seventh; of a ii–V one chord takes A, the other B.
 */
const FORMS: Readonly<Record<VoicingStyle, readonly FormSeats[]>> = {
  rootless: [
    { name: 'A', seats: ['third', 'fifth', 'seventh', 'ninth'] },
    { name: 'B', seats: ['seventh', 'ninth', 'third', 'fifth'] },
  ],
  shells: [
    { name: 'shell seventh', seats: ['root', 'seventh'] },
    { name: 'shell third', seats: ['root', 'third'] },
  ],
};

/** The same for chords without a seventh or sixth, whose root stays in the hand. Common practice: the triad's inversions. */
const TRIAD_FORMS: readonly FormSeats[] = [
  { name: 'A', seats: ['third', 'fifth', 'root'] },
  { name: 'B', seats: ['fifth', 'root', 'third'] },
  { name: 'open', seats: ['root', 'third', 'fifth'] },
];

const NINTHS = ['9', 'b9', '#9'].map(degree);
/** Of two ninths in one chord (alt, b9 #9) the hand takes the sharp one: a step from the third, not from the root. Common practice. */
const NINTHS_WRITTEN = ['#9', 'b9', '9'].map(degree);
const THIRTEENTH = 5;

/** The first of these degrees that the chord writes. */
function written({ degrees }: Chord, wanted: readonly Degree[]): Degree | undefined {
  return wanted.find((each) => degrees.includes(each));
}

/** A tension on these letter distances that the slot's inside chord-scale gives, where the chord writes nothing there. */
function offered({ chordScales }: AnalysedSlot, chord: Chord, steps: readonly number[]): NoteName | undefined {
  const inside = chordScales[0];
  if (inside === undefined || !inside.inside) return undefined;
  return inside.tensions.find((note) => {
    const step = stepOf(degreeInScale(chord, inside, note));
    return steps.includes(step) && degreeOnStep(chord, step) === undefined;
  });
}

function ninthOf(slot: AnalysedSlot, chord: Chord): NoteName {
  const own = written(chord, NINTHS_WRITTEN);
  if (own !== undefined) return nameOver(chord, own, slot.reading.key);
  const tension = offered(slot, chord, [1]);
  // ♯9 over a minor third, or a scale's ♭9 over a chord that does not ask for it, is not what a band expects
  const isNinth =
    tension !== undefined && NINTHS.includes(degreeInScale(chord, slot.chordScales[0] as ChordScale, tension));
  return isNinth && chord.quality !== 'diminished' ? tension : chord.root;
}

/** The fifth's seat: a written 13, else an altered fifth or ♯11; over a plain dominant the scale's 13; else the fifth. */
function fifthOf(slot: AnalysedSlot, chord: Chord): NoteName | undefined {
  const thirteenth = degreeOnStep(chord, THIRTEENTH);
  const seventh = degreeOnStep(chord, 6);
  const fifth = degreeOnStep(chord, 4);
  if (thirteenth !== undefined && seventh !== undefined) return nameOver(chord, thirteenth, slot.reading.key);
  if (fifth !== undefined && fifth !== degree('5')) return nameOver(chord, fifth, slot.reading.key);
  if (chord.degrees.includes(degree('#11'))) return nameOver(chord, degree('#11'), slot.reading.key);
  if (chord.quality === 'dominant' || (chord.quality === 'suspended' && seventh !== undefined)) {
    const tension = offered(slot, chord, [THIRTEENTH]);
    if (tension !== undefined) return tension;
  }
  return fifth === undefined ? undefined : nameOver(chord, fifth, slot.reading.key);
}

/** Third, or the fourth or second that takes its place. */
function thirdOf(slot: AnalysedSlot, chord: Chord): NoteName | undefined {
  const third = degreeOnStep(chord, 2) ?? degreeOnStep(chord, 3) ?? degreeOnStep(chord, 1);
  return third === undefined ? undefined : nameOver(chord, third, slot.reading.key);
}

/** Seventh, else sixth. */
function seventhOf(slot: AnalysedSlot, chord: Chord): NoteName | undefined {
  const seventh = degreeOnStep(chord, 6) ?? degreeOnStep(chord, THIRTEENTH);
  return seventh === undefined ? undefined : nameOver(chord, seventh, slot.reading.key);
}

function seatsOf(slot: AnalysedSlot, chord: Chord): Readonly<Record<Seat, NoteName | undefined>> {
  return {
    root: chord.root,
    third: thirdOf(slot, chord),
    fifth: fifthOf(slot, chord),
    seventh: seventhOf(slot, chord),
    ninth: ninthOf(slot, chord),
  };
}

/** Notes of a form from the lowest up; every pitch class once. */
export interface VoicingForm {
  readonly name: VoicingFormName;
  readonly notes: readonly NoteName[];
}

/**
 * The ways to voice a slot's chord, at least one. A note the symbol writes always stands before one the scale offers, so that
 * nothing clashes with a written alteration; the written bass is left to the bass.
 */
export function voicingForms(slot: AnalysedSlot, style: VoicingStyle): readonly VoicingForm[] {
  const { chord } = slot;
  if (chord === null) return [];
  const seats = seatsOf(slot, chord);
  const hasGuideTones = seats.third !== undefined && seats.seventh !== undefined;
  const forms = hasGuideTones ? FORMS[style] : TRIAD_FORMS;
  return forms.map(({ name, seats: places }) => {
    const notes: NoteName[] = [];
    for (const place of places) {
      const note = seats[place];
      if (note !== undefined && !notes.some((each) => pitchClassOf(each) === pitchClassOf(note))) notes.push(note);
    }
    return { name, notes };
  });
}
