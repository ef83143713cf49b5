import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Canvas, readText, textRun } from './canvas.ts';
import { pageFonts } from '../../../../checks/handout-fonts.ts';
import { fontRuns, settable } from './fonts.ts';
import { breakLines, oneLine } from './paragraph.ts';
import { PdfDocument } from './pdf-document.ts';

const fonts = pageFonts();
const canvas = new Canvas(new PdfDocument('', 'en'), fonts);

describe('text', () => {
  it('shows what no font has, and never drops a letter without a sign', () => {
    expect(
      fontRuns('Waltz 🎷', 'serif-bold', fonts)
        .map((run) => run.text)
        .join(''),
    ).toBe('Waltz \uFFFD');
    expect(settable('a\u0000b\u202Ec\uFE0Fd', 'sans', fonts)).toBe('a bcd');
    expect(settable('<b>&amp;', 'sans', fonts)).toBe('<b>&amp;');
    expect(settable('Öse ♭♯', 'serif', fonts)).toBe('Öse ♭♯');
    // scripts of the faces' own families are kept, others are shown to be missing
    expect(fontRuns('Łódź', 'serif-bold', fonts)).toEqual([
      { role: 'serif-bold-latin-ext', text: 'Ł' },
      { role: 'serif-bold', text: 'ód' },
      { role: 'serif-bold-latin-ext', text: 'ź' },
    ]);
    expect(fontRuns('Вальс', 'sans', fonts)).toEqual([{ role: 'sans-cyrillic', text: 'Вальс' }]);
    expect(fontRuns('لحن', 'serif-bold', fonts)).toEqual([{ role: 'signs-bold', text: '\uFFFD\uFFFD\uFFFD' }]);
  });

  it('is never wider than its line, and keeps every character in order', () => {
    const words = fc.array(fc.string({ minLength: 1, maxLength: 60, unit: fc.constantFrom(...'abcWM,.♭#<&🎷') }), {
      maxLength: 30,
    });
    fc.assert(
      fc.property(words, fc.integer({ min: 60, max: 500 }), (each, widthPt) => {
        const text = each.join(' ');
        const lines = breakLines(canvas, [textRun(text, 'sans', 9)], widthPt);
        for (const line of lines) expect(canvas.widthOfAll(line)).toBeLessThanOrEqual(widthPt + 0.1);
        expect(lines.map(readText).join('').replaceAll(' ', '')).toBe(text.replaceAll(' ', ''));
      }),
      { seed: 5, numRuns: 80 },
    );
  });

  it('keeps what is glued together on one line', () => {
    const runs = [textRun('over G: ', 'sans', 9), textRun('B', 'sans-bold', 9), textRun('♭', 'sans', 9)];
    for (let width = 30; width < 60; width += 3) {
      const lines = breakLines(canvas, runs, width);
      expect(lines.some((line) => readText(line).endsWith('B♭'))).toBe(true);
    }
  });

  it('is cut to a line with an ellipsis', () => {
    const line = oneLine(canvas, [textRun('a title that goes on and on', 'sans', 9)], 60);
    expect(readText(line)).toMatch(/^a title.*…$/u);
    expect(canvas.widthOfAll(line)).toBeLessThanOrEqual(60);
  });
});
