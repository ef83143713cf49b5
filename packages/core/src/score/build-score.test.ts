import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { analyse, NO_ANALYSIS_PINS } from '../analysis/index.ts';
import type { Bar } from '../chart/index.ts';
import { formatKey, midiOf, pitchClass, usualKey } from '../theory/index.ts';
import { anyChartText, inventedChart } from '../parts/invented-plan.ts';
import { buildScore, DEFAULT_TEMPO_BPM } from './build-score.ts';
import { scoreOf, sourcesOf } from './invented-score.ts';
import type { Score, ScoreStaff } from './score.ts';

const staffOf = (score: Score, role: ScoreStaff['role']): ScoreStaff =>
  score.staves.find((each) => each.role === role) as ScoreStaff;
const REPEATED =
  'title: Two Doors\nkey: Eb major\ntempo: 90\nfeel: even\npickup: 1\nIn:\n| Bb7 |\nA:\n|: Ebmaj7 | Cm7 | 1. Fm7 | Bb7 :| 2. Fm7 Bb7 | Ebmaj7 |\nB:\n| Abmaj7 | N.C. | Bb7 | Eb6 |\n';

/** Everything inside a value that could still be changed. */
function unfrozen(value: unknown, path = 'score'): string[] {
  if (typeof value !== 'object' || value === null) return [];
  const own = Object.isFrozen(value) ? [] : [path];
  return [...own, ...Object.entries(value).flatMap(([name, each]) => unfrozen(each, `${path}.${name}`))];
}

describe('buildScore', () => {
  it('freezes every part of the document, and leaves what it was made from as it was', () => {
    const sources = sourcesOf(REPEATED);
    const score = buildScore(sources);
    expect(unfrozen(score)).toEqual([]);
    expect(() => {
      (score.bars as unknown[]).push({});
    }).toThrow(TypeError);
    expect(buildScore(sources)).toEqual(score);
  });

  it('plays repeats and endings out, with written bar numbers, sections and the pickup before zero', () => {
    const { bars, chords, title, tempoBpm, feel, endTicks } = scoreOf(REPEATED);
    expect([title, tempoBpm, feel]).toEqual(['Two Doors', 90, 'even']);
    expect(bars.map((bar) => bar.number)).toEqual([0, 1, 2, 3, 4, 1, 2, 5, 6, 7, 8, 9, 10]);
    expect(bars[0]).toMatchObject({ isPickup: true, startTicks: -960, durationTicks: 960 });
    expect(bars.filter((bar) => bar.section === 'A').map((bar) => bar.startTicks / 3840)).toEqual([0, 4]);
    expect(endTicks).toBe(12 * 3840);
    expect(chords.map(({ chord }) => chord.symbol).slice(0, 3)).toEqual(['Bb7', 'Ebmaj7', 'Cm7']);
    expect(chords.find(({ chord }) => chord.kind === 'no chord')?.numeral).toBe('');
  });

  it('states 120 where the chart has no tempo', () => {
    expect(scoreOf('| C7 |').tempoBpm).toBe(DEFAULT_TEMPO_BPM);
  });

  it('shows a thumb where the hand moves, and only there', () => {
    for (let seed = 0; seed < 10; seed++) {
      const sources = sourcesOf('key: Eb major\n| Fm7 | Bb7 | Ebmaj7 | C7alt | Fm7 Bb7 | Ebmaj7 |', seed, 2);
      const { thumbs } = buildScore(sources);
      const keys = sources.chorus.map((note) => ({
        startTicks: note.startTicks,
        thumb: note.position.thumb,
        place: `${note.position.shape.id} ${midiOf(note.pitch) - note.position.shape.steps[note.finger - 1]!}`,
      }));
      const moves = keys.filter((each, index) => each.place !== keys[index - 1]?.place);
      expect(thumbs).toEqual(moves.map(({ startTicks, thumb }) => ({ startTicks, thumb })));
    }
  });

  it('writes fingers for the right hand and none for the bass', () => {
    const score = scoreOf(REPEATED);
    expect(staffOf(score, 'left hand').notes.every((note) => note.finger === null)).toBe(true);
    for (const role of ['right hand', 'arpeggio study'] as const) {
      const { notes } = staffOf(score, role);
      expect(notes.length).toBeGreaterThan(8);
      expect(notes.every(({ finger }) => finger !== null && finger >= 1 && finger <= 5)).toBe(true);
    }
  });

  it('has a key change from its written bar on, at every pass', () => {
    const plain = inventedChart('key: C major\nA:\n|: Cmaj7 | G7 | Bbmaj7 | F7 :|\n');
    const toBb = (bar: Bar): Bar => (bar.number === 3 ? { ...bar, keyChange: usualKey(pitchClass(10), 'major') } : bar);
    const chart = { ...plain, sections: plain.sections.map((each) => ({ ...each, bars: each.bars.map(toBb) })) };
    const sources = sourcesOf('key: C major\nA:\n|: Cmaj7 | G7 | Bbmaj7 | F7 :|\n');
    const score = buildScore({ ...sources, chart, analysis: analyse(chart, NO_ANALYSIS_PINS) });
    const keys = score.bars.map((bar) => formatKey(bar.key));
    expect(keys.slice(0, 4)).toEqual(['C major', 'C major', 'Bb major', 'Bb major']);
    expect(keys.slice(4)).toEqual(keys.slice(0, 4));
  });

  it('has bars without gaps, ascending lists, phrases around every note of the chorus, in any metre', () => {
    fc.assert(
      fc.property(anyChartText, fc.nat(1000), fc.constantFrom(1, 2, 3), (text, seed, level) => {
        const score = scoreOf(text, seed, level as 1 | 2 | 3);
        let at = score.bars[0]?.startTicks ?? 0;
        for (const bar of score.bars) {
          expect(bar.startTicks).toBe(at);
          at += bar.durationTicks;
        }
        expect(score.endTicks).toBe(at);
        for (const list of [score.chords, score.thumbs, score.phrases, ...score.staves.map(({ notes }) => notes)]) {
          const starts = list.map((each) => each.startTicks);
          expect(starts).toEqual(starts.toSorted((a, b) => a - b));
          for (const start of starts) expect(Number.isInteger(start)).toBe(true);
        }
        const { notes } = staffOf(score, 'right hand');
        for (const { startTicks, durationTicks } of notes) {
          const around = score.phrases.filter(
            (phrase) => phrase.startTicks <= startTicks && startTicks + durationTicks <= phrase.endTicks,
          );
          expect(around).toHaveLength(1);
        }
        for (const [index, phrase] of score.phrases.entries()) {
          expect(notes.some((note) => note.startTicks === phrase.startTicks)).toBe(true);
          const next = score.phrases[index + 1];
          if (next !== undefined) expect(next.startTicks - phrase.endTicks).toBeGreaterThanOrEqual(960);
        }
      }),
      { seed: 20_261_125, numRuns: 40 },
    );
  });
});
