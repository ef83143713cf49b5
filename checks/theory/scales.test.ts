/**
 * Contents and spelling of every scale, in all keys.
 * Sources: the scale tables of the libraries tonal 6.4.2 and @musodojo/music-theory-data 28.0.0, neither of which knows
 * ours. Where a library spells otherwise than the trade writes it over a chord, the reason stands beside the name.
 */
import { getNoteNamesForRootAndNoteCollectionKey, noteCollections } from '@musodojo/music-theory-data';
import { Note, Scale, ScaleType } from 'tonal';
import { describe, expect, test } from 'vitest';
import {
  formatNoteName,
  modulo,
  noteName,
  notesOfScale,
  pitchClassOf,
  SCALE_KINDS,
  semitonesOf,
  type ScaleKind,
} from '@fivespan/core';

const KINDS: readonly ScaleKind[] = Object.values(SCALE_KINDS);
const kindOf = (id: string): ScaleKind => KINDS.find((each) => each.id === id) as ScaleKind;

/** The twelve keys and the other spellings in use. */
const ROOTS = 'C F Bb Eb Ab Db Gb Cb B E A D G C# F# D# G# A#'.split(' ');

type Spelling = 'same' | 'by function';

/** Our id, the library's name, whether it spells as we do. 'by function': ours has the dominant's #9, 3, b7 there. */
const IN_TONAL: readonly (readonly [string, string, Spelling])[] = [
  ['ionian', 'major', 'same'],
  ['dorian', 'dorian', 'same'],
  ['phrygian', 'phrygian', 'same'],
  ['lydian', 'lydian', 'same'],
  ['mixolydian', 'mixolydian', 'same'],
  ['aeolian', 'minor', 'same'],
  ['locrian', 'locrian', 'same'],
  ['melodic-minor', 'melodic minor', 'same'],
  ['dorian-b2', 'dorian b2', 'same'],
  ['lydian-augmented', 'lydian augmented', 'same'],
  ['lydian-b7', 'lydian dominant', 'same'],
  ['mixolydian-b13', 'mixolydian b6', 'same'],
  ['locrian-natural-2', 'locrian #2', 'same'],
  ['altered', 'altered', 'same'],
  ['harmonic-minor', 'harmonic minor', 'same'],
  ['locrian-natural-6', 'locrian 6', 'same'],
  ['ionian-augmented', 'major augmented', 'same'],
  ['dorian-s4', 'dorian #4', 'same'],
  ['mixolydian-b9-b13', 'phrygian dominant', 'same'],
  ['lydian-s2', 'lydian #9', 'same'],
  ['altered-bb7', 'ultralocrian', 'same'],
  ['harmonic-major', 'harmonic major', 'same'],
  ['melodic-minor-s4', 'lydian diminished', 'same'],
  ['half-whole', 'half-whole diminished', 'by function'],
  ['whole-half', 'diminished', 'same'],
  ['whole-tone', 'whole tone', 'by function'],
  ['mixolydian-b9-s9-b13', 'spanish heptatonic', 'by function'],
  ['bebop-dominant', 'bebop', 'same'],
  ['bebop-major', 'bebop major', 'same'],
  ['bebop-dorian', 'bebop minor', 'same'],
  ['bebop-melodic-minor', 'minor six diminished', 'by function'],
  ['bebop-locrian', 'bebop locrian', 'same'],
  ['blues', 'minor blues', 'same'],
];

const IN_MUSODOJO: readonly (readonly [string, keyof typeof noteCollections, Spelling])[] = [
  ['ionian', 'ionian', 'same'],
  ['dorian', 'dorian', 'same'],
  ['phrygian', 'phrygian', 'same'],
  ['lydian', 'lydian', 'same'],
  ['mixolydian', 'mixolydian', 'same'],
  ['aeolian', 'aeolian', 'same'],
  ['locrian', 'locrian', 'same'],
  ['melodic-minor', 'melodicMinor', 'same'],
  ['dorian-b2', 'dorianFlat2', 'same'],
  ['lydian-augmented', 'lydianAugmented', 'same'],
  ['lydian-b7', 'lydianDominant', 'same'],
  ['mixolydian-b13', 'mixolydianFlat6', 'same'],
  ['locrian-natural-2', 'aeolianFlat5', 'same'],
  ['altered', 'altered', 'by function'],
  ['harmonic-minor', 'harmonicMinor', 'same'],
  ['locrian-natural-6', 'locrianNatural6', 'same'],
  ['ionian-augmented', 'ionianSharp5', 'same'],
  ['dorian-s4', 'dorianSharp4', 'same'],
  ['mixolydian-b9-b13', 'phrygianDominant', 'same'],
  ['lydian-s2', 'lydianSharp2', 'same'],
  ['altered-bb7', 'superLocrianDoubleFlat7', 'same'],
  ['half-whole', 'halfWholeDiminished', 'same'],
  ['whole-half', 'wholeHalfDiminished', 'same'],
  ['whole-tone', 'wholeTone', 'by function'],
  ['blues', 'bluesPentatonic', 'same'],
];

const classesOf = (kind: ScaleKind): number[] => kind.degrees.map(semitonesOf).sort((a, b) => a - b);

/** Our notes on a root, or undefined where one would need three accidentals. */
function written(kind: ScaleKind, root: string): string[] | undefined {
  try {
    return notesOfScale({ kind, root: noteName(root) }).map(formatNoteName);
  } catch {
    return undefined;
  }
}

const ascii = (name: string): string =>
  name.replaceAll('♭', 'b').replaceAll('♯', '#').replaceAll('𝄫', 'bb').replaceAll('𝄪', '##');

describe('every scale against tonal', () => {
  test.each(IN_TONAL)('%s is its %s', (id, name, spelling) => {
    const kind = kindOf(id);
    const theirs = ScaleType.get(name).intervals;
    expect(theirs.length).toBeGreaterThan(4);
    let compared = 0;
    for (const root of ROOTS) {
      const notes = Scale.get(`${root} ${name}`).notes;
      const chromas = notes.map((each) => Note.chroma(each)).sort((a, b) => a - b);
      const ours = kind.degrees.map((each) => modulo(pitchClassOf(noteName(root)) + semitonesOf(each), 12));
      expect(ours.sort((a, b) => a - b)).toEqual(chromas);
      const spelled = written(kind, root);
      if (spelling === 'same' && spelled !== undefined) {
        expect(spelled).toEqual(notes);
        compared++;
      }
    }
    if (spelling === 'same') expect(compared).toBeGreaterThanOrEqual(12);
  });
});

describe('every scale against @musodojo/music-theory-data', () => {
  test.each(IN_MUSODOJO)('%s is its %s', (id, key, spelling) => {
    const kind = kindOf(id);
    expect(classesOf(kind)).toEqual([...noteCollections[key].integers]);
    if (spelling !== 'same') return;
    let compared = 0;
    for (const root of ROOTS) {
      const spelled = written(kind, root);
      const theirRoot = root.replace('b', '♭').replace('#', '♯') as Parameters<
        typeof getNoteNamesForRootAndNoteCollectionKey
      >[0];
      const notes = getNoteNamesForRootAndNoteCollectionKey(theirRoot, key).map(ascii);
      if (spelled === undefined || notes.length === 0) continue;
      // it ends on the octave
      expect(spelled).toEqual(notes.slice(0, spelled.length));
      compared++;
    }
    expect(compared).toBeGreaterThanOrEqual(12);
  });
});

describe('modes are rotations of their parent as tonal has it', () => {
  const PARENTS: Readonly<Record<string, string>> = {
    major: 'major',
    'melodic minor': 'melodic minor',
    'harmonic minor': 'harmonic minor',
    'harmonic major': 'harmonic major',
  };
  const modes = KINDS.filter((each) => each.family in PARENTS);

  test('all 28 are there, each once', () => {
    expect(new Set(modes.map((each) => `${each.family} ${each.mode}`)).size).toBe(28);
    expect(modes).toHaveLength(28);
  });

  test.each(modes.map((each) => [each.name, each] as const))('%s', (_name, kind) => {
    const parent = Scale.get(`C ${PARENTS[kind.family]}`).notes.map((each) => Note.chroma(each));
    const root = parent[(kind.mode as number) - 1] as number;
    const rotated = parent.map((each) => modulo(each - root, 12)).sort((a, b) => a - b);
    expect(classesOf(kind)).toEqual(rotated);
  });
});

test('every scale of the table is compared with a library or is a mode', () => {
  const compared = new Set([...IN_TONAL, ...IN_MUSODOJO].map(([id]) => id));
  expect(KINDS.filter((each) => !compared.has(each.id)).map((each) => each.family)).toEqual(
    Array.from({ length: 5 }, () => 'harmonic major'),
  );
});

test('a bebop scale is a mode with one note more, its passing note', () => {
  for (const kind of KINDS.filter((each) => each.family === 'bebop')) {
    const rest = kind.degrees.filter((each) => each !== kind.passing).map(semitonesOf);
    const mode = KINDS.find((each) => each.family !== 'bebop' && classesOf(each).join() === rest.join());
    expect(mode, kind.name).toBeDefined();
  }
});
