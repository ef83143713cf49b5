import fc from 'fast-check';
import { expect, it } from 'vitest';
import { phrasesOf, type PartNote } from '../../parts/index.ts';
import type { TrioParts } from '../../performance/index.ts';
import { parseNoteName, pitchAt, midi, type NoteName } from '../../theory/index.ts';
import { traded } from './answers.ts';

const BAR = 3840;
const BEAT = 960;
const pitch = pitchAt(parseNoteName('C') as NoteName, midi(72));

/** Sixteen bars of four with any line in them: eighths, silences where fast-check leaves them. */
const anyParts = fc.array(fc.boolean(), { minLength: 128, maxLength: 128 }).map((sounds): TrioParts => ({
  bars: Array.from({ length: 16 }, (_, bar) => ({
    startTicks: bar * BAR,
    durationTicks: BAR,
    meter: { count: 4, unit: 4 },
  })),
  feel: 'swing',
  endTicks: 16 * BAR,
  line: sounds.flatMap((isSounding, eighth): PartNote[] => {
    const why = { code: 'bass.root', args: {} };
    return isSounding ? [{ startTicks: eighth * 480, durationTicks: 480, pitch, slotIndex: 0, why }] : [];
  }),
  bass: [],
  comping: [],
  drums: [],
}));

it('by bars: silent in the answers but for what leads in and what lands; both times together every note but those between', () => {
  fc.assert(
    fc.property(anyParts, fc.constantFrom('twos', 'fours', 'eights'), (parts, answers) => {
      const times = [0, 1].map((time) => traded(parts, answers, time));
      for (const { line, trades } of times) {
        for (const [index, { startTicks, isCall }] of trades.entries()) {
          if (isCall) continue;
          const end = trades[index + 1]?.startTicks ?? parts.endTicks;
          const stray = line.filter((note) => note.startTicks >= startTicks + BEAT && note.startTicks < end - 2 * BEAT);
          expect(stray).toEqual([]);
        }
      }
      const heard = new Set(times.flatMap(({ line }) => line));
      const missed = parts.line.filter((note) => parts.line.length > 0 && !heard.has(note));
      expect(missed).toEqual([]);
    }),
    { seed: 20_261_130 },
  );
});

it('by phrases: whole ones, each heard in one of two times', () => {
  fc.assert(
    fc.property(anyParts, (parts) => {
      const times = [0, 1].map((time) => traded(parts, 'phrases', time).line);
      expect(times.flat().length).toBe(parts.line.length);
      const phrases = phrasesOf(parts.line);
      for (const [time, line] of times.entries()) {
        expect(line).toEqual(phrases.filter((_, index) => index % 2 === time).flat());
      }
    }),
    { seed: 20_261_130 },
  );
});
