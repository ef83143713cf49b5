import {
  containsSet,
  degree,
  differenceOf,
  guideTonesOf,
  noteAbove,
  notesOfChord,
  pitchClassOf,
  containsClass,
  SCALE_KINDS,
  setOfChord,
  setOfKey,
  setOfNotes,
  sizeOf,
  unionOf,
  type Chord,
  type Degree,
  type Key,
  type NoteName,
  type PitchClassSet,
  type ScaleKind,
} from '../../theory/index.ts';
import type { Reading, Reason } from '../analysis.ts';
import type { ChordScale, Outsideness } from '../chord-scale.ts';
import { chordFunctionOf, diatonicMode, holdsChord } from './chord-function.ts';
import { FUNCTION_SCALES, isPlayedOver, OUTSIDE_ON_DOMINANTS, type ChordFunction } from './function-scales.ts';
import { moveTo } from './move.ts';
import { noteFunctionsOf } from './note-function.ts';
import { ownScaleKind } from './own-scale.ts';
import { degreesOver, movedRoot, simplestRoot, spellExactly, spellPlainly } from './scale-spelling.ts';

/** Every kind of scale, in the table's order: the last resort of the ladder's order. */
const ALL_KINDS: readonly ScaleKind[] = Object.values(SCALE_KINDS);

/** A root's place above the chord's, as ids name it. */
const PLACES = ['1', 'b2', '2', 'b3', '3', '4', 'b5', '5', 'b6', '6', 'b7', '7'] as const;

/** What every rung of one ladder shares. */
interface Ground {
  readonly chord: Chord;
  readonly reading: Reading;
  readonly chordSet: PitchClassSet;
  /** What the region's key allows, and the chord's own notes. */
  readonly allowed: PitchClassSet;
  readonly isPredominant: boolean;
}

interface Rung {
  readonly chordScale: ChordScale;
  /** Place in the function's list, then in the table; smaller first. */
  readonly rank: number;
}

function outsidenessOf(ground: Ground, set: PitchClassSet): Outsideness {
  const { chord, allowed } = ground;
  const lost = guideTonesOf(chord).filter((each) => !containsClass(set, pitchClassOf(noteAbove(chord.root, each))));
  return { guideTonesLost: lost.length, notesOutsideKey: sizeOf(differenceOf(set, allowed)) };
}

function chordScaleOn(
  ground: Ground,
  spelled: { kind: ScaleKind; root: NoteName; notes: readonly NoteName[] },
  facts: { inside: boolean; move: string; reason: Reason },
): ChordScale {
  const { chord } = ground;
  const { kind, root, notes } = spelled;
  const set = setOfNotes(notes);
  const place = (pitchClassOf(root) - pitchClassOf(chord.root) + 12) % 12;
  return {
    id: `${kind.id}@${PLACES[place] as string}`,
    name: kind.name,
    scale: { kind, root },
    notes,
    set,
    outsideness: outsidenessOf(ground, set),
    ...noteFunctionsOf(chord, notes, ground.isPredominant),
    missing: notesOfChord(chord).filter((note) => !containsClass(set, pitchClassOf(note))),
    ...facts,
  };
}

/** A scale on the chord's own root. */
function ownRootRung(ground: Ground, kind: ScaleKind, rank: number, usual: boolean, code: string): ChordScale {
  const { chord, reading, chordSet, allowed } = ground;
  const spelledDegrees = degreesOver(chord, kind.degrees);
  const set = setOfNotes(spellExactly(chord.root, spelledDegrees));
  const holds = containsSet(set, chordSet);
  const inside = holds && (usual || containsSet(allowed, set));
  const root = inside ? chord.root : movedRoot(chord.root, spelledDegrees);
  const notes = inside ? spellExactly(root, spelledDegrees) : spellPlainly(root, spelledDegrees);
  const spelledKind = { ...kind, degrees: spelledDegrees };
  return chordScaleOn(
    ground,
    { kind: spelledKind, root, notes },
    {
      inside,
      move: moveTo({ kind, root }, chord.root, reading.key),
      reason: { code, args: { chord: chord.symbol, scale: kind.name } },
    },
  );
}

/** A scale on another root than the chord's. */
function movedRung(ground: Ground, kind: ScaleKind, root: NoteName, move: string, code: string): ChordScale {
  const notes = spellPlainly(root, kind.degrees);
  return chordScaleOn(
    ground,
    { kind, root, notes },
    { inside: false, move, reason: { code, args: { chord: ground.chord.symbol, scale: kind.name } } },
  );
}

function codeOf(kind: ScaleKind, inFunction: boolean, inside: boolean): string {
  if (kind.family === 'bebop') return 'scale.bebop';
  if (kind.family === 'blues') return 'scale.blues';
  if (inFunction) return 'scale.function-next';
  return inside ? 'scale.in-key' : 'scale.holds-chord';
}

/** The kinds a function lists, the key's plain mode where the function asks for it. */
function listedKinds(chord: Chord, key: Key, chordFunction: ChordFunction): readonly ScaleKind[] {
  if (chordFunction !== 'plain mode') return FUNCTION_SCALES[chordFunction].scales;
  const mode = diatonicMode(chord.root, key);
  return [...(mode === undefined ? [] : [mode]), SCALE_KINDS.mixolydian, SCALE_KINDS.dorian, SCALE_KINDS.ionian];
}

/**
 * The first rung's kind: the first of the function's own that holds the chord, with its written bass where one of them
 * does; else of all kinds the one with the fewest notes outside the key; else one made for the chord.
 */
function firstKind(ground: Ground, listed: readonly ScaleKind[]): ScaleKind {
  const { chord, allowed } = ground;
  const holding = listed.filter((kind) => holdsChord(kind, chord));
  const { bass } = chord;
  const withBass =
    bass === null
      ? undefined
      : holding.find((kind) =>
          kind.degrees.some((each) => pitchClassOf(noteAbove(chord.root, each)) === pitchClassOf(bass)),
        );
  const first = withBass ?? holding[0];
  if (first !== undefined) return first;
  const outside = (kind: ScaleKind): number =>
    sizeOf(differenceOf(setOfNotes(spellExactly(chord.root, kind.degrees)), allowed));
  const others = ALL_KINDS.filter(
    (kind) => kind.family !== 'blues' && kind.family !== 'bebop' && holdsChord(kind, chord),
  );
  const [nearest] = others.sort((a, b) => outside(a) - outside(b));
  return nearest ?? ownScaleKind(chord, listed[0] ?? SCALE_KINDS.mixolydian);
}

const TRITONE = degree('b5');
const SLIPS = [
  { move: 'up a half step', code: 'scale.side-slip-up', by: degree('b2') },
  { move: 'down a half step', code: 'scale.side-slip-down', by: degree('7') },
] as const;

/** Note names a step away that may be past what can be written come back enharmonically. */
function noteAway(root: NoteName, by: Degree): NoteName {
  return spellExactly(root, [by])[0] as NoteName;
}

function byOrder(a: Rung, b: Rung): number {
  const [left, right] = [a.chordScale, b.chordScale];
  if (left.inside !== right.inside) return left.inside ? -1 : 1;
  const byOutsideness =
    left.outsideness.guideTonesLost - right.outsideness.guideTonesLost ||
    left.outsideness.notesOutsideKey - right.outsideness.notesOutsideKey;
  return left.inside ? a.rank - b.rank || byOutsideness : byOutsideness || a.rank - b.rank;
}

/**
 * The ladder of a chord in its function: chord-scales from inside to outside, the function's own first. docs/chord-scales.md
 * states the rules.
 * @returns never empty; the first is inside; ids are unique; no two hold the same notes.
 * @example chordScalesFor(g7, readingOf(V7 of C major)).map((each) => each.name) // → ['Mixolydian', …, 'altered', …]
 */
export function chordScalesFor(chord: Chord, reading: Reading): ChordScale[] {
  const chordSet = setOfChord(chord);
  const ground: Ground = {
    chord,
    reading,
    chordSet,
    allowed: unionOf(setOfKey(reading.key), chordSet),
    isPredominant: reading.role === 'predominant' || reading.role === 'applied predominant',
  };
  const chordFunction = chordFunctionOf(chord, reading);
  const listed = listedKinds(chord, reading.key, chordFunction);
  const { usual } = FUNCTION_SCALES[chordFunction];
  const first = firstKind(ground, listed);

  const rungs: Rung[] = [];
  const seen = new Set<PitchClassSet>();
  const add = (chordScale: ChordScale, rank: number): void => {
    if (seen.has(chordScale.set)) return;
    seen.add(chordScale.set);
    rungs.push({ chordScale, rank });
  };

  const functionCode = `function.${chordFunction.replaceAll(' ', '-')}`;
  add(ownRootRung(ground, first, 0, true, functionCode), 0);
  const isDominant = chord.quality === 'dominant';
  const others = [...listed, ...ALL_KINDS.filter((kind) => !listed.includes(kind))];
  for (const [index, kind] of others.entries()) {
    if (!isPlayedOver(kind, chord, chordFunction)) continue;
    const mayLoseNotes = kind.family === 'blues' || (isDominant && OUTSIDE_ON_DOMINANTS.includes(kind));
    if (!holdsChord(kind, chord) && !mayLoseNotes) continue;
    const isListed = index < listed.length;
    const rung = ownRootRung(ground, kind, index + 1, isListed && index < usual, '');
    const reason = { ...rung.reason, code: codeOf(kind, isListed, rung.inside) };
    add({ ...rung, reason }, index + 1);
  }
  if (isDominant) {
    const kind = SCALE_KINDS.mixolydian;
    const root = movedRoot(noteAway(chord.root, TRITONE), kind.degrees);
    add(movedRung(ground, kind, root, 'tritone', 'scale.substitute'), 100);
  }
  for (const [index, { move, code, by }] of SLIPS.entries()) {
    const root = simplestRoot(noteAway(chord.root, by), first.degrees);
    add(movedRung(ground, first, root, move, code), 101 + index);
  }
  return rungs.sort(byOrder).map((each) => each.chordScale);
}
