import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Analysis } from '../analysis/index.ts';
import { beatTicksOf, transposeChartBy } from '../chart/index.ts';
import { analyse, chordToneDegrees, NO_ANALYSIS_PINS } from '../analysis/index.ts';
import { randomSource } from '../random.ts';
import {
  accidentalsOf,
  degree,
  formatNoteName,
  midiOf,
  noteAbove,
  ownNames,
  noteName,
  parseKey,
  pitchClassOf,
  typeset,
  type Key,
  type NoteName,
} from '../theory/index.ts';
import { approachesTo, type Approach } from './approach-note.ts';
import { analysisOf, anyChartText, inventedChart } from './invented-plan.ts';
import { wordsOfBassReason } from './bass-reason-words.ts';
import { HIGHEST_BASS, LOWEST_BASS } from './bass-line.ts';
import type { BassNote } from './note.ts';
import { walkBass } from './walking-bass.ts';

const lineOf = (text: string, seed = 1): BassNote[] => walkBass(analysisOf(text), randomSource(seed, 'bass'));
const namesOf = (notes: readonly BassNote[]): string => notes.map((note) => formatNoteName(note.pitch.name)).join(' ');
const functionsOf = (notes: readonly BassNote[]): string => notes.map((note) => note.function).join(' ');
const FORCED: fc.Parameters<unknown> = { seed: 20_261_125, numRuns: 100 };

/** The rules of level 1, stated anew; empty where a line keeps them. */
function faultsOf(analysis: Analysis, notes: readonly BassNote[]): string[] {
  const faults: string[] = [];
  for (const { played, chord } of analysis.slots) {
    const own = notes.filter((note) => note.slotIndex === played.index);
    const say = (what: string): number => faults.push(`slot ${played.index} (${played.slot.chord.symbol}): ${what}`);
    if (chord === null) {
      if (own.length > 0) say('plays over N.C.');
      continue;
    }
    const ground = chord.bass ?? chord.root;
    const following = analysis.slots[played.index + 1]?.chord ?? null;
    const changes = following !== null && following.symbol !== chord.symbol;
    const beats = (played.endTicks - played.startTicks) / beatTicksOf(played.playedBar.bar.meter);
    if (own.length !== Math.ceil(beats)) say(`${own.length} notes for ${beats} beats`);
    let tick = played.startTicks;
    for (const [beat, note] of own.entries()) {
      if (note.startTicks !== tick) say('leaves a gap or overlaps');
      tick += note.durationTicks;
      const key = midiOf(note.pitch);
      if (key < 29 || key > 52) say(`${key} is no key for a left hand's bass`);
      const last = beat === own.length - 1;
      const sound = pitchClassOf(note.pitch.name);
      if (beat > 0 && last && changes) {
        const next = notes.find((each) => each.slotIndex === played.index + 1) as BassNote;
        const way = midiOf(next.pitch) - key;
        if (note.function !== 'approach') say('does not approach');
        if (![1, -1, 2, -2, 5, -7].includes(way)) say(`approaches by ${way} semitones`);
        if (key === midiOf((own[beat - 1] as BassNote).pitch)) say('stands still before a change');
        const isOwn = ownNames(chord, analysis.slots[played.index]!.reading.key).includes(note.pitch.name);
        if (!isOwn && Math.abs(accidentalsOf(note.pitch.name)) > 1 && Math.abs(way) <= 2)
          say('is spelled with a double accidental');
      } else if (played.index === analysis.slots.length - 1) {
        if (last && sound !== pitchClassOf(ground)) say('does not end on its ground');
      } else if (beat % 2 === 0) {
        if (sound !== pitchClassOf(ground)) say(`beat ${beat + 1} is not its ground`);
      } else if (note.function === 'approach') say('approaches too early');
    }
    if (tick !== played.endTicks) say('does not fill its time');
  }
  return faults;
}

describe('walkBass', () => {
  it('alternates root and fifth and approaches the next root', () => {
    const line = lineOf('| Dm7 | G7 | Cmaj7 | % |');
    expect(functionsOf(line)).toBe(
      'root fifth root approach root fifth root approach root fifth root fifth root root fifth root',
    );
    expect(namesOf(line.slice(0, 3))).toBe('D A D');
    expect(namesOf(line.slice(8))).toBe('C G C G C C G C');
  });

  it("takes the chord's own fifth: b5, #5, and the b5 of alt", () => {
    expect(namesOf(lineOf('| Bm7b5 | % |').slice(0, 4))).toBe('B F B F');
    expect(namesOf(lineOf('| C+7 | % |').slice(0, 4))).toBe('C G# C G#');
    expect(namesOf(lineOf('| Calt | % |').slice(0, 4))).toBe('C Gb C Gb');
  });

  it('has root and approach over two beats, the root alone over one', () => {
    expect(functionsOf(lineOf('| Dm7 G7 | Cmaj7 |'))).toBe('root approach root approach root root fifth root');
    expect(namesOf(lineOf('| Dm7 Em7 Fmaj7 G7 |'))).toBe('D E F G');
  });

  it('puts the written bass on the strong beats and lets nobody play over N.C.', () => {
    const slash = lineOf('| C/E | Fmaj7 |');
    expect(functionsOf(slash.slice(0, 4))).toBe('bass fifth bass approach');
    expect(namesOf(slash.slice(0, 3))).toBe('E G E');
    expect(namesOf(lineOf('| C7/G | N.C. |'))).toBe('G C G C');
    expect(lineOf('| Dm7 | N.C. | G7 |').map((note) => note.slotIndex)).toEqual([0, 0, 0, 0, 2, 2, 2, 2]);
  });

  it('does not stand still in three: the octave keeps root and root apart', () => {
    const keys = lineOf('meter: 3/4\n| Gmaj7 | % | % | % |').map((note) => midiOf(note.pitch));
    expect(keys.every((key, index) => index === 0 || key !== keys[index - 1])).toBe(true);
  });

  it('walks dotted beats in compound metres and five in five', () => {
    const twelve = lineOf('meter: 12/8\n| Dm7 | G7 |');
    expect(twelve.map((note) => note.durationTicks)).toEqual(Array(8).fill(1440));
    expect(functionsOf(lineOf('meter: 5/4\n| Dm7 | G7 |').slice(0, 5))).toBe('root fifth root fifth approach');
  });

  it.each([
    // goal, key, half step below, half step above. Common practice: leading note from below; from above the key's own
    // note, else the natural, else the flat second
    ['Bb', 'Bb major', 'A', 'B'],
    ['C', 'F major', 'B', 'Db'],
    ['F', 'Bb major', 'E', 'Gb'],
    ['B', 'G major', 'A#', 'C'],
    ['F#', 'E major', 'E#', 'G'],
    ['G#', 'E major', 'G', 'A'],
    ['Cb', 'Gb major', 'Bb', 'C'],
    ['Db', 'Ab major', 'C', 'D'],
  ])('spells the half steps into %s in %s as %s and %s', (goal, keyName, below, above) => {
    const [first, second] = approachesTo(noteName(goal), parseKey(keyName) as Key, []);
    expect([first, second].map((each) => formatNoteName((each as Approach).name))).toEqual([below, above]);
  });

  it('names what leads on by its goal, not as a tension of the chord it leaves: G flat into F over C7', () => {
    const names = new Set<string>();
    for (let seed = 0; seed < 30; seed++) {
      const line = walkBass(analysisOf('key: F major\n| C7 | F7 | Gm7 | C7 |\n'), randomSource(seed, 'bass'), {
        level: 2,
      });
      for (const note of line) if (note.function === 'approach') names.add(formatNoteName(note.pitch.name));
    }
    // the half steps over F, over G and over C, and no F sharp or C sharp but as a leading note from below
    expect(names).toContain('Gb');
    expect(names).toContain('Db');
    expect(names).not.toContain('C#');
  });

  it('leads into any written bass by its dominant, without a double accidental', () => {
    for (const [goal, dominant] of [
      ['Eb', 'Bb'],
      ['E#', 'B#'],
      ['Cb', 'Gb'],
      ['B#', 'G'],
      ['B##', 'Ab'],
      ['Fbb', 'Bb'],
    ] as const) {
      const last = approachesTo(noteName(goal), parseKey('Eb major') as Key, []).at(-1) as Approach;
      expect(last.kind).toBe('dominant');
      expect(formatNoteName(last.name), goal).toBe(dominant);
    }
  });

  it('keeps every rule over any chords in any metre', () => {
    fc.assert(
      fc.property(anyChartText, fc.nat(1000), (text, seed) => {
        const analysis = analysisOf(text);
        expect(faultsOf(analysis, walkBass(analysis, randomSource(seed, 'bass')))).toEqual([]);
      }),
      FORCED,
    );
  });

  it('plays the same beats and functions in all twelve keys, and transposed roots', () => {
    const chart = inventedChart('key: F major\n| Gm7 | C7 | Fmaj7 | Am7b5 D7(b9) |');
    const home = walkBass(analyse(chart, NO_ANALYSIS_PINS), randomSource(3, 'bass'));
    for (const interval of ['b2', '2', 'b3', '3', '4', 'b5', '5', 'b6', '6', 'b7', '7'].map(degree)) {
      const moved = walkBass(analyse(transposeChartBy(chart, interval), NO_ANALYSIS_PINS), randomSource(3, 'bass'));
      expect(functionsOf(moved)).toBe(functionsOf(home));
      const roots = (notes: readonly BassNote[]): NoteName[] =>
        notes.filter((note) => note.function !== 'approach').map((note) => note.pitch.name);
      const sounds = (names: readonly NoteName[]): number[] => names.map(pitchClassOf);
      expect(sounds(roots(moved))).toEqual(sounds(roots(home).map((name) => noteAbove(name, interval))));
    }
  });

  it('says in words what every note is for', () => {
    const analysis = analysisOf('| Dm7 | G7 | C/E | Bbmaj7 | A7 | Dm7 | % |');
    for (const level of [1, 2, 3] as const) {
      for (const { why, pitch } of walkBass(analysis, randomSource(2, 'bass'), { level })) {
        const words = wordsOfBassReason(why);
        expect(words).not.toMatch(/undefined/u);
        expect(words.startsWith(typeset(formatNoteName(pitch.name)))).toBe(true);
      }
    }
    expect(wordsOfBassReason({ code: 'bass.root', args: { note: 'Bb', chord: 'Bb7' } })).toBe('B♭ is the root of B♭7');
    expect(() => wordsOfBassReason({ code: 'chorus.tension', args: {} })).toThrow(RangeError);
  });

  it('is the same for the same seed', () => {
    expect(lineOf('| Dm7 | G7 | Cmaj7 | A7 |', 7)).toEqual(lineOf('| Dm7 | G7 | Cmaj7 | A7 |', 7));
  });

  it('finds rules broken where a line is moved by a semitone', () => {
    const analysis = analysisOf('| Dm7 | G7 | Cmaj7 | A7 |');
    const line = walkBass(analysis, randomSource(1, 'bass'));
    const broken = line.map((note, index) =>
      index === 4 ? { ...note, pitch: { ...note.pitch, name: noteAbove(note.pitch.name, degree('#1')) } } : note,
    );
    expect(faultsOf(analysis, line)).toEqual([]);
    expect(faultsOf(analysis, broken)).not.toEqual([]);
  });
});

describe.each([2, 3] as const)('walkBass, level %i', (level) => {
  /** The rules of the freer levels, stated anew; empty where a line keeps them. */
  function freeFaults(analysis: Analysis, notes: readonly BassNote[]): string[] {
    const faults: string[] = [];
    const keyOf = (note: BassNote): number => midiOf(note.pitch);
    for (const [index, note] of notes.entries()) {
      const slot = analysis.slots[note.slotIndex] as Analysis['slots'][number];
      const chord = slot.chord as NonNullable<typeof slot.chord>;
      const say = (what: string): number => faults.push(`note ${index} over ${chord.symbol}: ${what}`);
      const own = notes.filter((each) => each.slotIndex === note.slotIndex);
      const beat = own.indexOf(note);
      const sound = pitchClassOf(note.pitch.name);
      const before = notes[index - 1];
      const next = notes[index + 1];
      const follows = before !== undefined && before.startTicks + before.durationTicks === note.startTicks;
      if (beat === 0 && sound !== pitchClassOf(chord.bass ?? chord.root)) say('does not begin on its ground');
      if (follows && keyOf(before) === keyOf(note)) say('stands still');
      if (keyOf(note) < LOWEST_BASS || keyOf(note) > HIGHEST_BASS) say('is out of range');
      if (beat > 0 && beat % 2 === 0 && note.function !== 'approach' && note.function !== 'enclosure') {
        const tones = new Set(chordToneDegrees(chord).map((each) => pitchClassOf(noteAbove(chord.root, each))));
        const fifth = pitchClassOf(noteAbove(chord.root, degree('b5')));
        const isGround = chord.bass !== null && sound === pitchClassOf(chord.bass);
        const impliedFifth =
          note.function === 'fifth' && (sound === fifth || sound === pitchClassOf(noteAbove(chord.root, degree('5'))));
        if (!tones.has(sound) && !isGround && !impliedFifth) say('is no chord tone on a strong beat');
      }
      if (note.function === 'scale') {
        const scale = slot.chordScales[0]?.notes ?? [];
        if (!scale.some((each) => pitchClassOf(each) === sound)) say('is not in the chord-scale');
        const goesOn = next !== undefined && next.startTicks === note.startTicks + note.durationTicks;
        if (!goesOn || Math.abs(keyOf(next) - keyOf(note)) > 2) say('does not leave a scale note by step');
      }
      if (note.why.code === 'bass.passing') {
        const come = before === undefined ? 0 : keyOf(note) - keyOf(before);
        const go = next === undefined ? 0 : keyOf(next) - keyOf(note);
        if (level === 2 || Math.abs(come) !== 1 || come !== go) say('is no chromatic passing note');
      }
      const last = beat > 0 && beat === own.length - 1;
      const following = analysis.slots[note.slotIndex + 1]?.chord;
      const changes = following != null && following.symbol !== chord.symbol;
      if (last && changes) {
        if (![1, -1, 2, -2, 5, -7].includes(keyOf(next as BassNote) - keyOf(note))) say('does not approach');
      } else if (note.function === 'approach' && note.why.code !== 'bass.passing') say('approaches nothing');
      if (Math.abs(accidentalsOf(note.pitch.name)) > 1 && note.function !== 'root' && note.function !== 'bass') {
        if (note.function !== 'approach' && note.function !== 'fifth') say('has a double accidental');
      }
    }
    return faults;
  }
  const freely = (analysis: Analysis, seed: number): BassNote[] =>
    walkBass(analysis, randomSource(seed, 'bass'), { level });

  it('keeps its rules over any chords in any metre', () => {
    fc.assert(
      fc.property(anyChartText, fc.nat(1000), (text, seed) => {
        const analysis = analysisOf(text);
        expect(freeFaults(analysis, freely(analysis, seed))).toEqual([]);
      }),
      { ...FORCED, numRuns: 40 },
    );
  });

  it('has the same beats as level 1, and walks through more notes', () => {
    const analysis = analysisOf('key: F major\n| Gm7 | C7 | Fmaj7 | Dm7 | Gm7 | C7 | Fmaj7 | % |');
    const [plain, free] = [walkBass(analysis, randomSource(1, 'bass')), freely(analysis, 1)];
    expect(free.map((note) => note.startTicks)).toEqual(plain.map((note) => note.startTicks));
    const kinds = new Set(free.map((note) => note.function));
    for (const kind of ['root', 'third', 'approach', level === 2 ? 'seventh' : 'scale']) expect(kinds).toContain(kind);
    const steps = (notes: readonly BassNote[]): number =>
      notes.filter(
        (note, at) => at > 0 && Math.abs(midiOf(note.pitch) - midiOf((notes[at - 1] as BassNote).pitch)) <= 4,
      ).length;
    expect(steps(free)).toBeGreaterThan(steps(plain));
  });
});
