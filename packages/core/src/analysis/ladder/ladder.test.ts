import { describe, expect, test } from 'vitest';
import {
  formatNoteName,
  noteName,
  parseKey,
  pitchClassOf,
  readChordSymbol,
  type Chord,
  type Key,
  type NoteName,
} from '../../theory/index.ts';
import type { Reading, Role } from '../analysis.ts';
import type { ChordScale } from '../chord-scale.ts';
import { chordScalesFor } from './ladder.ts';
import { moveBetween } from './move.ts';
import { wordsOfLadderReason } from './reason-words.ts';

const chordOf = (root: string, suffix: string): Chord => {
  const read = readChordSymbol(root + suffix);
  if (!read.ok || read.value.kind !== 'chord') throw new Error(`no chord: ${root}${suffix}`);
  return read.value;
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

const firstOf = (spelled: string): string => spelled.split(' ')[0] as string;
const moved = (from: ChordScale | undefined, to: ChordScale | undefined): string | undefined =>
  moveBetween((from as ChordScale).set, (to as ChordScale).set);

const find = (ladder: readonly ChordScale[], id: string): ChordScale => {
  const found = ladder.find((each) => each.id === id);
  if (found === undefined) throw new Error(`no ${id} on the ladder`);
  return found;
};

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
    ['G', '9(#11,b13)', 'C major', 'dominant', 'G whole-tone'],
    ['G', '7(b13)', 'C major', 'dominant', 'G Mixolydian b13'],
    ['G', '7(b9,b13)', 'C minor', 'dominant', 'G Mixolydian b9 b13'],
    ['G', '7(#9,b13)', 'C minor', 'dominant', 'G altered'],
    ['G', '+7(#9)', 'C minor', 'dominant', 'G altered'],
    ['G', '7(#9)', 'C minor', 'dominant', 'G Mixolydian b9 #9 b13'],
    ['G', '13(b9)', 'C minor', 'dominant', 'G half-whole diminished'],
    ['G', '13', 'C major', 'dominant', 'G Mixolydian'],
    ['C', '13(#11)', 'C major', 'tonic', 'C Lydian b7'],
    ['D', 'm9b5', 'C minor', 'predominant', 'D Locrian natural 2'],
    ['E', 'm9', 'C major', 'tonic', 'E Aeolian'],
    ['F#', 'm7b5', 'C major', 'predominant', 'F# Locrian'],
    ['G', '7sus(b9)', 'C minor', 'dominant', 'G Phrygian'],
    ['G', '7sus(b9)', 'C major', 'dominant', 'G Dorian b2'],
    ['G', 'sus', 'C major', 'dominant', 'G Mixolydian'],
    ['C', '5', 'C major', 'tonic', 'C Ionian'],
    ['A', '5', 'C major', 'tonic', 'A Aeolian'],
    ['G', '', 'C major', 'dominant', 'G Mixolydian'],
    ['G', '', 'C minor', 'dominant', 'G Mixolydian b9 b13'],
    ['C', '/Bb', 'F major', 'tonic', 'C Mixolydian'],
    ['C', '/F#', 'C major', 'tonic', 'C Lydian'],
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

describe('over a ii–V–I in every key (common practice), spelled here by hand', () => {
  // ii, V, I, raised I, substitute; design, 'Spelling'
  test.each([
    ['C', 'D E F G A B C', 'G A B C D E F', 'C D E F G A B', 'C D E F# G A B', 'Db Eb F Gb Ab Bb Cb'],
    ['F', 'G A Bb C D E F', 'C D E F G A Bb', 'F G A Bb C D E', 'F G A B C D E', 'F# G# A# B C# D# E'],
    ['Bb', 'C D Eb F G A Bb', 'F G A Bb C D Eb', 'Bb C D Eb F G A', 'Bb C D E F G A', 'B C# D# E F# G# A'],
    ['Eb', 'F G Ab Bb C D Eb', 'Bb C D Eb F G Ab', 'Eb F G Ab Bb C D', 'Eb F G A Bb C D', 'E F# G# A B C# D'],
    ['Ab', 'Bb C Db Eb F G Ab', 'Eb F G Ab Bb C Db', 'Ab Bb C Db Eb F G', 'Ab Bb C D Eb F G', 'A B C# D E F# G'],
    ['Db', 'Eb F Gb Ab Bb C Db', 'Ab Bb C Db Eb F Gb', 'Db Eb F Gb Ab Bb C', 'Db Eb F G Ab Bb C', 'D E F# G A B C'],
    ['Gb', 'Ab Bb Cb Db Eb F Gb', 'Db Eb F Gb Ab Bb Cb', 'Gb Ab Bb Cb Db Eb F', 'Gb Ab Bb C Db Eb F', 'G A B C D E F'],
    ['B', 'C# D# E F# G# A# B', 'F# G# A# B C# D# E', 'B C# D# E F# G# A#', 'B C# D# E# F# G# A#', 'C D E F G A Bb'],
    ['E', 'F# G# A B C# D# E', 'B C# D# E F# G# A', 'E F# G# A B C# D#', 'E F# G# A# B C# D#', 'F G A Bb C D Eb'],
    ['A', 'B C# D E F# G# A', 'E F# G# A B C# D', 'A B C# D E F# G#', 'A B C# D# E F# G#', 'Bb C D Eb F G Ab'],
    ['D', 'E F# G A B C# D', 'A B C# D E F# G', 'D E F# G A B C#', 'D E F# G# A B C#', 'Eb F G Ab Bb C Db'],
    ['G', 'A B C D E F# G', 'D E F# G A B C', 'G A B C D E F#', 'G A B C# D E F#', 'Ab Bb C Db Eb F Gb'],
  ])('%s major', (tonic, dorian, mixolydian, ionian, lydian, substitute) => {
    const key = `${tonic} major`;
    const two = chordScalesFor(chordOf(firstOf(dorian), 'm7'), readingOf(key, 'predominant'));
    const five = chordScalesFor(chordOf(firstOf(mixolydian), '7'), readingOf(key, 'dominant', tonic, 'major'));
    const one = chordScalesFor(chordOf(tonic, 'maj7'), readingOf(key, 'tonic'));
    expect([two, five, one].map((ladder) => names((ladder[0] as ChordScale).notes))).toEqual([
      dorian,
      mixolydian,
      ionian,
    ]);
    expect([two, five, one].map((ladder) => ladder[0]?.move)).toEqual(['stay', 'stay', 'stay']);
    expect(names((one[1] as ChordScale).notes)).toBe(lydian);
    const substituted = five.find((each) => each.move === 'tritone') as ChordScale;
    expect(names(substituted.notes)).toBe(substitute);
    // it lacks the dominant's root and holds its natural 7
    const dominantRoot = pitchClassOf(noteName(firstOf(mixolydian)));
    const classes = substituted.notes.map(pitchClassOf);
    expect(classes).not.toContain(dominantRoot);
    expect(classes).toContain((dominantRoot + 11) % 12);
  });
});

describe('over a minor ii–V–i (common practice; reference section 7)', () => {
  test.each([
    ['C', 'D E F G Ab Bb C', 'G Ab Bb B Db Eb F', 'C D Eb F G A B'],
    ['F', 'G A Bb C Db Eb F', 'C Db Eb E Gb Ab Bb', 'F G Ab Bb C D E'],
    ['Bb', 'C D Eb F Gb Ab Bb', 'F Gb Ab A Cb Db Eb', 'Bb C Db Eb F G A'],
    ['Eb', 'F G Ab Bb Cb Db Eb', 'Bb Cb Db D Fb Gb Ab', 'Eb F Gb Ab Bb C D'],
    ['E', 'F# G# A B C D E', 'B C D D# F G A', 'E F# G A B C# D#'],
    ['A', 'B C# D E F G A', 'E F G G# Bb C D', 'A B C D E F# G#'],
    ['D', 'E F# G A Bb C D', 'A Bb C C# Eb F G', 'D E F G A B C#'],
    ['G', 'A B C D Eb F G', 'D Eb F F# Ab Bb C', 'G A Bb C D E F#'],
  ])('%s minor: Locrian natural 2, altered, melodic minor', (tonic, locrian, altered, melodic) => {
    const key = `${tonic} minor`;
    const [two] = chordScalesFor(chordOf(firstOf(locrian), 'm7b5'), readingOf(key, 'predominant'));
    const [five] = chordScalesFor(chordOf(firstOf(altered), '7alt'), readingOf(key, 'dominant', tonic, 'minor'));
    const [one] = chordScalesFor(chordOf(tonic, 'm6'), readingOf(key, 'tonic'));
    expect([two, five, one].map((each) => each?.name)).toEqual(['Locrian natural 2', 'altered', 'melodic minor']);
    expect([two, five, one].map((each) => names((each as ChordScale).notes))).toEqual([locrian, altered, melodic]);
    expect(moved(two, five)).toBe('up a minor third');
    expect(moved(five, one)).toBe('up a major third');
  });

  test('scales of different kinds are no move of one another', () => {
    const [one] = chordScalesFor(chordOf('C', 'm6'), readingOf('C minor', 'tonic'));
    const [home] = chordScalesFor(chordOf('C', 'maj7'), readingOf('C major', 'tonic'));
    expect(moveBetween((one as ChordScale).set, (home as ChordScale).set)).toBeUndefined();
  });
});

describe('chords no table holds take the nearest scale with their own notes', () => {
  test('Cmaj7(b9)', () => {
    const [first] = chordScalesFor(chordOf('C', 'maj7(b9)'), readingOf('C major', 'tonic'));
    expect(first).toMatchObject({ name: 'Ionian b9', inside: true, missing: [] });
    expect(names((first as ChordScale).notes)).toBe('C Db E F G A B');
  });
});

describe('the chord’s own alterations hold in every inside scale', () => {
  test('7(b9,13) gets no plain Mixolydian, inside or outside', () => {
    const ladder = chordScalesFor(chordOf('G', '7(b9,13)'), readingOf('C major', 'dominant', 'C', 'major'));
    expect(ladder.map((each) => each.id)).not.toContain('mixolydian@1');
    for (const each of ladder.filter(({ inside }) => inside)) {
      expect(names(each.notes).split(' ')).toEqual(expect.arrayContaining(['Ab', 'E']));
    }
  });
});

describe('why', () => {
  test.each([
    ['G', '7', 'mixolydian@1', 'leads down a fifth to a major chord'],
    [
      'G',
      '7(b9,13)',
      'half-whole@1',
      'leads down a fifth to a major chord; Mixolydian does not hold what the chord writes',
    ],
    ['G', '7', 'altered@1', 'colours a dominant; leaves out the chord’s D; outside the key: Ab Bb Db Eb'],
    [
      'G',
      '7',
      'mixolydian@b5',
      'the scale of the dominant a tritone away; leaves out the chord’s G D; outside the key: Db Eb Gb Ab Bb',
    ],
  ])('%s%s, %s: %s', (root, suffix, id, expected) => {
    const ladder = chordScalesFor(chordOf(root, suffix), readingOf('C major', 'dominant', 'C', 'major'));
    expect(wordsOfLadderReason(find(ladder, id).reason)).toBe(expected);
  });

  test('a code of another room has no words here', () => {
    expect(wordsOfLadderReason({ code: 'cadence', args: {} })).toBeUndefined();
  });
});

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

  test.each([
    ['C', 'm7', 'C minor', 'aeolian@1', 'stay'], // the natural minor is the plain scale of a minor key
    ['C', 'm7', 'C minor', 'dorian@1', 'up a fifth'],
    ['C', 'm', 'C minor', 'melodic-minor@1', 'melodic minor on the root'],
    ['D', 'm7', 'C major', 'dorian@1', 'stay'],
    ['D', 'm7', 'C major', 'phrygian@1', 'down a whole step'],
    ['F', 'maj7', 'C major', 'lydian@1', 'stay'],
    ['F', 'maj7', 'C major', 'ionian@1', 'down a fifth'],
    ['G', '7', 'C major', 'altered@1', 'melodic minor a half step up'],
    ['G', '7', 'C major', 'lydian-b7@1', 'melodic minor a fifth up'],
    ['G', '7', 'C major', 'half-whole@1', 'half-whole diminished'],
    ['G', '7', 'C major', 'bebop-dominant@1', 'add 7'],
    ['G', '7', 'C major', 'mixolydian@b2', 'up a half step'],
    ['G', '7', 'C major', 'mixolydian@7', 'down a half step'],
  ])('%s%s in %s, %s: %s', (root, suffix, key, id, move) => {
    const role = suffix === '7' ? 'dominant' : 'tonic';
    expect(find(chordScalesFor(chordOf(root, suffix), readingOf(key, role)), id).move).toBe(move);
  });

  // design, 'Spelling': the root takes the name whose scale has fewer accidentals
  test.each([
    ['C', 'F# G# A# B C# D# E'],
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

describe('spelling: a scale on the chord’s own root never moves (docs/spelling.md, c)', () => {
  const listed = (root: string, suffix: string, key: string, id: string): string =>
    names(find(chordScalesFor(chordOf(root, suffix), readingOf(key, 'dominant')), id).notes);

  test.each([
    ['Db', '7', 'Gb major', 'mixolydian-b13@1', 'Db Eb F Gb Ab A Cb'],
    ['C#', 'maj7', 'C# major', 'lydian@1', 'C# D# E# G G# A# B#'],
    ['Eb', '7alt', 'Ab minor', 'altered@1', 'Eb Fb Gb G A Cb Db'],
    ['Gb', '7alt', 'Cb major', 'altered@1', 'Gb G A Bb C D Fb'],
    ['G#', '7alt', 'C# minor', 'altered@1', 'G# A B B# D E F#'],
  ])('%s%s in %s, %s: %s', (root, suffix, key, id, expected) => {
    expect(listed(root, suffix, key, id)).toBe(expected);
  });

  test('the blues scale on F has A♭ and C♭', () => {
    const ladder = chordScalesFor(chordOf('F', '7'), readingOf('F major', 'tonic'));
    expect(names(find(ladder, 'blues@1').notes)).toBe('F Ab Bb Cb C Eb');
  });

  test('the ♯9 is as the symbol says where that reads, else the minor third', () => {
    expect(listed('Ab', '7(#9)', 'Db major', 'mixolydian-b9-s9-b13@1')).toBe('Ab A B C Db Eb Fb Gb');
    expect(listed('G', '7', 'C minor', 'half-whole@1')).toBe('G Ab Bb B C# D E F');
  });

  test('over B♭7 an A of the scale a half step down falls to A♭', () => {
    const ladder = chordScalesFor(chordOf('Bb', '7'), readingOf('Eb major', 'dominant', 'Eb', 'major'));
    const goals = ladder.flatMap(({ avoid }) => avoid.flatMap(({ resolvesTo }) => resolvesTo));
    const named = goals.map(({ note }) => names([note]));
    expect(named).toContain('Ab');
    expect(named).not.toContain('G#');
  });

  test('a diminished seventh takes fifth and seventh as the key has them: B♭dim7 in G is B♭ D♭ E G', () => {
    const [first] = chordScalesFor(chordOf('Bb', 'dim7'), readingOf('G major', 'predominant'));
    expect(names((first as ChordScale).chordTones)).toBe('Bb Db E G');
  });
});
