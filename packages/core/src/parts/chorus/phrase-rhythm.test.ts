import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { PlayedBar } from '../../chart/index.ts';
import { randomSource } from '../../random.ts';
import { analysisOf, anyChartText } from '../invented-plan.ts';
import { PHRASE_GAP_TICKS } from './phrase.ts';
import { phraseRhythms, type ChorusLevel, type PhraseRhythm } from './phrase-rhythm.ts';
import { cellTicksOf } from './pulse.ts';

const LEVELS: readonly ChorusLevel[] = [1, 2, 3];
const always = (_ticks: number): boolean => true;
const barsOfText = (text: string): readonly PlayedBar[] => analysisOf(text).form.bars;
const SIXTEEN = barsOfText(`A:\n|${' C6 |'.repeat(8)}\nB:\n|${' C6 |'.repeat(8)}\n`);
const drawn = (level: ChorusLevel, seed: number, canRest = always): PhraseRhythm[] =>
  phraseRhythms(SIXTEEN, level, canRest, randomSource(seed, 'chorus'));
const startsOf = ({ onsets }: PhraseRhythm): number[] => onsets.map((each) => each.startTicks);

describe('phraseRhythms', () => {
  it('has notes in time order inside the form and a quarter of silence between phrases, in any metre', () => {
    fc.assert(
      fc.property(anyChartText, fc.constantFrom(...LEVELS), fc.nat(10_000), fc.nat(6), (text, level, seed, closed) => {
        const bars = barsOfText(text);
        const [first, last] = [bars[0] as PlayedBar, bars.at(-1) as PlayedBar];
        const canRest = (ticks: number): boolean => Math.floor(ticks / 1920) % 7 !== closed;
        let free = first.startTicks;
        for (const { onsets } of phraseRhythms(bars, level, canRest, randomSource(seed, 'chorus'))) {
          for (const [index, { startTicks, durationTicks }] of onsets.entries()) {
            expect(startTicks).toBeGreaterThanOrEqual(free);
            expect(durationTicks).toBeGreaterThan(0);
            free = startTicks + durationTicks + (index === onsets.length - 1 ? PHRASE_GAP_TICKS : 0);
            expect(startTicks).toBeLessThan(last.startTicks + last.bar.durationTicks);
            const home = bars.find(
              (bar) => bar.startTicks <= startTicks && startTicks < bar.startTicks + bar.bar.durationTicks,
            );
            expect((startTicks - home!.startTicks) % cellTicksOf(home!.bar.meter)).toBe(0);
          }
        }
      }),
      { seed: 20_261_125, numRuns: 150 },
    );
  });

  it('takes up an earlier phrase note for note where it says so', () => {
    let answered = 0;
    for (const level of LEVELS) {
      for (let seed = 0; seed < 40; seed++) {
        const rhythms = drawn(level, seed);
        for (const [index, rhythm] of rhythms.entries()) {
          if (rhythm.answers === null) continue;
          expect(rhythm.answers).toBeLessThan(index);
          const [own, model] = [startsOf(rhythm), startsOf(rhythms[rhythm.answers] as PhraseRhythm)];
          const common = Math.min(rhythm.answering, own.length, model.length);
          if (common === 0) continue;
          answered++;
          const fromFirst = (starts: readonly number[]): number[] =>
            starts.slice(0, common).map((start) => start - (starts[0] as number));
          expect(fromFirst(own)).toEqual(fromFirst(model));
        }
      }
    }
    expect(answered).toBeGreaterThan(100);
  });

  it('leads in before a bar line where the breath has room, and never before the first bar', () => {
    const offsets = new Set<number>();
    for (let seed = 0; seed < 200; seed++) {
      for (const [index, { onsets }] of drawn(2, seed).entries()) {
        const start = onsets[0]!.startTicks;
        expect(start).toBeGreaterThanOrEqual(0);
        if (index > 0) offsets.add(start % 3840);
      }
    }
    for (const offset of [0, 480, 3840 - 480, 3840 - 960, 3840 - 1440]) expect(offsets).toContain(offset);
  });

  it('goes on, over the bar line too, until it may come to rest', () => {
    // nothing to rest on in every second bar of four
    const canRest = (ticks: number): boolean => Math.floor(ticks / 3840) % 4 !== 1;
    let over = 0;
    for (let seed = 0; seed < 60; seed++) {
      for (const { onsets } of drawn(2, seed, canRest)) {
        const last = onsets.at(-1)!.startTicks;
        // the last pulse may hold two eighths
        expect(canRest(last - (last % 960))).toBe(true);
        if (last % 3840 < 960) over++;
      }
    }
    expect(over).toBeGreaterThan(20);
  });

  it('is busier the freer', () => {
    const counts = LEVELS.map((level) => {
      let notes = 0;
      for (let seed = 0; seed < 60; seed++) for (const { onsets } of drawn(level, seed)) notes += onsets.length;
      return notes;
    }) as [number, number, number];
    expect(counts[1]).toBeGreaterThan(counts[0]);
    expect(counts[2]).toBeGreaterThan(counts[1]);
  });
});
