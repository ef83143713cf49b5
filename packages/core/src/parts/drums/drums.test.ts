import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { randomSource } from '../../random.ts';
import { analysisOf, anyChartText } from '../invented-plan.ts';
import { kitAt, playDrums, type Drum, type DrummingOptions, type DrumStroke } from './index.ts';

const BARS = '| Dm7 | G7 | Cmaj7 | % | Dm7 | G7 | Cmaj7 | % |\n';
const SEEDS = Array.from({ length: 20 }, (_, seed) => seed);

function drums(heading: string, seed = 1, more: Partial<DrummingOptions> = {}): DrumStroke[] {
  return playDrums(analysisOf(`${heading}\nA:\n${BARS}B:\n${BARS}`), {
    feel: 'swing',
    tempoBpm: 140,
    kit: 'sticks',
    solo: [],
    random: randomSource(seed, 'drums'),
    ...more,
  });
}

/** Beats, from 0, on which a drum is struck on the beat, per bar. */
function beatsOfDrum(
  strokes: readonly DrumStroke[],
  drum: Drum,
  beats: number,
  role: DrumStroke['role'] = 'time',
): number[][] {
  return Array.from({ length: 16 }, (_, bar) =>
    strokes
      .filter((each) => each.drum === drum && each.role === role && Math.floor(each.startTicks / (beats * 960)) === bar)
      .filter((each) => each.startTicks % 960 === 0)
      .map((each) => (each.startTicks / 960) % beats),
  );
}

describe('playDrums', () => {
  // common practice: the hi-hat foot on two and four, on two of a waltz, on two and five of 3 + 2
  it.each([
    ['meter: 4/4', 4, [1, 3]],
    ['meter: 3/4', 3, [1]],
    ['meter: 5/4', 5, [1, 4]],
  ])('%s has the hi-hat foot where it belongs, in every bar', (heading, beats, expected) => {
    for (const seed of SEEDS) {
      for (const bar of beatsOfDrum(drums(heading, seed), 'pedal hi-hat', beats)) {
        expect(bar.filter((beat) => beats !== 3 || beat !== 2)).toEqual(expected);
      }
    }
  });

  it('rides nearly every beat where no fill is, always the first, with the short note after two and four most of the time, and varies', () => {
    const patterns = new Set<string>();
    let ridden = 0;
    let due = 0;
    for (const seed of SEEDS) {
      const strokes = drums('meter: 4/4', seed);
      for (const [bar, beats] of beatsOfDrum(strokes, 'ride', 4).entries()) {
        const free = bar % 8 === 7 ? [0, 1] : [0, 1, 2, 3];
        expect(beats[0]).toBe(0);
        expect(free).toEqual(expect.arrayContaining(beats));
        ridden += beats.length;
        due += free.length;
        const inBar = strokes.filter((each) => each.drum === 'ride' && Math.floor(each.startTicks / 3840) === bar);
        patterns.add(inBar.map((each) => each.startTicks % 3840).join(' '));
      }
    }
    expect(ridden).toBeLessThan(due);
    expect(ridden).toBeGreaterThan(0.9 * due);
    expect(patterns.has('0 960 1440 1920 2880 3360')).toBe(true);
    expect(patterns.size).toBeGreaterThan(5);
  });

  it('feathers the bass drum on every beat, and no longer when fast', () => {
    const feathered = (tempoBpm: number): number =>
      drums('meter: 4/4', 1, { tempoBpm }).filter((each) => each.stress === 'feathered').length;
    expect(feathered(140)).toBeGreaterThanOrEqual(4 * 14);
    expect(feathered(280)).toBe(0);
  });

  it('fills the last bar of each section and answers on the next', () => {
    for (const seed of SEEDS) {
      const bars = new Set(
        drums('meter: 4/4', seed)
          .filter((each) => each.role === 'fill')
          .map((each) => Math.floor(each.startTicks / 3840)),
      );
      expect([...bars].toSorted((a, b) => a - b)).toEqual([7, 8, 15]);
    }
  });

  it('comments more where the line rests', () => {
    const everywhere = Array.from({ length: 16 * 8 }, (_, eighth) => ({
      startTicks: eighth * 480,
      durationTicks: 480,
    }));
    const comments = (solo: DrummingOptions['solo']): number =>
      SEEDS.flatMap((seed) => drums('meter: 4/4', seed, { solo })).filter((each) => each.role === 'comping').length;
    expect(comments([])).toBeGreaterThan(1.5 * comments(everywhere));
  });

  it('knows the phrase: catches a last note off the beat, says its ending again in the silence, before the next begins', () => {
    const note = (startTicks: number) => ({ startTicks, durationTicks: 480 });
    // by hand: a phrase on 1, 1+, 2, 3, 3+ of bar 1 and nothing until bar 3
    const solo = [0, 480, 960, 1920, 2400, 7680, 8160, 8640, 9120].map(note);
    let [caught, answered] = [0, 0];
    for (const seed of SEEDS) {
      const strokes = drums('meter: 4/4', seed, { solo });
      const at = (ticks: number, drum: Drum, stress: string) =>
        strokes.some((each) => each.startTicks === ticks && each.drum === drum && each.stress === stress);
      if (at(2400, 'bass drum', 'soft')) caught++;
      // 2, 3, 3+ again from the next beat on: 4, 1, 1+
      if ([2880, 3840, 4320].every((ticks) => at(ticks, 'snare', 'soft'))) answered++;
    }
    expect(caught).toBeGreaterThanOrEqual(10);
    expect(answered).toBeGreaterThanOrEqual(6);
    expect(caught).toBeLessThan(20);
    expect(answered).toBeLessThan(20);
    // no room, no answer
    const running = Array.from({ length: 128 }, (_, index) => note(index * 480));
    const spoken = SEEDS.flatMap((seed) => drums('meter: 4/4', seed, { solo: running })).filter(
      (each) => each.drum === 'snare' && each.stress === 'soft' && each.role === 'comping',
    );
    expect(spoken).toEqual([]);
  });

  it('takes brushes when slow: swirls and taps, no ride, no crash', () => {
    expect(kitAt(60)).toBe('brushes');
    expect(kitAt(140)).toBe('sticks');
    const struck = new Set(drums('meter: 4/4', 1, { kit: 'brushes', tempoBpm: 60 }).map((each) => each.drum));
    expect(struck).toContain('swirl');
    for (const drum of ['ride', 'crash', 'side stick'] as const) expect(struck).not.toContain(drum);
  });

  it('plays even eighths where the feel is even', () => {
    for (const bar of Array.from({ length: 7 }, (_, index) => index)) {
      const places = drums('meter: 4/4', 1, { feel: 'even' })
        .filter((each) => each.drum === 'closed hi-hat' && Math.floor(each.startTicks / 3840) === bar)
        .map((each) => each.startTicks % 3840);
      expect(places).toEqual([0, 480, 960, 1440, 1920, 2400, 2880, 3360]);
    }
  });

  it('is in time order, inside the form, no drum twice at once: any metre, kit and feel', () => {
    fc.assert(
      fc.property(
        anyChartText,
        fc.nat(50),
        fc.constantFrom('sticks', 'brushes'),
        fc.constantFrom('swing', 'even'),
        (text, seed, kit, feel) => {
          const analysis = analysisOf(text);
          const strokes = playDrums(analysis, {
            feel,
            tempoBpm: 140,
            kit,
            solo: [],
            random: randomSource(seed, 'drums'),
          });
          expect(strokes.map((each) => each.startTicks)).toEqual(
            strokes.map((each) => each.startTicks).toSorted((a, b) => a - b),
          );
          const places = strokes.map((each) => `${each.startTicks} ${each.drum}`);
          expect(new Set(places).size).toBe(places.length);
          for (const { startTicks } of strokes) {
            expect(Number.isInteger(startTicks) && startTicks >= 0 && startTicks < analysis.form.endTicks).toBe(true);
          }
          // somebody keeps time in every bar
          for (const bar of analysis.form.bars) {
            expect(strokes.some((each) => each.startTicks === bar.startTicks && each.drum !== 'pedal hi-hat')).toBe(
              true,
            );
          }
        },
      ),
      { seed: 20_261_125, numRuns: 60 },
    );
  });
});
