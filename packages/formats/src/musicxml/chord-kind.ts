import { alterationOf, degree, degrees, stepOf, type Chord, type Degree } from '@fivespan/core';

/** A `kind` of MusicXML and the degrees it stands for. */
export interface ChordKind {
  readonly name: string;
  readonly degrees: readonly Degree[];
}

function kind(name: string, spelled: string): ChordKind {
  return { name, degrees: degrees(spelled) };
}

/**
 * Kinds by MusicXML's names. Source: MusicXML 4.0, kind-value (../shared schema, musicxml.xsd). A thirteenth chord with a
 * major third has no 11th here, as it is played (common practice), although the standard stacks it.
 */
export const CHORD_KINDS: readonly ChordKind[] = [
  kind('major', '1 3 5'),
  kind('minor', '1 b3 5'),
  kind('diminished', '1 b3 b5'),
  kind('dominant', '1 3 5 b7'),
  kind('major-seventh', '1 3 5 7'),
  kind('augmented', '1 3 #5'),
  kind('minor-seventh', '1 b3 5 b7'),
  kind('diminished-seventh', '1 b3 b5 bb7'),
  kind('augmented-seventh', '1 3 #5 b7'),
  kind('half-diminished', '1 b3 b5 b7'),
  kind('major-minor', '1 b3 5 7'),
  kind('major-sixth', '1 3 5 6'),
  kind('minor-sixth', '1 b3 5 6'),
  kind('dominant-ninth', '1 3 5 b7 9'),
  kind('major-ninth', '1 3 5 7 9'),
  kind('minor-ninth', '1 b3 5 b7 9'),
  kind('dominant-11th', '1 3 5 b7 9 11'),
  kind('major-11th', '1 3 5 7 9 11'),
  kind('minor-11th', '1 b3 5 b7 9 11'),
  kind('dominant-13th', '1 3 5 b7 9 13'),
  kind('major-13th', '1 3 5 7 9 13'),
  kind('minor-13th', '1 b3 5 b7 9 11 13'),
  kind('suspended-fourth', '1 4 5'),
  kind('suspended-second', '1 2 5'),
  kind('power', '1 5'),
];

/** A change to a kind's degrees, as MusicXML's `degree` says it. */
export interface DegreeChange {
  readonly type: 'add' | 'alter' | 'subtract';
  /** 1 to 13. */
  readonly value: number;
  /** Semitones: for `add` against a dominant chord (so 7 with 0 is the minor seventh), else against the kind's own degree. */
  readonly alter: number;
}

/** How a chord is said in MusicXML. */
export interface KindOfChord {
  readonly kind: string;
  readonly changes: readonly DegreeChange[];
}

const FLAT_THIRTEENTH = degree('b13');
const PERFECT_FIFTH = degree('5');

/** Degree number as chords count: 2, 4 and 6 above a seventh are 9, 11 and 13. */
function numberOf(value: Degree, hasSeventh: boolean, isSuspended: boolean): number {
  const step = stepOf(value);
  if (step === 1) return hasSeventh || !isSuspended ? 9 : 2;
  if (step === 3) return isSuspended && alterationOf(value) === 0 ? 4 : 11;
  if (step === 5) return hasSeventh || alterationOf(value) !== 0 ? 13 : 6;
  return step + 1;
}

/**
 * Alteration of an added degree. The standard counts an added seventh from the dominant's: alter 0 on 7 is the minor
 * seventh. Source: MusicXML 4.0, degree-alter ("if the degree-type is add, the degree-alter is relative to a dominant chord").
 */
function addedAlter(value: Degree): number {
  return alterationOf(value) + (stepOf(value) === 6 ? 1 : 0);
}

function changesFrom(base: ChordKind, chord: Chord): DegreeChange[] {
  const hasSeventh = chord.degrees.some((each) => stepOf(each) === 6);
  const isSuspended = chord.quality === 'suspended';
  // the fifth gives way to a b13 (common practice): nobody writes that it is left out
  const isFifthImplied = chord.degrees.includes(FLAT_THIRTEENTH);
  const missing = base.degrees.filter(
    (each) => !chord.degrees.includes(each) && !(isFifthImplied && each === PERFECT_FIFTH),
  );
  const extra = chord.degrees.filter((each) => !base.degrees.includes(each));
  const changes: DegreeChange[] = [];
  for (const each of missing) {
    const step = stepOf(each);
    // a raised or lowered note of the same number is an alteration; only the fifth is altered in place, tensions are added
    const altered = step === 4 ? extra.findIndex((other) => stepOf(other) === step) : -1;
    if (altered >= 0) {
      const other = extra.splice(altered, 1)[0] as Degree;
      changes.push({ type: 'alter', value: step + 1, alter: alterationOf(other) - alterationOf(each) });
    } else {
      changes.push({
        type: 'subtract',
        value: base.degrees.length > 4 && step % 2 === 1 ? step + 8 : step + 1,
        alter: 0,
      });
    }
  }
  for (const each of extra) {
    changes.push({ type: 'add', value: numberOf(each, hasSeventh, isSuspended), alter: addedAlter(each) });
  }
  return changes.sort((a, b) => a.value - b.value || a.alter - b.alter);
}

/** What each change costs the reader. A kind with the right seventh is nearer than one it must be added to. */
function costOf(change: DegreeChange): number {
  if (change.type === 'subtract') return 10;
  return change.type === 'alter' || change.value === 7 ? 4 : 2;
}

/**
 * The kind nearest to a chord's degrees, and what changes it to them exactly. Of two as near the earlier in the table.
 * @example kindOfChord(chord('G7(b9)')) // → dominant, add 9 altered −1
 */
export function kindOfChord(chord: Chord): KindOfChord {
  let best: KindOfChord | undefined;
  let bestCost = Infinity;
  for (const base of CHORD_KINDS) {
    const changes = changesFrom(base, chord);
    const cost = changes.reduce((sum, change) => sum + costOf(change), 0);
    if (cost < bestCost) {
      best = { kind: base.name, changes };
      bestCost = cost;
    }
  }
  return best as KindOfChord;
}
