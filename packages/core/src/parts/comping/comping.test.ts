import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { beatTicksOf } from '../../chart/index.ts';
import { randomSource } from '../../random.ts';
import { midiOf } from '../../theory/index.ts';
import { improviseChorus } from '../chorus/index.ts';
import { waysToVoice } from '../voicings/index.ts';
import { analysisOf, anyChartText, planOf } from '../invented-plan.ts';
import { comp, COMP_DENSITIES, type CompChord, type CompingOptions } from './index.ts';
import type { HandNote } from '../note.ts';

const RUNS = { seed: 20_261_125, numRuns: 40 };

function played(text: string, seed: number) {
  const plan = planOf(text, 2);
  const analysed = plan.slots.map((slot) => slot.analysed);
  const solo = improviseChorus(plan, { level: 2, random: randomSource(seed, 'chorus') });
  return { plan, analysed, solo };
}

/** The analysis behind a plan, as the comping takes it. */
function comped(text: string, seed: number, solo: readonly HandNote[]): { chords: CompChord[] } {
  const analysis = analysisOf(text);
  return { chords: comp(analysis, { style: 'rootless', solo, random: randomSource(seed, 'comping') }) };
}

describe('comp', () => {
  it('plays in time order, inside its chord, below the right hand, chords of two notes or more: any chords, any metre', () => {
    fc.assert(
      fc.property(anyChartText, fc.nat(50), (text, seed) => {
        const { analysed, solo } = played(text, seed);
        const { chords } = comped(text, seed, solo);
        let end = Number.NEGATIVE_INFINITY;
        for (const { startTicks, durationTicks, slotIndex, pitches } of chords) {
          const slot = analysed[slotIndex]!;
          expect(slot.chord).not.toBeNull();
          expect(startTicks).toBeGreaterThanOrEqual(end);
          expect(durationTicks).toBeGreaterThan(0);
          end = startTicks + durationTicks;
          expect(end).toBeLessThanOrEqual(slot.played.endTicks);
          // at most a cell before its chord: a push
          expect(slot.played.startTicks - startTicks).toBeLessThanOrEqual(beatTicksOf(slot.played.playedBar.bar.meter));
          expect(pitches.length).toBeGreaterThanOrEqual(2);
          for (const note of solo) {
            if (note.startTicks >= end || note.startTicks + note.durationTicks <= startTicks) continue;
            expect(midiOf(pitches.at(-1)!)).toBeLessThan(midiOf(note.pitch));
          }
        }
      }),
      RUNS,
    );
  });

  it('comps a voicing that is pinned, of two hands what the left has, and moves the others to it', () => {
    const text = 'A:\n| Dm7 | G7 | Cmaj7 | % |\n';
    const analysis = analysisOf(text);
    const plan = planOf(text, 1);
    const chordsWith = (...keys: number[][]): CompChord[] => {
      const pins = keys.map((each, index) => ({
        slot: analysis.slots[index + 1]!.played.slot.id,
        pass: 1,
        keys: each,
      }));
      const options = { style: 'rootless', solo: [], plan, pinned: pins } as const;
      return comp(analysis, { ...options, random: randomSource(3, 'comping') });
    };
    const over = (chords: CompChord[], slot: number): Set<string> =>
      new Set(chords.filter((each) => each.slotIndex === slot).map(({ pitches }) => pitches.map(midiOf).join(' ')));
    const free = chordsWith();
    // B E F A, an octave from where it lies without a pin or in the other form; a shell of two hands under B E A
    const high = [59, 64, 65, 69];
    const pinned = chordsWith(high);
    expect(over(pinned, 1)).toEqual(new Set([high.join(' ')]));
    expect(over(free, 1)).not.toEqual(over(pinned, 1));
    expect(pinned.map(({ startTicks }) => startTicks)).toEqual(free.map(({ startTicks }) => startTicks));
    const twoHands = waysToVoice(analysis.slots[1]!, 1, 'two hands')[0]!;
    const left = twoHands.keys.slice(0, twoHands.left);
    expect(twoHands.left).toBe(2);
    expect(over(chordsWith([...twoHands.keys]), 1)).toEqual(new Set([left.join(' ')]));
  });

  it('answers in the rests: alone it plays more than under a line without a rest', () => {
    const text = 'A:\n| Dm7 | G7 | Cmaj7 | % | Em7 | A7 | Dm7 | G7 |\n';
    const { analysed, solo } = played(text, 1);
    const busy = analysed.flatMap(({ played: { startTicks, endTicks, index } }) =>
      Array.from({ length: (endTicks - startTicks) / 480 }, (_, at) => ({
        ...solo[0]!,
        startTicks: startTicks + at * 480,
        durationTicks: 480,
        slotIndex: index,
      })),
    );
    const strokes = (line: readonly HandNote[]): number =>
      Array.from({ length: 20 }, (_, seed) => comped(text, seed, line).chords.length).reduce((sum, each) => sum + each);
    // under a line without a rest each chord is struck about once, so that it sounds at all
    expect(strokes(busy)).toBeLessThanOrEqual(20 * 8 * 1.25);
    expect(strokes([])).toBeGreaterThan(1.5 * strokes(busy));
  });

  it('gives the same for the same seed, another for another', () => {
    const text = 'A:\n| Dm7 | G7 | Cmaj7 | A7alt | Dm7 | G7 | Cmaj7 | % |\n';
    expect(comped(text, 3, [])).toEqual(comped(text, 3, []));
    expect(comped(text, 3, [])).not.toEqual(comped(text, 4, []));
  });

  it('comps more densely and more sparsely as asked, in the figures of the feel and tempo', () => {
    const text = 'A:\n| Dm7 | G7 | Cmaj7 | % | Em7 | A7 | Dm7 | G7 |\n';
    const analysis = analysisOf(text);
    const all = (options: Partial<CompingOptions>): CompChord[] =>
      Array.from({ length: 20 }, (_, seed) =>
        comp(analysis, { style: 'rootless', solo: [], random: randomSource(seed, 'comping'), ...options }),
      ).flat();
    const [sparse, usual, dense] = COMP_DENSITIES.map((density) => all({ density }).length) as [number, number, number];
    expect(sparse).toBeLessThan(usual);
    expect(usual).toBeLessThan(dense);
    const meanTicks = (chords: readonly CompChord[]): number =>
      chords.reduce((sum, { durationTicks }) => sum + durationTicks, 0) / chords.length;
    // common practice: a ballad's chords are held, fast ones short; even eighths sound on the beat
    expect(meanTicks(all({ tempoBpm: 60 }))).toBeGreaterThan(1.5 * meanTicks(all({ tempoBpm: 240 })));
    const onOne = (chords: readonly CompChord[]): number =>
      chords.filter(({ startTicks }) => startTicks % 3840 === 0).length;
    expect(onOne(all({ feel: 'even' }))).toBeGreaterThan(onOne(all({ tempoBpm: 240 })));
  });

  it('pushes the coming chord on the and of four', () => {
    const text = 'A:\n| Dm7 | G7 | Cmaj7 | A7 | Dm7 | G7 | Cmaj7 | % |\n';
    const pushed = Array.from({ length: 20 }, (_, seed) => comped(text, seed, []).chords)
      .flat()
      .filter(({ startTicks }) => (startTicks + 480) % 3840 === 0);
    expect(pushed.length).toBeGreaterThan(0);
    for (const { startTicks, slotIndex, durationTicks } of pushed) {
      expect(slotIndex * 3840 === startTicks + 480 || startTicks + 480 === 8 * 3840).toBe(true);
      expect(durationTicks).toBeGreaterThanOrEqual(480);
    }
  });

  it('lets every chord sound, pushed or while it lasts, whatever the seed, and never two chords at one place', () => {
    fc.assert(
      fc.property(anyChartText, fc.nat(1000), (text, seed) => {
        const analysis = analysisOf(text);
        const solo = improviseChorus(planOf(text, 2), { level: 2, random: randomSource(seed, 'chorus') });
        const chords = comp(analysis, { style: 'rootless', solo, random: randomSource(seed, 'comping') });
        const struck = new Set(chords.map(({ slotIndex }) => slotIndex));
        const silent = analysis.slots.filter(
          ({ chord, played }) => chord !== null && played.playedBar.bar.number !== 0 && !struck.has(played.index),
        );
        expect(silent.map(({ played }) => played.index)).toEqual([]);
        for (const [index, chord] of chords.slice(1).entries()) {
          const before = chords[index]!;
          expect(before.startTicks + before.durationTicks).toBeLessThanOrEqual(chord.startTicks);
        }
      }),
      { seed: 20_261_130, numRuns: 40 },
    );
  });
});
