import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  accidentalsOf,
  containsSet,
  degreeOnStep,
  degreeAbove,
  degrees,
  differenceOf,
  formatNoteName,
  noteAbove,
  ownNames,
  pitchClassOf,
  readChordSymbol,
  SCALE_KINDS,
  semitonesOf,
  setOfChord,
  setOfKey,
  setOfNotes,
  setOfScale,
  sizeOf,
  unionOf,
  usualKeys,
  type Chord,
  type Key,
  type NoteName,
  type ScaleKind,
} from '../../theory/index.ts';
import type { Reading, Role } from '../analysis.ts';
import type { ChordScale } from '../chord-scale.ts';
import { chordScalesFor } from './ladder.ts';
import { wordsOfLadderReason } from './reason-words.ts';

const SUFFIXES: readonly string[] = [
  '',
  ...'6 6/9 maj7 maj9 maj7(#11) maj7(#9,#11) maj7(b5) maj7(b9) (add9) (omit3)'.split(' '),
  ...'m m6 m6/9 m(maj7) m7 m9 m11 m13 m7(b9) m7(#5) m(b6)'.split(' '),
  ...'7 9 13 7(b9) 7(#9) 7(#11) 7(b13) 7(b9,13) 7(b9,b13) 7(#9,b13) 9(b13) 7(omit3)'.split(' '),
  ...'9(#11,b13) 13(b9,#11) 7(b5) 7(b5,b9) +7 +7(#9) +9 +7(b5,b9,#9) 7alt 7(b9,#9)'.split(' '),
  ...'m7b5 m9b5 m7b5(11) dim dim7 dim(maj7) + +maj7'.split(' '),
  ...'sus sus2 7sus 13sus 7sus(b9) 7sus2 maj7sus 5'.split(' '),
];

const ROLES: readonly Role[] = [
  'tonic',
  'predominant',
  'dominant',
  'applied predominant',
  'applied dominant',
  'substitute dominant',
  'backdoor predominant',
  'backdoor dominant',
  'passing diminished',
  'borrowed',
  'modal',
  'constant structure',
  'unexplained',
];

/** Degrees chords stand on. */
const PLACES = degrees('1 b2 2 b3 3 4 #4 5 b6 6 b7 7');

interface Case {
  readonly suffix: number;
  readonly place: number;
  readonly role: Role;
  readonly mode: Key['mode'];
  readonly target: number | null;
  readonly targetMode: Key['mode'] | null;
}

const cases = fc.record({
  suffix: fc.nat({ max: SUFFIXES.length - 1 }),
  place: fc.nat({ max: PLACES.length - 1 }),
  role: fc.constantFrom(...ROLES),
  mode: fc.constantFrom('major', 'minor'),
  target: fc.option(fc.nat({ max: PLACES.length - 1 })),
  targetMode: fc.option(fc.constantFrom('major', 'minor')),
}) as fc.Arbitrary<Case>;

/** Roots a scale can be spelled on exactly, whatever the scale: Cb to A# on the line of fifths. */
const isUsualRoot = (root: NoteName): boolean => root >= -7 && root <= 10;

/** The case in one of the twelve keys, or undefined where the chord itself cannot be spelled there, or on no usual root. */
function inKey(each: Case, key: Key): { chord: Chord; reading: Reading } | undefined {
  try {
    const place = (index: number): NoteName => noteAbove(key.tonic, PLACES[index] as (typeof PLACES)[number]);
    const root = place(each.place);
    const read = readChordSymbol(formatNoteName(root) + (SUFFIXES[each.suffix] as string));
    if (!read.ok || read.value.kind !== 'chord' || !isUsualRoot(root)) return undefined;
    const chord = read.value;
    const target = each.target === null ? null : place(each.target);
    const reason = { code: '', args: {} };
    return { chord, reading: { key, numeral: '', role: each.role, reason, target, targetMode: each.targetMode } };
  } catch {
    return undefined;
  }
}

const inTwelveKeys = (each: Case): { chord: Chord; reading: Reading }[] =>
  usualKeys(each.mode)
    .map((key) => inKey(each, key))
    .filter((one) => one !== undefined);

const RUNS = { seed: 20_261_125, numRuns: 600 } as const;

const law = (name: string, holds: (ladder: readonly ChordScale[], chord: Chord, reading: Reading) => void): void =>
  test(name, () => {
    fc.assert(
      fc.property(cases, fc.nat({ max: 11 }), (each, keyIndex) => {
        const one = inKey(each, usualKeys(each.mode)[keyIndex] as Key);
        if (one !== undefined) holds(chordScalesFor(one.chord, one.reading), one.chord, one.reading);
      }),
      RUNS,
    );
  });

law('the first rung is inside, and inside rungs come before outside ones', (ladder) => {
  const inside = ladder.map((each) => each.inside);
  expect(inside[0]).toBe(true);
  expect(inside).toEqual([...inside].sort((a, b) => Number(b) - Number(a)));
});

law('an inside scale holds every note of its chord, as it is named over it', (ladder, chord, reading) => {
  for (const each of ladder.filter(({ inside }) => inside)) {
    expect(containsSet(each.set, setOfChord(chord)), each.id).toBe(true);
    expect(each.missing).toEqual([]);
    expect(each.scale.root).toBe(chord.root);
    for (const note of ownNames(chord, reading.key)) expect(each.notes, each.id).toContain(note);
  }
});

law('a scale that holds the chord, by name its third, and stays in the key is inside', (ladder, chord, reading) => {
  const allowed = unionOf(setOfKey(reading.key), setOfChord(chord));
  const third = degreeOnStep(chord, 2);
  const kinds: readonly ScaleKind[] = Object.values(SCALE_KINDS);
  for (const each of ladder) {
    const kind = kinds.find(({ id }) => each.id === `${id}@1`);
    // Lydian ♯2 has the keys of a minor chord and is no scale for one
    if (third !== undefined && kind?.degrees.includes(third) !== true) continue;
    if (containsSet(each.set, setOfChord(chord)) && containsSet(allowed, each.set)) {
      expect(each.inside, each.id).toBe(true);
    }
  }
});

law(
  'every mode of the four seven-note families that holds the chord is on the ladder, and both diminished',
  (ladder, chord) => {
    const families = new Set([
      'major',
      'melodic minor',
      'harmonic minor',
      'harmonic major',
      'diminished',
      'whole-tone',
    ]);
    const sets = new Set(ladder.map((each) => each.set));
    const kinds: readonly ScaleKind[] = Object.values(SCALE_KINDS);
    for (const kind of kinds.filter(({ family }) => families.has(family))) {
      const set = setOfScale({ kind, root: chord.root });
      if (containsSet(set, setOfChord(chord))) expect(sets.has(set), kind.name).toBe(true);
    }
  },
);

law('chord tones, tensions and avoid notes are the scale, each once', (ladder) => {
  for (const each of ladder) {
    const parts = [...each.chordTones, ...each.tensions, ...each.avoid.map(({ note }) => note)];
    expect(parts.length).toBe(each.notes.length);
    expect(new Set(parts)).toEqual(new Set(each.notes));
    expect(setOfNotes(each.notes)).toBe(each.set);
    expect(sizeOf(each.set)).toBe(each.notes.length);
  }
});

law('every avoid note resolves by step, the nearest first, to a note of the chord', (ladder, chord) => {
  const chordSet = setOfChord(chord);
  for (const { note, resolvesTo } of ladder.flatMap((each) => each.avoid)) {
    expect(resolvesTo.length).toBeGreaterThan(0);
    const distances = resolvesTo.map(({ semitones }) => Math.abs(semitones));
    expect(distances).toEqual([...distances].sort((a, b) => a - b));
    for (const goal of resolvesTo) {
      expect([-2, -1, 1, 2]).toContain(goal.semitones);
      expect((pitchClassOf(note) + goal.semitones + 12) % 12).toBe(pitchClassOf(goal.note));
      expect(containsSet(chordSet, setOfNotes([goal.note]))).toBe(true);
    }
  }
});

law('outside rungs lie in the order of their outsideness', (ladder) => {
  const measured = ladder
    .filter((each) => !each.inside)
    .map(({ outsideness }) => outsideness.guideTonesLost * 100 + outsideness.notesOutsideKey);
  expect(measured).toEqual([...measured].sort((a, b) => a - b));
});

law('no scale needs a double accidental but for the chord’s own 1 3 5 6 7', (ladder, chord, reading) => {
  const own = new Set(ownNames(chord, reading.key));
  for (const each of ladder) {
    for (const note of each.notes) if (!own.has(note)) expect(Math.abs(accidentalsOf(note)), each.id).toBeLessThan(2);
  }
});

law('missing names what the scale takes from the chord', (ladder, chord) => {
  for (const each of ladder) {
    expect(setOfNotes(each.missing)).toBe(differenceOf(setOfChord(chord), each.set));
  }
});

law('ids are unique, no two rungs hold the same notes, every reason has words', (ladder) => {
  expect(new Set(ladder.map((each) => each.id)).size).toBe(ladder.length);
  expect(new Set(ladder.map((each) => each.set)).size).toBe(ladder.length);
  for (const each of ladder) expect(wordsOfLadderReason(each.reason), each.reason.code).toBeTruthy();
});

law(
  'over every dominant: altered, Lydian b7, half-whole, whole-tone, the substitute’s Mixolydian, both side-slips',
  (ladder, chord) => {
    if (chord.quality !== 'dominant') return;
    const ids = ladder.map((each) => each.id);
    for (const id of ['altered@1', 'lydian-b7@1', 'half-whole@1', 'whole-tone@1', 'mixolydian@b5']) {
      expect(ids).toContain(id);
    }
  },
);

/** A ladder as it must be in every key. */
const shown = ({ chord, reading }: { chord: Chord; reading: Reading }): unknown =>
  chordScalesFor(chord, reading).map((rung) => ({
    id: rung.id,
    name: rung.name,
    inside: rung.inside,
    move: rung.move,
    outsideness: rung.outsideness,
    code: rung.reason.code,
    notes: rung.notes.map((note) => semitonesOf(degreeAbove(chord.root, note))),
    avoid: rung.avoid.map(({ note }) => semitonesOf(degreeAbove(chord.root, note))),
  }));

test('every suffix is a chord', () => {
  for (const suffix of SUFFIXES) expect(readChordSymbol(`C${suffix}`).ok, suffix).toBe(true);
});

test('twelve keys agree: same rungs, order, moves; notes transposed by sound', () => {
  fc.assert(
    fc.property(cases, (each) => {
      const [home, ...others] = inTwelveKeys(each);
      if (home === undefined) return;
      const expected = shown(home);
      for (const other of others) expect(shown(other)).toEqual(expected);
    }),
    { ...RUNS, numRuns: 100 },
  );
});

law('scale and notes agree; a scale on the chord’s own root never moves to another name', (ladder, chord) => {
  for (const { scale, notes, id } of ladder) {
    expect(setOfScale(scale)).toBe(setOfNotes(notes));
    if (id.endsWith('@1')) expect(scale.root).toBe(chord.root);
  }
});
