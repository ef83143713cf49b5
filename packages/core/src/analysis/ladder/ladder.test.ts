import { describe, expect, test } from 'vitest';
import {
  degrees,
  formatNoteName,
  noteName,
  parseKey,
  type Chord,
  type ChordQuality,
  type Key,
  type NoteName,
} from '../../theory/index.ts';
import type { Reading, Role } from '../analysis.ts';
import type { ChordScale } from '../chord-scale.ts';
import { chordScalesFor } from './ladder.ts';

const SUFFIXES: Readonly<Record<string, readonly [ChordQuality, string]>> = {
  '': ['major', '1 3 5'],
  6: ['major', '1 3 5 6'],
  maj7: ['major', '1 3 5 7'],
  'maj7(#11)': ['major', '1 3 5 7 #11'],
  m: ['minor', '1 b3 5'],
  m7: ['minor', '1 b3 5 b7'],
  m6: ['minor', '1 b3 5 6'],
  'm(maj7)': ['minor', '1 b3 5 7'],
  m7b5: ['half-diminished', '1 b3 b5 b7'],
  dim7: ['diminished', '1 b3 b5 bb7'],
  7: ['dominant', '1 3 5 b7'],
  '7alt': ['dominant', '1 3 b7 b9 #9 #11 b13'],
  '7(b9,13)': ['dominant', '1 3 5 b7 b9 13'],
  '7(b9,b13)': ['dominant', '1 3 5 b7 b9 b13'],
  '7(#11)': ['dominant', '1 3 5 b7 #11'],
  '7(9,#11,b13)': ['dominant', '1 3 5 b7 9 #11 b13'],
  '+7': ['dominant', '1 3 #5 b7'],
  '7sus': ['suspended', '1 4 5 b7'],
  '7sus(b9)': ['suspended', '1 4 5 b7 b9'],
  '+maj7': ['augmented', '1 3 #5 7'],
};

const chordOf = (root: string, suffix: string): Chord => {
  const [quality, spelled] = SUFFIXES[suffix] as readonly [ChordQuality, string];
  return {
    kind: 'chord',
    root: noteName(root),
    quality,
    degrees: degrees(spelled),
    bass: null,
    suffix,
    symbol: root + suffix,
  };
};

const readingOf = (key: string, role: Role, target?: string, targetMode?: Key['mode']): Reading => ({
  key: parseKey(key) as Key,
  numeral: '',
  role,
  reason: { code: '', args: {} },
  target: target === undefined ? null : noteName(target),
  targetMode: targetMode ?? null,
});

const names = (notes: readonly NoteName[]): string => notes.map(formatNoteName).join(' ');
const titled = ({ scale, name }: ChordScale): string => `${formatNoteName(scale.root)} ${name}`;

describe('first rung: the function decides (common practice; reference section 6 where it names a function)', () => {
  test.each([
    ['C', 'maj7', 'C major', 'tonic', 'C Ionian'],
    ['C', '6', 'C major', 'tonic', 'C Ionian'],
    ['D', 'm7', 'C major', 'predominant', 'D Dorian'],
    ['E', 'm7', 'C major', 'tonic', 'E Phrygian'],
    ['F', 'maj7', 'C major', 'predominant', 'F Lydian'],
    ['G', '7', 'C major', 'dominant', 'G Mixolydian'],
    ['A', 'm7', 'C major', 'tonic', 'A Aeolian'],
    ['B', 'm7b5', 'C major', 'dominant', 'B Locrian'],
    ['F', '7', 'C major', 'predominant', 'F Lydian b7'],
    ['Bb', '7', 'C major', 'backdoor dominant', 'Bb Lydian b7'],
    ['Db', '7', 'C major', 'substitute dominant', 'Db Lydian b7'],
    ['C', '7', 'C major', 'tonic', 'C Mixolydian'],
    ['C', 'm', 'C minor', 'tonic', 'C melodic minor'],
    ['C', 'm6', 'C minor', 'tonic', 'C melodic minor'],
    ['C', 'm(maj7)', 'C minor', 'tonic', 'C melodic minor'],
    ['C', 'm7', 'C minor', 'tonic', 'C Dorian'],
    ['D', 'm7b5', 'C minor', 'predominant', 'D Locrian natural 2'],
    ['G', '7', 'C minor', 'dominant', 'G Mixolydian b9 b13'],
    ['G', '7alt', 'C minor', 'dominant', 'G altered'],
    ['G', '7alt', 'C major', 'dominant', 'G altered'],
    ['G', '7(b9,13)', 'C major', 'dominant', 'G half-whole diminished'],
    ['G', '7(b9,b13)', 'C major', 'dominant', 'G Mixolydian b9 b13'],
    ['G', '7(#11)', 'C major', 'dominant', 'G Lydian b7'],
    ['G', '+7', 'C major', 'dominant', 'G whole-tone'],
    ['G', '7sus', 'C major', 'dominant', 'G Mixolydian'],
    ['B', 'dim7', 'C minor', 'dominant', 'B whole-half diminished'],
    ['C', '+maj7', 'C major', 'tonic', 'C Lydian augmented'],
    ['C', 'maj7(#11)', 'C major', 'tonic', 'C Lydian'],
    ['Ab', 'maj7', 'C major', 'borrowed', 'Ab Lydian'],
  ] as const)('%s%s in %s (%s): %s', (root, suffix, key, role, expected) => {
    const [first] = chordScalesFor(chordOf(root, suffix), readingOf(key, role));
    expect(titled(first as ChordScale)).toBe(expected);
    expect(first?.inside).toBe(true);
  });

  test.each([
    ['A', 'D', 'minor', 'A Mixolydian b13'], // V/ii
    ['B', 'E', 'minor', 'B Mixolydian b9 b13'], // V/iii
    ['E', 'A', 'minor', 'E Mixolydian b9 b13'], // V/vi
    ['D', 'G', 'major', 'D Mixolydian'], // V/V
    ['C', 'F', 'major', 'C Mixolydian'], // V/IV
  ] as const)('%s7 to %s %s in C major: %s', (root, target, mode, expected) => {
    const [first] = chordScalesFor(chordOf(root, '7'), readingOf('C major', 'applied dominant', target, mode));
    expect(titled(first as ChordScale)).toBe(expected);
  });
});

const find = (ladder: readonly ChordScale[], id: string): ChordScale => {
  const found = ladder.find((each) => each.id === id);
  if (found === undefined) throw new Error(`no ${id} on the ladder`);
  return found;
};

describe('moves', () => {
  test('the raised tonic is the Lydian, outside, second rung, a fifth up', () => {
    const ladder = chordScalesFor(chordOf('F', 'maj7'), readingOf('F major', 'tonic'));
    expect(ladder[1]).toMatchObject({
      name: 'Lydian',
      move: 'up a fifth',
      inside: false,
      outsideness: { guideTonesLost: 0, notesOutsideKey: 1 },
    });
    expect(names(find(ladder, 'lydian@1').notes)).toBe('F G A B C D E');
  });

  // design, 'Spelling': the root moves where the scale would need a double accidental
  test.each([
    ['C', 'Gb Ab Bb Cb Db Eb Fb'],
    ['F', 'B C# D# E F# G# A'],
    ['Bb', 'E F# G# A B C# D'],
    ['Eb', 'A B C# D E F# G'],
  ])('the substitute over %s7 is %s', (root, expected) => {
    const ladder = chordScalesFor(chordOf(root, '7'), readingOf('C major', 'dominant', 'C', 'major'));
    const substitute = find(ladder, 'mixolydian@b5');
    expect(substitute).toMatchObject({ name: 'Mixolydian', move: 'tritone', inside: false });
    expect(names(substitute.notes)).toBe(expected);
    expect(names(substitute.missing)).toContain(root);
  });
});
