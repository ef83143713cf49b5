import type { ChordScale } from '../analysis/index.ts';
import {
  accidentalsOf,
  degree,
  degreeOnStep,
  modulo,
  noteAbove,
  notesOfKey,
  pitchClassOf,
  spellingsOf,
  type Chord,
  type Degree,
  type Key,
  type NoteName,
} from '../theory/index.ts';
import type { BassNote } from './note.ts';

/** How freely the bass walks: 1 root and fifth, 2 chord tones, 3 scale and chromatic notes, 4 broken time as well. */
export type BassLevel = 1 | 2 | 3 | 4;

/** A note a freer bass may take inside a chord. */
export interface WalkingTone {
  readonly name: NoteName;
  readonly function: BassNote['function'];
  /** Integer; see COST. */
  readonly cost: number;
  /** How it must be left: by step where it is no chord tone; a chromatic one by half steps on, the way it came. */
  readonly leaving: 'free' | 'by step' | 'on up' | 'on down' | 'around up' | 'around down';
}

/** Integer costs beside the motion's own (walking-bass.ts). Our own. */
const COST = {
  /** On a strong beat third and fifth tell more than the root again; the seventh is best on its way down. */
  /** A chord that goes on into another bar is mostly heard from its root again. */
  first: { root: 0, bass: 0, third: 6, fifth: 5, seventh: 9 },
  strong: { root: 3, bass: 3, third: 0, fifth: 0, seventh: 4 },
  weak: { root: 6, bass: 6, third: 0, fifth: 0, seventh: 0 },
  scale: 7,
  avoid: 11,
  chromatic: 8,
} as const;

/**
 * A passing note as a player reads it: the key's own note where the key has one (F over D7 in G minor, though D altered has
 * E♯), else the natural, else as it came; undefined where that would take a double accidental. Common practice.
 */
function readable(note: NoteName, key: Key): NoteName | undefined {
  const spellings = spellingsOf(pitchClassOf(note), 1);
  return (
    notesOfKey(key).find((each) => spellings.includes(each)) ??
    spellings.find((each) => accidentalsOf(each) === 0) ??
    spellings.find((each) => each === note)
  );
}

/** The chord's third, or what is suspended for it, and its seventh or sixth. */
function chordTones(chord: Chord, fifth: NoteName): readonly (readonly [NoteName, 'third' | 'fifth' | 'seventh'])[] {
  const on = (step: number): Degree | undefined => degreeOnStep(chord, step);
  const third = on(2) ?? (chord.quality === 'suspended' ? (on(3) ?? on(1)) : undefined);
  const seventh = on(6) ?? (chord.degrees.includes(degree('6')) ? degree('6') : undefined);
  return [
    ...(third === undefined ? [] : [[noteAbove(chord.root, third), 'third'] as const]),
    [fifth, 'fifth'] as const,
    ...(seventh === undefined ? [] : [[noteAbove(chord.root, seventh), 'seventh'] as const]),
  ];
}

/** The half steps between scale notes a whole step apart, raised on the way up and lowered on the way down. */
function chromaticTones(notes: readonly NoteName[], key: Key): WalkingTone[] {
  const rising = [...notes].sort((a, b) => pitchClassOf(a) - pitchClassOf(b));
  return rising.flatMap((lower, index) => {
    const upper = rising[(index + 1) % rising.length] as NoteName;
    if (modulo(pitchClassOf(upper) - pitchClassOf(lower), 12) !== 2) return [];
    const ways = [
      [lower + degree('#1'), 'on up'],
      [upper + degree('b1'), 'on down'],
    ] as const;
    return ways.flatMap(([fifths, leaving]): WalkingTone[] => {
      const name = readable(fifths as NoteName, key);
      return name === undefined ? [] : [{ name, leaving, function: 'approach', cost: COST.chromatic }];
    });
  });
}

/**
 * What a bass of level 2 or more may play on a beat inside a chord: chord tones on strong beats, on weak ones from level 3 the
 * chord-scale and the half steps between too. A scale note is left by step. Common practice.
 * @param key the region's key, for the spelling of passing notes
 * @param ground the written bass, else the root
 * @param fifth the chord's own fifth
 */
export function walkingTones(
  chord: Chord,
  chordScale: ChordScale | undefined,
  key: Key,
  ground: NoteName,
  fifth: NoteName,
  beat: 'first' | 'strong' | 'weak',
  level: 2 | 3 | 4,
): WalkingTone[] {
  const costs = COST[beat];
  const own = chord.bass === null ? 'root' : 'bass';
  const tones: WalkingTone[] = [{ name: ground, function: own, cost: costs[own], leaving: 'free' }];
  for (const [written, role] of chordTones(chord, fifth)) {
    const name = Math.abs(accidentalsOf(written)) > 1 ? (readable(written, key) ?? written) : written;
    tones.push({ name, function: role, cost: costs[role], leaving: 'free' });
  }
  if (beat !== 'weak' || level === 2 || chordScale === undefined) return tones;
  const taken = new Set(tones.map(({ name }) => pitchClassOf(name)));
  const avoid = new Set(chordScale.avoid.map(({ note }) => pitchClassOf(note)));
  for (const note of chordScale.notes) {
    const name = readable(note, key);
    if (taken.has(pitchClassOf(note)) || name === undefined) continue;
    const cost = avoid.has(pitchClassOf(note)) ? COST.avoid : COST.scale;
    tones.push({ name, function: 'scale', cost, leaving: 'by step' });
  }
  return [...tones, ...chromaticTones(chordScale.notes, key)];
}
