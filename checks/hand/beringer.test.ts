/**
 * Best fingerings against printed ones.
 * Source: Oscar Beringer and Thomas Dunhill 1900, manual of scales, arpeggios and broken chords (title from memory),
 * transcribed by David A. Randolph 2016, as in ../shared/data/fingering. How often each model agrees with the book is a
 * measurement of this sample and stands in bench/fingering.ts; here is only what must hold.
 */
import { describe, expect, it } from 'vitest';
import { bestFingerings, FINGERING_MODEL_IDS, fingeringModel, rateFingering, type Strike } from '@fivespan/core';
import { agreementWith, allPrintedLines } from './beringer.ts';

const lines = allPrintedLines();

const first = (file: string, side: string): string | undefined =>
  lines
    ?.find((line) => line.file === file && line.side === side)
    ?.keys.slice(0, 8)
    .join(' ');

describe.skipIf(lines === null)(`printed fingerings of 1900${lines === null ? ' (open data not here)' : ''}`, () => {
  const printed = lines ?? [];

  it('are read whole: 40 files, both hands, a finger for every note', () => {
    expect(new Set(printed.map((line) => line.file)).size).toBe(40);
    for (const side of ['right', 'left']) expect(printed.filter((line) => line.side === side).length).toBe(110);
    expect(printed.every((line) => line.keys.length === line.fingers.length && line.keys.length > 1)).toBe(true);
  });

  it('have the pitches the key signatures and accidentals say', () => {
    // common practice: A flat major from A flat 3, and an octave lower; the leading-note seventh of C is B D F A flat
    expect(first('scales_aflat_major.abcd', 'right')).toBe('56 58 60 61 63 65 67 68');
    expect(first('scales_aflat_major.abcd', 'left')).toBe('44 46 48 49 51 53 55 56');
    expect(first('arpeggios_dim7_c.abcd', 'right')).toBe('59 62 65 68 71 74 77 80');
  });

  it.each(FINGERING_MODEL_IDS)('never cost less than what %s finds', (id) => {
    const model = fingeringModel(id);
    for (const { keys, fingers, side } of printed) {
      const line = keys.map((key): Strike => [key]);
      const book = rateFingering(
        line,
        fingers.map((each) => [each]),
        { side, model },
      );
      const result = bestFingerings(line, { side, model });
      const best = result.ok ? result.value[0] : undefined;
      expect([best?.beyondPractical, book.beyondPractical]).toEqual(
        [best?.beyondPractical, book.beyondPractical].sort((a, b) => (a ?? 0) - (b ?? 0)),
      );
      if (best?.beyondPractical === book.beyondPractical) expect(best.points).toBeLessThanOrEqual(book.points);
    }
  });

  it('agree with our own model more often than with any published one, in both hands', () => {
    for (const side of ['right', 'left'] as const) {
      const [ours, ...published] = [...FINGERING_MODEL_IDS]
        .reverse()
        .map((id) => agreementWith(printed, fingeringModel(id), side));
      for (const each of published) {
        expect(ours?.equalNotes).toBeGreaterThan(each.equalNotes);
        expect(ours?.equalLines).toBeGreaterThan(each.equalLines);
      }
    }
  });
});
