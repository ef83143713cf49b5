import {
  chordFromDegrees,
  degree,
  degrees,
  formatNoteName,
  NO_CHORD,
  noteAbove,
  noteNameFromFifths,
  parseDegree,
  parseNoteName,
  readChordSymbol,
  stepOf,
  type Chord,
  type ChordSymbol,
  type Degree,
  type NoteName,
} from '@fivespan/core';
import { CHORD_KINDS } from './chord-kind.ts';
import type { ReadHarmony } from './read-part.ts';

/** What became of a harmony. */
export interface ReadChord {
  /** Null where it is no chord, or one that is not understood. */
  readonly chord: ChordSymbol | null;
  /** The chord as the file says it, for a message. */
  readonly written: string;
  /** Whether the chord says all that the file said. */
  readonly isExact: boolean;
}

/**
 * Kinds that lead sheets do not use, and the chord they come to on their root. Sources: MusicXML 4.0, kind-value
 * ('Italian: f6 1 3', as augmented sixth on the lowered sixth degree: that degree's seventh without its fifth, spelled
 * as a seventh); the Tristan chord sounds as a half-diminished one. Common practice.
 */
const OTHER_KINDS: Readonly<Record<string, readonly Degree[]>> = {
  Neapolitan: degrees('1 3 5'),
  Italian: degrees('1 3 b7'),
  French: degrees('1 3 b5 b7'),
  German: degrees('1 3 5 b7'),
  Tristan: degrees('1 b3 b5 b7'),
};

/**
 * Kinds with a natural 11th over a major third: musicians write 11 and play the fourth in the third's place. Common practice.
 */
const ELEVENTHS: Readonly<Record<string, readonly Degree[]>> = {
  'dominant-11th': degrees('1 4 5 b7 9'),
  'major-11th': degrees('1 4 5 7 9'),
};

const KINDS: ReadonlyMap<string, readonly Degree[]> = new Map(CHORD_KINDS.map((each) => [each.name, each.degrees]));

function noteOf(step: { readonly step: string; readonly alter: number } | null, fifths: number): NoteName | null {
  if (step === null || !Number.isInteger(step.alter) || Math.abs(step.alter) > 2) return null;
  const name = parseNoteName(step.step + (step.alter < 0 ? 'b' : '#').repeat(Math.abs(step.alter)));
  if (name === undefined) return null;
  const moved = name + fifths;
  // a note that would need more than one accidental is named as it sounds
  if (moved < -8) return noteNameFromFifths(moved + 12);
  return noteNameFromFifths(moved > 12 ? moved - 12 : moved);
}

/** A degree by number and alteration, undefined where there is none such. */
function degreeOf(value: number, alter: number): Degree | undefined {
  if (!Number.isInteger(alter) || Math.abs(alter) > 2) return undefined;
  return parseDegree((alter < 0 ? 'b' : '#').repeat(Math.abs(alter)) + value);
}

/** The degrees after the file's changes; undefined where a change makes no sense. */
function changed(base: readonly Degree[], harmony: ReadHarmony): Degree[] | undefined {
  let all = [...base];
  for (const { value, alter, type } of harmony.degrees) {
    const there = all.find((each) => stepOf(each) === (value - 1) % 7);
    if (type === 'subtract') {
      all = all.filter((each) => each !== there);
    } else if (type === 'alter' && there !== undefined) {
      // altering is relative to the degree the kind has; a semitone on the line of fifths is seven places
      all = all.map((each) => (each === there ? ((each + 7 * alter) as Degree) : each));
    } else {
      // an added seventh counts from the minor one: a dominant chord's. An altered degree the kind lacks is an added one
      const added = degreeOf(value, value === 7 ? alter - 1 : alter);
      if (added === undefined) return undefined;
      // programs add 5 with an alteration where they mean to alter it
      if (value === 5 && alter !== 0) all = all.filter((each) => each !== degree('5'));
      if (!all.includes(added)) all.push(added);
    }
  }
  return all;
}

/** A chord whose degrees include what cannot be said: without its last changes, as much as can. */
function nearest(root: NoteName, all: readonly Degree[], bass: NoteName | null): Chord | undefined {
  for (let length = all.length; length >= 2; length--) {
    const chord = chordFromDegrees(root, all.slice(0, length), bass);
    if (chord !== undefined) return chord;
  }
  return undefined;
}

function describe(harmony: ReadHarmony, root: NoteName | null): string {
  const kind = harmony.text === '' ? ` ${harmony.kind}` : harmony.text;
  const changes = harmony.degrees.map(
    (each) => `${each.type} ${each.value}${each.alter === 0 ? '' : ` (${each.alter})`}`,
  );
  const name = root === null ? (harmony.root?.step ?? '') : formatNoteName(root);
  return [name + kind, ...changes].join(', ').trim();
}

/** What the file prints, read as a symbol: decides where the degrees say nothing, and between readings that agree. */
function printedChord(harmony: ReadHarmony, root: NoteName, bass: NoteName | null): Chord | undefined {
  if (harmony.text === '') return undefined;
  const tail = bass === null ? '' : `/${formatNoteName(bass)}`;
  const read = readChordSymbol(formatNoteName(root) + harmony.text + tail);
  return read.ok && read.value.kind === 'chord' ? read.value : undefined;
}

function bassOfInversion(root: NoteName, all: readonly Degree[], inversion: number): NoteName | null {
  const step = [0, 2, 4, 6][inversion];
  const value = all.find((each) => stepOf(each) === step);
  return inversion === 0 || value === undefined ? null : noteAbove(root, value);
}

/**
 * Understands a harmony: kind, degrees, bass and inversion make the chord; where they leave it open ('other', an
 * unknown kind) the printed text does.
 * @param fifths from written to concert pitch, on the line of fifths
 */
export function readChord(harmony: ReadHarmony, fifths: number): ReadChord {
  const root = noteOf(harmony.root, fifths);
  const written = describe(harmony, root);
  if (harmony.kind === 'none' || /^n\.?\s?c\.?$/iu.test(harmony.text)) {
    return { chord: NO_CHORD, written, isExact: true };
  }
  if (root === null) return { chord: null, written, isExact: false };
  const statedBass = noteOf(harmony.bass, fifths);
  const base = ELEVENTHS[harmony.kind] ?? OTHER_KINDS[harmony.kind] ?? KINDS.get(harmony.kind);
  const isOther = harmony.kind === 'other' || harmony.kind === '';
  const all = changed(base ?? (isOther && harmony.degrees.length > 0 ? [degree('1')] : []), harmony);
  const bass = statedBass ?? bassOfInversion(root, all ?? [], harmony.inversion);
  const printed = printedChord(harmony, root, bass);
  if (base === undefined && (!isOther || harmony.degrees.length === 0)) {
    return { chord: printed ?? null, written, isExact: false };
  }
  const chord = all === undefined ? undefined : chordFromDegrees(root, all, bass);
  const isUsualKind = base === undefined || KINDS.has(harmony.kind);
  const isEleventh = harmony.kind in ELEVENTHS;
  if (chord !== undefined) {
    // 'alt' and the like name more than degrees can: the printed name wins where it holds all of them
    const isSaidByText =
      printed !== undefined &&
      chord.degrees.every((each) => printed.degrees.includes(each) || stepOf(each) === stepOf(degree('5')));
    const isAlt = isSaidByText && printed.suffix === '7alt' && harmony.degrees.length === 0;
    const isExact = isUsualKind && !isEleventh && (harmony.bass === null || statedBass !== null);
    return { chord: isAlt ? printed : chord, written, isExact };
  }
  return { chord: nearest(root, all ?? base ?? [], bass) ?? printed ?? null, written, isExact: false };
}
