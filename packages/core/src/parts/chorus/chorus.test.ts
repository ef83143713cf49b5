import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { MINOR_PENTATONIC } from '../../hand/index.ts';
import type { Plan } from '../../plan/index.ts';
import { randomSource } from '../../random.ts';
import { formatNoteName, midi, midiOf, noteName, pitchAt, type NoteName } from '../../theory/index.ts';
import { anyChartText, planOf, withMinorPentatonic } from '../invented-plan.ts';
import {
  CHORUS_LEVELS,
  chorusFaults,
  improviseChorus,
  phrasesOf,
  wordsOfChorusReason,
  type ChorusLevel,
  type ChorusNote,
} from './index.ts';
import type { ChorusFaultCode } from './chorus-faults.ts';

const LEVELS = CHORUS_LEVELS;
const TUNE = 'key: F major\nA:\n| Gm7 | C7 | Fmaj7 | Dm7 | Gm7 C7 | Am7b5 D7(b9) | Gm7 C7alt | Fmaj7 |\n';
const chorusOf = (plan: Plan, seed: number, level: ChorusLevel = 1): ChorusNote[] =>
  improviseChorus(plan, { level, random: randomSource(seed, 'chorus') });

describe('improviseChorus', () => {
  it('keeps every rule over any chords in any metre, at every level', () => {
    fc.assert(
      fc.property(anyChartText, fc.constantFrom(...LEVELS), fc.nat(10_000), (text, level, seed) => {
        const plan = planOf(text, level);
        expect(chorusFaults(plan, chorusOf(plan, seed, level))).toEqual([]);
      }),
      { seed: 20_261_125, numRuns: 40 },
    );
  });

  it('always finds something to play where the hand has positions for four bars', () => {
    const plan = planOf(TUNE);
    for (let seed = 0; seed < 100; seed++) expect(chorusOf(plan, seed).length).toBeGreaterThan(12);
  });

  it.each([
    '| Fm7 |',
    '| Fm7 | Bb7 |',
    'meter: 3/4\n| Fm7 | Bb7 |',
    'meter: 2/4\n| Fm7 | Bb7 | Ebmaj7 | % |',
    'meter: 6/8\n| Fm7 | Bb7 |',
    'meter: 3/8\n| Fm7 | Bb7 | Ebmaj7 | % |',
  ])('plays something however short the changes are: %s', (text) => {
    for (const level of LEVELS) {
      const plan = planOf(`${text}\n`, level);
      for (let seed = 0; seed < 30; seed++) expect(chorusOf(plan, seed, level).length).toBeGreaterThanOrEqual(4);
    }
  });

  it.each(['C', 'F', 'Bb', 'Eb', 'Ab', 'Db', 'Gb', 'B', 'E', 'A', 'D', 'G'])('keeps every rule in %s', (tonic) => {
    const names: Readonly<Record<string, readonly string[]>> = {
      C: ['Dm7', 'G7', 'Cmaj7'],
      F: ['Gm7', 'C7', 'Fmaj7'],
      Bb: ['Cm7', 'F7', 'Bbmaj7'],
      Eb: ['Fm7', 'Bb7', 'Ebmaj7'],
      Ab: ['Bbm7', 'Eb7', 'Abmaj7'],
      Db: ['Ebm7', 'Ab7', 'Dbmaj7'],
      Gb: ['Abm7', 'Db7', 'Gbmaj7'],
      B: ['C#m7', 'F#7', 'Bmaj7'],
      E: ['F#m7', 'B7', 'Emaj7'],
      A: ['Bm7', 'E7', 'Amaj7'],
      D: ['Em7', 'A7', 'Dmaj7'],
      G: ['Am7', 'D7', 'Gmaj7'],
    };
    const [ii, five, one] = names[tonic] as readonly [string, string, string];
    for (const level of LEVELS) {
      const plan = planOf(
        `key: ${tonic} major\nA:\n| ${ii} | ${five} | ${one} | % | ${ii} ${five} | ${one} |\n`,
        level,
      );
      for (let seed = 0; seed < 10; seed++) expect(chorusFaults(plan, chorusOf(plan, seed, level))).toEqual([]);
    }
  });

  it('is the same for the same seed and another for another', () => {
    const plan = planOf(TUNE, 2);
    expect(chorusOf(plan, 5, 2)).toEqual(chorusOf(plan, 5, 2));
    const lines = Array.from({ length: 20 }, (_, seed) =>
      JSON.stringify(chorusOf(plan, seed, 2).map((note) => [note.startTicks, midiOf(note.pitch)])),
    );
    expect(new Set(lines).size).toBe(20);
  });

  it('breathes: phrases of four notes or more with a quarter of silence between, at most six bars', () => {
    const plan = planOf(TUNE, 3);
    for (let seed = 0; seed < 40; seed++) {
      for (const phrase of phrasesOf(chorusOf(plan, seed, 3))) {
        const [first, last] = [phrase[0] as ChorusNote, phrase.at(-1) as ChorusNote];
        expect(phrase.length).toBeGreaterThanOrEqual(4);
        expect(last.startTicks + last.durationTicks - first.startTicks).toBeLessThanOrEqual(6 * 3840);
      }
    }
  });

  it('rests in a pickup, over N.C. and where the hand has no position', () => {
    const plan = planOf('pickup: 1\nA:\n| C7 | Fmaj7 | N.C. | Gm7 | C7 | Fmaj7 | % |\n');
    const silent = new Set(
      plan.slots.filter(({ position }) => position === null).map((each) => each.analysed.played.index),
    );
    expect(silent.size).toBeGreaterThan(0);
    for (let seed = 0; seed < 20; seed++) {
      const chorus = chorusOf(plan, seed);
      expect(chorus.some((note) => silent.has(note.slotIndex) || note.startTicks < 0)).toBe(false);
    }
  });

  it('resolves an avoid note by step or holds it into the chord that has it', () => {
    // G minor pentatonic has the 4 of F7, the root of Bb7
    const plan = withMinorPentatonic(
      planOf('key: F major\nA:\n| F7 | Bb7 | F7 | Bb7 | F7 | Bb7 | F7 | Bb7 |\n'),
      'G',
      67,
    );
    const counts = new Map<string, number>();
    for (let seed = 0; seed < 200; seed++) {
      const chorus = chorusOf(plan, seed, 2);
      expect(chorusFaults(plan, chorus)).toEqual([]);
      for (const { why } of chorus) counts.set(why.code, (counts.get(why.code) ?? 0) + 1);
    }
    expect(counts.get('chorus.avoid-resolved')).toBeGreaterThan(0);
    expect(counts.get('chorus.avoid-held')).toBeGreaterThan(0);
  });

  it('says in words what every note is for', () => {
    const plan = planOf(TUNE, 3);
    for (let seed = 0; seed < 20; seed++) {
      for (const { why, pitch } of chorusOf(plan, seed, 3)) {
        const words = wordsOfChorusReason(why);
        expect(words).not.toMatch(/undefined/u);
        expect(words).toContain(formatNoteName(pitch.name).replaceAll('b', '♭').replaceAll('#', '♯'));
      }
    }
    expect(() => wordsOfChorusReason({ code: 'bass.root', args: {} })).toThrow(RangeError);
  });
});

describe('chorusFaults', () => {
  const plan = planOf('key: C major\nA:\n| Dm7 | G7 | Cmaj7 | % | Dm7 | G7 | Cmaj7 | % |\n');
  const chorus = chorusOf(plan, 4, 1);
  const codesOf = (notes: readonly ChorusNote[]): Set<ChorusFaultCode> =>
    new Set(chorusFaults(plan, notes).map(({ code }) => code));
  const changed = (index: number, change: (note: ChorusNote) => Partial<ChorusNote>): ChorusNote[] =>
    chorus.map((note, at) => (at === index ? { ...note, ...change(note) } : note));
  const lastIndex = chorus.length - 1;

  it("lets the chord's own names stand with two flats, and no others: E𝄫 over A♭m7♭5", () => {
    const flat = planOf('A:\n| Abm7b5 | % | Dbm7 | % |\n');
    const [first, ...rest] = chorusOf(flat, 1) as [ChorusNote, ...ChorusNote[]];
    const codesWith = (name: string): ChorusFaultCode[] => {
      const note = { ...first, slotIndex: 0, neighbour: 'below', pitch: { ...first.pitch, name: noteName(name) } };
      return chorusFaults(flat, [note as unknown as ChorusNote, ...rest]).flatMap((each) =>
        each.note === 0 ? [each.code] : [],
      );
    };
    expect(codesWith('Ebb')).not.toContain('misspelled');
    expect(codesWith('Fbb')).toContain('misspelled');
  });

  it('finds nothing in what is right', () => expect(chorusFaults(plan, chorus)).toEqual([]));

  it.each<[ChorusFaultCode, ChorusNote[]]>([
    ['no-slot', changed(2, () => ({ slotIndex: 99 }))],
    ['outside-form', changed(lastIndex, () => ({ durationTicks: 99_999 }))],
    ['no-length', changed(2, () => ({ durationTicks: 0 }))],
    ['overlaps', changed(1, (note) => ({ durationTicks: note.durationTicks + 960 }))],
    ['outside-slot', changed(2, () => ({ slotIndex: 5 }))],
    [
      'other-position',
      changed(2, () => ({ position: (plan.slots[1] as Plan['slots'][number]).position as ChorusNote['position'] })),
    ],
    ['other-finger', changed(2, (note) => ({ pitch: { ...note.pitch, octave: note.pitch.octave + 1 } }))],
    [
      'misspelled',
      changed(2, (note) => ({ pitch: { ...note.pitch, name: (note.pitch.name + 12) as typeof note.pitch.name } })),
    ],
    ['sounds-too-long', changed(lastIndex, () => ({ durationTicks: 9999 }))],
  ])('finds a note that breaks the rule: %s', (code, notes) => {
    if (code === 'other-position') {
      const at = chorus.findIndex(
        ({ slotIndex }) => plan.slots[slotIndex]?.position?.thumb !== plan.slots[1]?.position?.thumb,
      );
      const moved = changed(at, () => ({ position: plan.slots[1]?.position as ChorusNote['position'] }));
      expect(codesOf(moved)).toContain(code);
      return;
    }
    expect(codesOf(notes)).toContain(code);
  });

  describe('over F7 and Bb7 with the thumb on G: G Bb C D F', () => {
    const made = withMinorPentatonic(planOf('key: F major\nA:\n| F7 | Bb7 |\n'), 'G', 67);
    const { position } = made.slots[0] as Plan['slots'][number];
    /** Fingers in eighths from a tick on, over the F7; the last may be longer. */
    const faults = (fingers: readonly (1 | 2 | 3 | 4 | 5)[], fromTicks = 0, lastTicks = 480): string[] => {
      const notes = fingers.map((finger, index): ChorusNote => {
        const name = (position as ChorusNote['position']).notes[finger - 1] as NoteName;
        return {
          startTicks: fromTicks + index * 480,
          durationTicks: index === fingers.length - 1 ? lastTicks : 480,
          pitch: pitchAt(name, midi(67 + (MINOR_PENTATONIC.steps[finger - 1] as number))),
          slotIndex: 0,
          why: { code: 'chorus.chord-tone', args: {} },
          finger,
          position: position as ChorusNote['position'],
          octaves: 0,
          neighbour: null,
          motive: null,
        };
      });
      return chorusFaults(made, notes).map(({ code }) => code);
    };

    it('lets a line be that ends on a chord tone', () => expect(faults([1, 4, 3])).toEqual([]));
    it('finds a key three times running', () => expect(faults([3, 3, 3])).toEqual(['three-times']));
    it('finds silence after a tension', () => expect(faults([3, 4, 1])).toEqual(['silence-after-no-chord-tone']));
    // common practice: the natural 4 over a dominant rubs with its 3
    it('lets the 4 go by step to the 5', () => expect(faults([2, 3])).toEqual([]));
    it('finds a 4 that leaps', () => expect(faults([2, 5])).toEqual(['avoid-hangs']));
    it('finds a 4 that steps to no chord tone', () => expect(faults([2, 1, 3])).toEqual(['avoid-hangs']));
    it('finds a 4 left in silence', () =>
      expect(faults([3, 2])).toEqual(['silence-after-no-chord-tone', 'avoid-hangs']));
    it('lets the 4 be held into the chord whose root it is', () => expect(faults([3, 2], 2880, 960)).toEqual([]));
    it('finds it cut off at the change', () =>
      expect(faults([3, 2], 2880, 480)).toEqual(['silence-after-no-chord-tone', 'avoid-hangs']));
    it('finds a note held into a chord that has it not', () =>
      expect(faults([2, 3], 2880, 960)).toEqual(['sounds-too-long']));
  });
});
