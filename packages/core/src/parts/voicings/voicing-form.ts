import { degreeInScale, type AnalysedSlot, type ChordScale } from '../../analysis/index.ts';
import {
  asKept,
  degree,
  degreeOnStep,
  guideTonesOf,
  nameOver,
  noteAbove,
  pitchClassOf,
  simpleName,
  stepOf,
  type Chord,
  type Degree,
  type NoteName,
} from '../../theory/index.ts';
import { quartalForms } from './quartal.ts';
import { upperStructureForms } from './upper-structure.ts';
import type { VoicingForm, VoicingFormName, VoicingKind } from './voicing-kind.ts';

/** What sits in a place of a voicing: the chord's own note there, or the tension that takes its place. */
type Seat = 'root' | 'third' | 'fifth' | 'seventh' | 'ninth' | 'eleventh';

/** A form by its seats, lowest first: each note is on the next key above the one before. */
interface FormSeats {
  readonly name: VoicingFormName;
  readonly seats: readonly Seat[];
  /** Seats of the right hand, above those. */
  readonly upper?: readonly Seat[];
}

/** The kinds that are seated; the others are built from the chord-scale. */
type SeatedKind = Exclude<VoicingKind, 'quartal' | 'upper structures'>;

/**
 * The forms. Common practice: guide tones are third and seventh, either one below; a shell is the root with one of them; a rootless voicing has its third lowest (A) or its seventh (B),
 * with the 9 for the root and over dominants the 13 for the fifth, and of a ii–V one chord takes A, the other B; for two
 * hands the left has a shell, the right the other guide tone and the colours.
 */
const FORMS: Readonly<Record<SeatedKind, readonly FormSeats[]>> = {
  'guide tones': [
    { name: 'third below', seats: ['third', 'seventh'] },
    { name: 'seventh below', seats: ['seventh', 'third'] },
  ],
  shells: [
    { name: 'shell seventh', seats: ['root', 'seventh'] },
    { name: 'shell third', seats: ['root', 'third'] },
  ],
  rootless: [
    { name: 'A', seats: ['third', 'fifth', 'seventh', 'ninth'] },
    { name: 'B', seats: ['seventh', 'ninth', 'third', 'fifth'] },
  ],
  'two hands': [
    { name: 'two hands seventh', seats: ['root', 'seventh'], upper: ['third', 'eleventh', 'fifth', 'ninth'] },
    { name: 'two hands third', seats: ['root', 'third'], upper: ['seventh', 'ninth', 'eleventh', 'fifth'] },
  ],
};

/** The same for chords without a seventh or sixth, whose root stays in the hand. Common practice: the triad's inversions. */
const TRIAD_IN_HAND: readonly FormSeats[] = [
  { name: 'A', seats: ['third', 'fifth', 'root'] },
  { name: 'B', seats: ['fifth', 'root', 'third'] },
  { name: 'open', seats: ['root', 'third', 'fifth'] },
];
const TRIAD_FORMS: Readonly<Record<SeatedKind, readonly FormSeats[]>> = {
  'guide tones': [
    { name: 'third below', seats: ['third', 'root'] },
    { name: 'shell third', seats: ['root', 'third'] },
  ],
  shells: TRIAD_IN_HAND,
  rootless: TRIAD_IN_HAND,
  'two hands': [
    { name: 'two hands triad', seats: ['root', 'fifth'], upper: ['third', 'ninth'] },
    { name: 'two hands triad', seats: ['root', 'fifth'], upper: ['third', 'fifth'] },
  ],
};

const NINTHS = ['9', 'b9', '#9'].map(degree);
/** Of two ninths in one chord (alt, b9 #9) the hand takes the sharp one: a step from the third, not from the root. Common practice. */
const NINTHS_WRITTEN = ['#9', 'b9', '9'].map(degree);
const ALTERED_NINTHS = ['#9', 'b9'].map(degree);
const THIRTEENTH = 5;
const SHARP_ELEVENTH = degree('#11');

/** The first of these degrees that the chord writes. */
function written({ degrees }: Chord, wanted: readonly Degree[]): Degree | undefined {
  return wanted.find((each) => degrees.includes(each));
}

/** A tension on these letter distances that the chord-scale gives, where the chord writes nothing there. */
function offered(scale: ChordScale | undefined, chord: Chord, steps: readonly number[]): NoteName | undefined {
  return scale?.tensions.find((note) => {
    const step = stepOf(degreeInScale(chord, scale, note));
    return steps.includes(step) && degreeOnStep(chord, step) === undefined;
  });
}

/** A scale's note as it is named over the chord, without a double accidental. */
function named(note: NoteName, { kept }: ChordScale): NoteName {
  return simpleName(asKept(note, kept));
}

function ninthOf(
  slot: AnalysedSlot,
  chord: Chord,
  scale: ChordScale | undefined,
  away: ChordScale | null,
): NoteName | undefined {
  const own = written(chord, NINTHS_WRITTEN);
  if (own !== undefined) return nameOver(chord, own, slot.reading.key);
  if (away !== null) return agreeing(slot, chord, away, AWAY_NINTHS);
  const tension = offered(scale, chord, [1]);
  // ♯9 over a minor third, or a scale's ♭9 over a chord that does not ask for it, is not what a band expects
  if (scale === undefined || tension === undefined || chord.quality === 'diminished') return chord.root;
  return NINTHS.includes(degreeInScale(chord, scale, tension)) ? named(tension, scale) : chord.root;
}

/** What may stand beside the guide tones while the line is away, in the order a hand looks for it. Common practice. */
const AWAY_NINTHS = ['b9', '#9', '9'].map(degree);
const AWAY_FIFTHS = ['b13', '#11', '13', '5'].map(degree);

/** The first of these degrees that the line's own scale has too; none where they would rub: the hand leaves room. */
function agreeing(
  slot: AnalysedSlot,
  chord: Chord,
  { notes }: ChordScale,
  wanted: readonly Degree[],
): NoteName | undefined {
  const sounds = new Set(notes.map(pitchClassOf));
  // a ♯11 beside a sus chord's 4 would rub as well
  const free = wanted.filter((each) => {
    const there = degreeOnStep(chord, stepOf(each));
    return there === undefined || chord.degrees.includes(each);
  });
  const names = free.map((each) => simpleName(nameOver(chord, each, slot.reading.key)));
  return names.find((each) => sounds.has(pitchClassOf(each)));
}

/** The fifth's seat: a written 13, else an altered fifth or ♯11; over a plain dominant the scale's 13; else the fifth. */
function fifthOf(
  slot: AnalysedSlot,
  chord: Chord,
  scale: ChordScale | undefined,
  away: ChordScale | null,
): NoteName | undefined {
  const thirteenth = degreeOnStep(chord, THIRTEENTH);
  const seventh = degreeOnStep(chord, 6);
  const fifth = degreeOnStep(chord, 4);
  if (thirteenth !== undefined && seventh !== undefined) return nameOver(chord, thirteenth, slot.reading.key);
  if (fifth !== undefined && fifth !== degree('5')) return nameOver(chord, fifth, slot.reading.key);
  if (chord.degrees.includes(degree('#11'))) return nameOver(chord, degree('#11'), slot.reading.key);
  if (away !== null) return agreeing(slot, chord, away, AWAY_FIFTHS);
  if (chord.quality === 'dominant' || (chord.quality === 'suspended' && seventh !== undefined)) {
    const tension = offered(scale, chord, [THIRTEENTH]);
    if (scale !== undefined && tension !== undefined) return named(tension, scale);
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

function seatsOf(
  slot: AnalysedSlot,
  chord: Chord,
  scale: ChordScale | undefined,
  away: ChordScale | null,
): Readonly<Record<Seat, NoteName | undefined>> {
  return {
    root: chord.root,
    third: thirdOf(slot, chord),
    fifth: fifthOf(slot, chord, scale, away),
    seventh: seventhOf(slot, chord),
    ninth: ninthOf(slot, chord, scale, away),
    // two hands have room for a ♯11 that the symbol writes
    eleventh: chord.degrees.includes(SHARP_ELEVENTH) ? nameOver(chord, SHARP_ELEVENTH, slot.reading.key) : undefined,
  };
}

/**
 * The chord-scale whose tensions colour a voicing: the one the hand plays there where it stands on the chord's root and keeps
 * its guide tones (the altered scale over a plain G7), else the ladder's first where that is inside and has what the symbol writes.
 */
export function coloursOf(
  { chordScales }: AnalysedSlot,
  chord: Chord,
  played: ChordScale | null,
): ChordScale | undefined {
  if (played !== null && played.scale.root === chord.root && played.outsideness.guideTonesLost === 0) return played;
  const [first] = chordScales;
  if (first?.inside !== true) return undefined;
  // a slash chord read on its bass (Fmaj7/B as B7 altered) has a scale that denies what is written
  const sounds = new Set(first.notes.map(pitchClassOf));
  const guides = guideTonesOf(chord).map((each) => pitchClassOf(noteAbove(chord.root, each)));
  return guides.every((each) => sounds.has(each)) ? first : undefined;
}

/**
 * The chord-scale of a line that is away: outside, and not one that colours the chord's own root. Over the blues scale the chord stays as
 * it is.
 */
function awayOf(chord: Chord, played: ChordScale | null): ChordScale | null {
  if (played === null || played.inside || played.scale.kind.family === 'blues') return null;
  const isOwn = played.scale.root === chord.root && played.outsideness.guideTonesLost === 0;
  return isOwn ? null : played;
}

/**
 * The rootless forms where the symbol writes a ♯11 beside a 13: it takes the place of a plain 9, E F♯ A B♭ and B♭ E F♯ A for C13(♯11);
 * an altered 9 stays, and five fingers hold all of it, E F♯ A B♭ D♭ for C13(♭9,♯11). Common practice.
 */
const WITH_SHARP_ELEVENTH: readonly FormSeats[] = [
  { name: 'A', seats: ['third', 'eleventh', 'fifth', 'seventh'] },
  { name: 'B', seats: ['seventh', 'third', 'eleventh', 'fifth'] },
];
const WITH_ALTERED_NINTH: readonly FormSeats[] = [
  { name: 'A', seats: ['third', 'eleventh', 'fifth', 'seventh', 'ninth'] },
  { name: 'B', seats: ['seventh', 'ninth', 'third', 'eleventh', 'fifth'] },
];

/** Whether a written ♯11 would be left out by the usual rootless forms. */
function lacksEleventh({ eleventh, fifth }: Readonly<Record<Seat, NoteName | undefined>>): boolean {
  return eleventh !== undefined && (fifth === undefined || pitchClassOf(fifth) !== pitchClassOf(eleventh));
}

function seated(
  kind: SeatedKind,
  slot: AnalysedSlot,
  chord: Chord,
  scale: ChordScale | undefined,
  away: ChordScale | null,
): VoicingForm[] {
  const seats = seatsOf(slot, chord, scale, away);
  const hasGuideTones = seats.third !== undefined && seats.seventh !== undefined;
  const isCrowded = kind === 'rootless' && hasGuideTones && lacksEleventh(seats);
  const ninths = ALTERED_NINTHS.filter((each) => chord.degrees.includes(each)).length;
  // 'alt' names a colour, not notes to be played all at once
  const crowded = ninths === 0 ? WITH_SHARP_ELEVENTH : ninths === 1 ? WITH_ALTERED_NINTH : FORMS.rootless;
  const forms = isCrowded ? crowded : (hasGuideTones ? FORMS : TRIAD_FORMS)[kind];
  return forms.map(({ name, seats: places, upper }) => {
    const notes: NoteName[] = [];
    const take = (place: Seat): void => {
      const note = seats[place];
      if (note !== undefined && !notes.some((each) => pitchClassOf(each) === pitchClassOf(note))) notes.push(note);
    };
    places.forEach(take);
    const left = notes.length;
    upper?.forEach(take);
    return { name, notes, left, triad: null };
  });
}

/**
 * The ways to voice a slot's chord, at least one. A note the symbol writes always stands before one the scale offers, so that
 * nothing clashes with a written alteration; while the line is away its scale's colours stand beside the guide tones, or none; the written
 * bass is left to the bass. Where the chord-scale gives no fourths
 * or no upper structure, the plain forms of as many hands stand in.
 * @param played the chord-scale the right hand plays there; null where it is not known
 */
export function voicingForms(
  slot: AnalysedSlot,
  kind: VoicingKind,
  played: ChordScale | null = null,
): readonly VoicingForm[] {
  const { chord } = slot;
  if (chord === null) return [];
  const away = awayOf(chord, played);
  const scale = coloursOf(slot, chord, played);
  // fourths and triads out of another chord-scale than the line's would rub with it
  if (away !== null && (kind === 'quartal' || kind === 'upper structures')) {
    return seated(kind === 'quartal' ? 'rootless' : 'two hands', slot, chord, scale, away);
  }
  if (kind === 'quartal') {
    const forms = quartalForms(chord, scale);
    return forms.length > 0 ? forms : seated('rootless', slot, chord, scale, away);
  }
  if (kind === 'upper structures') {
    const pairs = seated('guide tones', slot, chord, scale, away);
    const forms = upperStructureForms(chord, scale, pairs);
    return forms.length > 0 ? forms : seated('two hands', slot, chord, scale, away);
  }
  return seated(kind, slot, chord, scale, away);
}
