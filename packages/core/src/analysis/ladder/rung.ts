import {
  asKept,
  containsClass,
  containsSet,
  degreeOnStep,
  differenceOf,
  formatNoteName,
  guideTonesOf,
  modulo,
  noteAbove,
  keptNames,
  namesOfChord,
  ownNames,
  pitchClassOf,
  SCALE_KINDS,
  setOfNotes,
  setOfScale,
  sizeOf,
  type Chord,
  type NoteName,
  type PitchClassSet,
  type ScaleKind,
} from '../../theory/index.ts';
import type { Reading } from '../analysis.ts';
import type { ChordScale, Outsideness } from '../chord-scale.ts';
import type { ChordFunction } from './function-scales.ts';
import { moveTo } from './move.ts';
import { noteFunctionsOf, type Acting, type NoteFunctions } from './note-function.ts';
import type { LadderReasonCode } from './reason-words.ts';
import { degreesElsewhere, degreesOver, spellElsewhere, spellOnChord, tritoneLetterOf } from './scale-spelling.ts';

/** A root's place above the chord's, as ids name it. */
const PLACES = ['1', 'b2', '2', 'b3', '3', '4', 'b5', '5', 'b6', '6', 'b7', '7'] as const;

/** What every rung of one ladder shares. */
export interface Ground {
  readonly chord: Chord;
  readonly reading: Reading;
  readonly chordSet: PitchClassSet;
  /** What the region's key allows, and the chord's own notes. */
  readonly allowed: PitchClassSet;
  readonly acting: Acting;
  readonly chordFunction: ChordFunction;
}

function outsidenessOf(ground: Ground, set: PitchClassSet): Outsideness {
  const { chord, allowed } = ground;
  const lost = guideTonesOf(chord).filter((each) => !containsClass(set, pitchClassOf(noteAbove(chord.root, each))));
  return { guideTonesLost: lost.length, notesOutsideKey: sizeOf(differenceOf(set, allowed)) };
}

/** A scale, spelled on its root. */
interface SpelledScale {
  readonly kind: ScaleKind;
  readonly root: NoteName;
  readonly notes: readonly NoteName[];
  readonly kept: readonly NoteName[];
}

const namesOf = (notes: readonly NoteName[]): string => notes.map(formatNoteName).join(' ');

/** Where an avoid note goes is named as it is played over the chord: over B♭7 A falls to A♭, whatever the scale calls it. */
function asOver(kept: readonly NoteName[], functions: NoteFunctions): NoteFunctions {
  const avoid = functions.avoid.map((each) => ({
    note: each.note,
    resolvesTo: each.resolvesTo.map(({ note, semitones }) => ({ note: asKept(note, kept), semitones })),
  }));
  return { ...functions, avoid };
}

function chordScaleOn(
  ground: Ground,
  { kind, root, notes, kept }: SpelledScale,
  facts: { inside: boolean; move: string; code: LadderReasonCode; instead?: string | undefined },
): ChordScale {
  const { chord, reading, allowed } = ground;
  const set = setOfNotes(notes);
  const place = modulo(pitchClassOf(root) - pitchClassOf(chord.root), 12);
  const missing = namesOfChord(chord, reading.key).filter((note) => !containsClass(set, pitchClassOf(note)));
  const outside = notes.filter((note) => !containsClass(allowed, pitchClassOf(note)));
  const passing = kind.passing === null ? {} : { passing: namesOf(spellElsewhere(root, [kind.passing])) };
  const instead = facts.instead === undefined ? {} : { instead: facts.instead };
  return {
    id: `${kind.id}@${PLACES[place] as string}`,
    name: kind.name,
    scale: { kind, root },
    notes,
    kept,
    set,
    inside: facts.inside,
    outsideness: outsidenessOf(ground, set),
    move: facts.move,
    ...asOver(kept, noteFunctionsOf(chord, notes, ground.acting)),
    missing,
    reason: {
      code: facts.code,
      args: {
        chord: chord.symbol,
        scale: kind.name,
        missing: namesOf(missing),
        outside: namesOf(outside),
        ...passing,
        ...instead,
      },
    },
  };
}

/** How a scale came to be considered. */
export interface Claim {
  /** Its place in the function's list; undefined where it is not there. */
  readonly listed: number | undefined;
  /** Usual enough in this function to be inside though the key lacks a note of it. */
  readonly usual: boolean;
  readonly isFirst: boolean;
  /** On the first rung: the function's usual scale, where that does not hold the chord. */
  readonly instead?: string;
}

function codeOf(
  ground: Ground,
  kind: ScaleKind,
  claim: Claim,
  fits: { holds: boolean; inside: boolean },
): LadderReasonCode {
  if (claim.isFirst) return kind.family === 'own' ? 'scale.made-for-chord' : `function.${ground.chordFunction}`;
  if (kind.family === 'bebop') return 'scale.bebop';
  if (kind.family === 'blues') return 'scale.blues';
  if (ground.chordFunction === 'tonic major' && kind === SCALE_KINDS.lydian) return 'scale.raised-tonic';
  if (!fits.holds) return 'scale.over-dominant';
  if (claim.listed !== undefined) return 'scale.function-next';
  return fits.inside ? 'scale.in-key' : 'scale.holds-chord';
}

/**
 * Whether the scale's third is the chord's: Lydian ♯2 has the keys of a minor chord, but nobody plays it over one.
 */
function hasThirdOf(kind: ScaleKind, chord: Chord): boolean {
  const third = degreeOnStep(chord, 2);
  return third === undefined || kind.degrees.includes(third);
}

/** A scale on the chord's own root. */
export function ownRootScale(ground: Ground, kind: ScaleKind, claim: Claim): ChordScale {
  const { chord, reading, chordSet, allowed } = ground;
  const spelledDegrees = degreesOver(chord, kind.degrees);
  const set = setOfScale({ kind, root: chord.root });
  const holds = containsSet(set, chordSet);
  const inside = holds && (claim.usual || (containsSet(allowed, set) && hasThirdOf(kind, chord)));
  const { root } = chord;
  const kept = keptNames(chord, reading.key, tritoneLetterOf(kind));
  const notes = spellOnChord(chord, reading.key, spelledDegrees, kept);
  return chordScaleOn(
    ground,
    { kind: { ...kind, degrees: spelledDegrees }, root, notes, kept },
    {
      inside,
      move: moveTo({ kind, root }, chord.root, reading.key),
      code: codeOf(ground, kind, claim, { holds, inside }),
      instead: claim.instead,
    },
  );
}

/**
 * A scale on another root than the chord's: always outside. The chord keeps its own 1, 3, 5, 6 and 7 over it, a dominant its ♯9; no
 * other chord has one.
 */
export function movedScale(
  ground: Ground,
  kind: ScaleKind,
  root: NoteName,
  move: string,
  code: LadderReasonCode,
): ChordScale {
  const { chord, reading } = ground;
  const kept = chord.quality === 'dominant' ? keptNames(chord, reading.key, null) : ownNames(chord, reading.key);
  const notes = spellElsewhere(root, degreesElsewhere(kind));
  return chordScaleOn(ground, { kind, root, notes, kept }, { inside: false, move, code });
}
