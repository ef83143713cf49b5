import {
  containsClass,
  degree,
  differenceOf,
  pitchClassOf,
  SCALE_KINDS,
  setOfChord,
  setOfKey,
  setOfScale,
  sizeOf,
  unionOf,
  type Chord,
  type Key,
  type PitchClassSet,
  type ScaleKind,
} from '../../theory/index.ts';
import type { Reading } from '../analysis.ts';
import type { ChordScale } from '../chord-scale.ts';
import { actingOf, chordFunctionOf, diatonicMode, holdsChord } from './chord-function.ts';
import { FUNCTION_SCALES, isPlayedOver, OUTSIDE_ON_DOMINANTS, type ChordFunction } from './function-scales.ts';
import { ownScaleKind } from './own-scale.ts';
import { moveTo } from './move.ts';
import { movedScale, ownRootScale, type Ground } from './rung.ts';
import { PLAIN_SETTING, type LadderSetting } from './setting.ts';
import { noteAway, simplestRoot } from './scale-spelling.ts';

/** Every kind of scale, in the table's order: the last resort of the ladder's order. */
const ALL_KINDS: readonly ScaleKind[] = Object.values(SCALE_KINDS);

interface Rung {
  readonly chordScale: ChordScale;
  /** In the order considered: the function's list, then the table, then the moved ones. */
  readonly rank: number;
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
  // by sound: a scale may hold notes that could not be written on this root
  const withBass =
    bass === null
      ? undefined
      : holding.find((kind) => containsClass(setOfScale({ kind, root: chord.root }), pitchClassOf(bass)));
  const first = withBass ?? holding[0];
  if (first !== undefined) return first;
  const outside = (kind: ScaleKind): number => sizeOf(differenceOf(setOfScale({ kind, root: chord.root }), allowed));
  const others = ALL_KINDS.filter(
    (kind) => kind.family !== 'blues' && kind.family !== 'bebop' && holdsChord(kind, chord),
  );
  const [nearest] = others.sort((a, b) => outside(a) - outside(b));
  return nearest ?? ownScaleKind(chord, listed[0] ?? SCALE_KINDS.mixolydian);
}

/** The modes a minor tonic takes from its neighbours. Common practice. */
const HEARD_MODES: readonly ScaleKind[] = [SCALE_KINDS.dorian, SCALE_KINDS.aeolian, SCALE_KINDS.phrygian];

/** A function's kinds, before them the mode that lacks the fewest of the notes heard around the chord. */
function heardFirst(listed: readonly ScaleKind[], chord: Chord, heard: PitchClassSet): readonly ScaleKind[] {
  if (heard === 0) return listed;
  const lacking = (kind: ScaleKind): number => sizeOf(differenceOf(heard, setOfScale({ kind, root: chord.root })));
  return [...HEARD_MODES.toSorted((a, b) => lacking(a) - lacking(b)), ...listed];
}

const TRITONE = degree('b5');
const SLIPS = [
  { move: 'up a half step', code: 'scale.side-slip-up', by: degree('b2') },
  { move: 'down a half step', code: 'scale.side-slip-down', by: degree('7') },
] as const;

function byOrder(a: Rung, b: Rung): number {
  const [left, right] = [a.chordScale, b.chordScale];
  if (left.inside !== right.inside) return left.inside ? -1 : 1;
  const byOutsideness =
    left.outsideness.guideTonesLost - right.outsideness.guideTonesLost ||
    left.outsideness.notesOutsideKey - right.outsideness.notesOutsideKey;
  return left.inside ? a.rank - b.rank || byOutsideness : byOutsideness || a.rank - b.rank;
}

/** Climbs the ladder anew; chordScalesFor remembers. */
function climb(chord: Chord, reading: Reading, setting: LadderSetting): readonly ChordScale[] {
  const chordSet = setOfChord(chord);
  const own = chordFunctionOf(chord, reading);
  const isOpen = setting.chordFunction !== null && (!own.endsWith('dominant') || own === 'Lydian dominant');
  const chordFunction = isOpen ? (setting.chordFunction as ChordFunction) : own;
  const ground: Ground = {
    chord,
    reading,
    chordSet,
    allowed: unionOf(setOfKey(reading.key), chordSet),
    acting: actingOf(chord, reading, chordFunction),
    chordFunction,
  };
  const listed = listedKinds(chord, reading.key, chordFunction);
  const { usual } = FUNCTION_SCALES[chordFunction];
  const first = firstKind(ground, heardFirst(listed, chord, setting.heard));

  const rungs: Rung[] = [];
  const seen = new Set<PitchClassSet>();
  const add = (chordScale: ChordScale): void => {
    if (seen.has(chordScale.set)) return;
    seen.add(chordScale.set);
    rungs.push({ chordScale, rank: rungs.length });
  };

  const [ownScale] = listed;
  const instead = ownScale === undefined || ownScale === first ? {} : { instead: ownScale.name };
  add(ownRootScale(ground, first, { listed: 0, usual: true, isFirst: true, ...instead }));
  if (setting.bluesTonic !== null) {
    const kind = SCALE_KINDS.blues;
    const move = moveTo({ kind, root: setting.bluesTonic }, chord.root, reading.key);
    add(movedScale(ground, kind, setting.bluesTonic, move, 'scale.blues'));
  }
  const isDominant = chord.quality === 'dominant';
  const others = [...listed, ...ALL_KINDS.filter((kind) => !listed.includes(kind))];
  for (const [index, kind] of others.entries()) {
    if (!isPlayedOver(kind, chord, chordFunction)) continue;
    const mayLoseNotes = kind.family === 'blues' || (isDominant && OUTSIDE_ON_DOMINANTS.includes(kind));
    if (!holdsChord(kind, chord) && !mayLoseNotes) continue;
    const place = index < listed.length ? index : undefined;
    add(ownRootScale(ground, kind, { listed: place, usual: index < usual, isFirst: false }));
  }
  if (isDominant) {
    const kind = SCALE_KINDS.mixolydian;
    const root = simplestRoot(noteAway(chord.root, TRITONE), kind.degrees);
    add(movedScale(ground, kind, root, 'tritone', 'scale.substitute'));
  }
  for (const { move, code, by } of SLIPS) {
    const root = simplestRoot(noteAway(chord.root, by), first.degrees);
    add(movedScale(ground, first, root, move, code));
  }
  const ordered = rungs.sort(byOrder).map((each) => each.chordScale);
  const blues = ordered.find(({ reason }) => reason.code === 'scale.blues');
  if (setting.bluesTonic === null || blues === undefined) return ordered;
  // in a blues its own scale comes second over I, IV and V, however far outside each of them it lies
  const [inside, ...rest] = ordered.filter((each) => each !== blues);
  return inside === undefined ? ordered : [inside, blues, ...rest];
}

/** Ladders already climbed, by what decides them. A chart asks for the same few again and again. */
const climbed = new Map<string, readonly ChordScale[]>();
const MOST_REMEMBERED = 4096;

/**
 * The ladder of a chord in its function: chord-scales from inside to outside, the function's own first. docs/chord-scales.md
 * states the rules.
 * @returns never empty; the first is inside; ids are unique; no two hold the same notes. Shared between calls: read only.
 * @example analysis.slots[1]!.chordScales[0]!.name // → 'Mixolydian', over the V7 of a major key
 */
export function chordScalesFor(
  chord: Chord,
  reading: Reading,
  setting: LadderSetting = PLAIN_SETTING,
): readonly ChordScale[] {
  const { key, role, target, targetMode } = reading;
  const ofChord = [chord.symbol, chord.root, chord.quality, chord.bass, chord.degrees.join(' ')];
  const decides = [
    ...ofChord,
    key.tonic,
    key.mode,
    role,
    target,
    targetMode,
    setting.chordFunction,
    setting.heard,
    setting.bluesTonic,
  ].join('|');
  let ladder = climbed.get(decides);
  if (ladder === undefined) {
    ladder = climb(chord, reading, setting);
    if (climbed.size >= MOST_REMEMBERED) climbed.clear();
    climbed.set(decides, ladder);
  }
  return ladder;
}
