/**
 * A chord symbol is laid out alike for the screen, for pictures and for pages: the style sheet has the numbers of chordPieces, and
 * the PDF's runs are its pieces. Source: issue 'A face of its own', section Type.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { CHORD_KINDS_BY_SYMBOL, readChordSymbol, type ChordSymbol } from '@fivespan/core';
import {
  BASS_EMS,
  chordPieces,
  CHORD_STEPS,
  GAP_EMS,
  isSign,
  printedChordPieces,
  SIGN_GAP_EMS,
  SIGN_GAPS_EMS,
  svgChord,
  type ChordStep,
} from '@fivespan/formats/type';
import { chordLine } from '@fivespan/formats/diagram';
import { chordRuns } from '../../packages/formats/src/handout/chord-symbol.ts';

const STEPS = Object.keys(CHORD_STEPS) as ChordStep[];

function chordOf(text: string): ChordSymbol {
  const read = readChordSymbol(text);
  if (!read.ok) throw new TypeError(`${text} must be a chord`);
  return read.value;
}

/** Every kind, on roots with and without accidentals, with alterations and a bass. */
const CHORDS = [
  ...CHORD_KINDS_BY_SYMBOL.map(({ suffix }, index) => chordOf(['C', 'F#', 'Ab', 'Bb', 'G'][index % 5] + suffix)),
  ...['B7(b9)', 'D7(#9,b13)', 'Ebmaj7(#11)', 'Bbm7/Ab', 'F7/A', 'A7(b9,b13)/C#', 'G6/9', 'G6/9/B'].map(chordOf),
];

describe('one chord symbol', () => {
  const css = readFileSync(new URL('../../apps/web/src/ui/chord/ChordName.module.css', import.meta.url), 'utf8');
  const ruleOf = (selector: string): string =>
    new RegExp(`(?:^|\\n)${selector.replaceAll('.', '\\.')} \\{([^}]*)\\}`, 'u').exec(css)?.[1] ?? '';
  const valueOf = (selector: string, name: string): number =>
    Number(new RegExp(`${name}: (-?[\\d.]+)`, 'u').exec(ruleOf(selector))?.[1]);

  it.each(STEPS)('has the numbers of %s in its style sheet', (step) => {
    expect(valueOf(`.${step}`, '--kind')).toBe(CHORD_STEPS[step].kindEms);
    expect(valueOf(`.${step}`, '--raised')).toBe(CHORD_STEPS[step].raisedEms);
    expect(valueOf(`.${step}`, '--raised-sign')).toBe(CHORD_STEPS[step].raisedSign);
  });

  it('has the gaps and the bass of the layout in its style sheet', () => {
    expect(valueOf('.kind', 'margin-left')).toBe(GAP_EMS.kind);
    expect(valueOf('.raised', 'margin-left')).toBe(GAP_EMS.raised);
    expect(valueOf('.bass', 'font-size')).toBe(BASS_EMS);
    for (const letter of ['F', 'A', 'C'] as const)
      expect(valueOf(`.after${letter}`, 'margin-left')).toBe(SIGN_GAPS_EMS[letter]);
    expect(SIGN_GAPS_EMS['G']).toBe(SIGN_GAPS_EMS['C']);
    expect(valueOf('.afterOther', 'margin-left')).toBe(SIGN_GAP_EMS);
  });

  it('is, in a picture and on a page, the same pieces in the same places', () => {
    for (const chord of CHORDS) {
      const pieces = chordPieces(chord, 'text');
      expect(pieces.map(({ text }) => text).join('')).toBe(chordLine(chord));
      for (const piece of pieces) for (const each of piece.text) expect(isSign(each)).toBe(piece.isSign);
      const runs = chordRuns(chord, 20);
      expect(
        runs.map((run) =>
          run.kind === 'text' ? [run.text, run.sizePt / 20, run.risePt / 20, (run.gapPt ?? 0) / 20] : [],
        ),
      ).toEqual(pieces.map((each) => [each.text, each.sizeEms, each.riseEms, each.gapEms]));
      let rise = 0;
      const spans = [...svgChord(pieces, 100).matchAll(/<tspan font-size="([\d.]+)"([^>]*)>([^<]*)</gu)];
      expect(spans.length).toBe(pieces.length);
      for (const [index, [, size, rest = '', text]] of spans.entries()) {
        const piece = pieces[index]!;
        rise -= Number(/dy="(-?[\d.]+)"/u.exec(rest)?.[1] ?? 0);
        expect(text).toBe(piece.text);
        expect(Number(size)).toBeCloseTo(piece.sizeEms * 100, 1);
        expect(rise).toBeCloseTo(piece.riseEms * 100, 1);
      }
    }
  });

  it('is read back from print as it was made: what the engraver has is set the same', () => {
    for (const chord of CHORDS)
      expect(printedChordPieces(chordLine(chord), 'text'), chordLine(chord)).toEqual(chordPieces(chord, 'text'));
    for (const numeral of ['iim7', 'V7/ii', '♭VII7', '♯ivdim7', 'N.C.'])
      expect(printedChordPieces(numeral, 'text')).toBeNull();
  });

  it('raises alterations until their tops meet the capital, and leaves kinds on the line', () => {
    const textOf = (symbol: string, part: 'kind' | 'raised'): string =>
      chordPieces(chordOf(symbol), 'large')
        .filter((piece) => piece.part === part)
        .map(({ text }) => text)
        .join('');
    for (const [symbol, kind, raised] of [
      ['Am7b5', 'm7', '♭5'],
      ['D7alt', '7', 'alt'],
      ['Bb7(b9)', '7', '(♭9)'],
      ['Cm(maj7)', 'm(maj7)', ''],
      ['Gdim7', 'dim7', ''],
      ['F6/9', '6/9', ''],
    ] as const) {
      expect(textOf(symbol, 'kind')).toBe(kind);
      expect(textOf(symbol, 'raised')).toBe(raised);
    }
    // Source Serif 4: capital 670 of 1000 units
    for (const step of STEPS) {
      for (const { part, riseEms } of chordPieces(chordOf('D7alt'), step))
        if (part === 'raised') expect(riseEms + 0.67 * CHORD_STEPS[step].raisedEms).toBeCloseTo(0.67, 6);
    }
  });
});
