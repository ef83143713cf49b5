/**
 * Sources: verovio 6.3.0 as the engraver whose pictures these are; SMuFL 1.4 for private-use code points (from memory);
 * svg-to-pdfkit and pdfkit as the PDF writer that must be able to draw them; fontkit (inside pdfkit) as a reader of fonts.
 * How notation reads (digits off stems, nothing outside the picture): common practice.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { DEFAULT_CHOICES, lessonMaker, parseKey, readChart, type ScoreChord } from '@fivespan/core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import {
  createEngraver,
  ENGRAVING_TEXT_FONT,
  musicFont,
  type Engraver,
} from '../../packages/formats/src/engraving/index.ts';
import { HANDOUT_FONT_FILES } from '../../packages/formats/src/handout/index.ts';
import { writeMusicXml } from '../../packages/formats/src/musicxml/index.ts';
import { barAt, inventedScore, keyOf, line } from '../../packages/formats/src/musicxml/invented-score.ts';

const EXAMPLES = join(import.meta.dirname, '../../examples');
const score = inventedScore();
const both = writeMusicXml(score, { purpose: 'engraving', parts: ['right hand', 'left hand'], tempo: true });

let engraver: Engraver;
let systems: readonly string[];
beforeAll(async () => {
  engraver = await createEngraver();
  systems = engraver.engrave(both, { widthMm: 180 });
});
afterAll(() => engraver.close());

interface Placed {
  readonly text: string;
  readonly x: number;
  readonly y: number;
  readonly size: number;
}

const number = (tag: string, name: string): number => Number(new RegExp(`\\s${name}="([\\d.-]+)"`, 'u').exec(tag)?.[1]);

/** Texts of one class in a picture. */
function texts(svg: string, name: string): Placed[] {
  return [...svg.matchAll(new RegExp(`<g class="${name}">(?:<rect[^>]*>)?(<text[\\s\\S]*?</text>)`, 'gu'))].map(
    ([, tag = '']) => ({
      text: tag.replaceAll(/<[^>]*>/gu, ''),
      x: number(tag, 'x'),
      y: number(tag, 'y'),
      size: number(tag, 'font-size'),
    }),
  );
}

describe('systems', () => {
  test('one picture a system, as wide as asked, cropped to its height', () => {
    expect(systems).toHaveLength(2);
    for (const svg of systems) {
      expect(svg).toMatch(/^<svg [^>]*width="180mm"/u);
      const height = Number(/height="([\d.]+)mm"/u.exec(svg)?.[1]);
      expect(height).toBeGreaterThan(20);
      expect(height).toBeLessThan(60);
      expect(svg).toContain(`viewBox="0 0 18000 ${Math.round(height * 100)}"`);
    }
  });

  test('the staff is as high as asked', () => {
    for (const staffHeightMm of [4.8, 5.6, 7.2]) {
      const [svg = ''] = engraver.engrave(both, { widthMm: 180, staffHeightMm });
      const lines = [...svg.matchAll(/<g class="staff">((?:<path[^>]*>){5})/gu)][0]?.[1] ?? '';
      const heights = [...lines.matchAll(/d="M\d+ (\d+)/gu)].map(([, y]) => Number(y));
      expect(Math.max(...heights) - Math.min(...heights)).toBeCloseTo(staffHeightMm * 100, -1);
    }
  });

  test('twice the same text, from another engraver too', async () => {
    expect(engraver.engrave(both, { widthMm: 180 })).toEqual(systems);
    const other = await createEngraver();
    other.engrave(writeMusicXml(score, { parts: ['arpeggio study'] }), { widthMm: 90 });
    expect(other.engrave(both, { widthMm: 180 })).toEqual(systems);
    other.close();
  });

  test('what is no score, and a width no page has, are refused by name', () => {
    expect(() => engraver.engrave('<nothing/>', { widthMm: 180 })).toThrow(/musicXml/u);
    expect(() => engraver.engrave(both, { widthMm: 10 })).toThrow(/widthMm/u);
  });
});

describe('pictures for a page one can point at', () => {
  const asked = { purpose: 'engraving', parts: ['right hand', 'left hand'], tempo: true, noteIds: true } as const;

  test('every note keeps its id where asked for, once; otherwise the picture is the same to the last byte', () => {
    const xml = writeMusicXml(score, asked);
    const written = [...xml.matchAll(/<note id="([^"]*)"/gu)].map(([, id]) => id);
    const drawn = engraver
      .engrave(xml, { widthMm: 180, noteIds: true })
      .flatMap((svg) => [...svg.matchAll(/<g data-note="([^"]*)" class="note"/gu)].map(([, id]) => id));
    expect(new Set(drawn)).toEqual(new Set(written));
    expect(drawn).toHaveLength(written.length);
    expect(engraver.engrave(xml, { widthMm: 180 })).toEqual(systems);
  });

  test('in another ink nothing is left black', () => {
    for (const svg of engraver.engrave(both, { widthMm: 180, ink: 'currentColor' })) expect(svg).not.toContain('#000');
  });
});

describe('symbols read right', () => {
  test('chords, numerals and N.C. with ♭ and ♯, in order, on one line', () => {
    const harmonies = systems.flatMap((svg) => texts(svg, 'harm').map((each) => each.text));
    const chords = ['N.C.', 'Fm7', 'B♭7(♭9)', 'B♭7alt', 'E♭maj7(♯11)', 'Fm7♭5', 'B♭7(♭9)', 'E♭/G'];
    const numerals = ['iim7', 'V7(♭9)', 'V7alt', 'Imaj7(♯11)', 'iim7♭5', 'subV7/IV', 'I'];
    expect([...harmonies].sort()).toEqual([...chords, ...numerals].sort());
    const [first = ''] = systems;
    const baselines = new Set(texts(first, 'harm').map((each) => each.y));
    expect(baselines.size).toBe(2);
  });

  test('thumbs, sections, bar numbers and tempo', () => {
    const all = systems.join('');
    expect(texts(all, 'dir').map((each) => each.text)).toEqual(['F', 'D', 'G♯']);
    expect(texts(all, 'reh').map((each) => each.text)).toEqual(['A', 'B']);
    expect(texts(all, 'tempo').map((each) => each.text.replaceAll('\u00A0', ' '))).toEqual(['Swing ♩ = 132']);
  });

  test('no private-use character, no style sheet, no embedded font, no markup that a PDF writer would miss', () => {
    for (const svg of systems) {
      expect(svg).not.toMatch(/[\uE000-\uF8FF]/u);
      expect(svg).not.toMatch(/<style|@font-face|base64|currentColor|<script|href="(?!#)/u);
      for (const [shape] of svg.matchAll(/<(?:path|rect|polygon|polyline|ellipse)\b[^>]*stroke-width[^>]*>/gu)) {
        expect(shape).toContain('stroke="#000"');
      }
      for (const [, id] of svg.matchAll(/xlink:href="#([^"]+)"/gu)) expect(svg).toContain(`id="${id}"`);
    }
  });

  test('a bare copy for the player has no numerals, digits or thumbs', () => {
    const options = {
      purpose: 'engraving',
      parts: ['right hand'],
      numerals: false,
      fingers: false,
      thumbs: false,
    } as const;
    const bare = engraver.engrave(writeMusicXml(score, options), { widthMm: 180 }).join('');
    expect(texts(bare, 'fing')).toEqual([]);
    expect(texts(bare, 'dir')).toEqual([]);
    expect(texts(bare, 'harm')).toHaveLength(score.chords.length);
  });
});

describe('nothing collides', () => {
  /** Stems as x, top and bottom. */
  const stems = (svg: string): { x: number; top: number; bottom: number }[] =>
    [...svg.matchAll(/<g class="stem"><path[^>]*d="M(\d+) (\d+) L\d+ (\d+)"/gu)].map(([, x, a, b]) => ({
      x: Number(x),
      top: Math.min(Number(a), Number(b)),
      bottom: Math.max(Number(a), Number(b)),
    }));

  const lines: readonly (readonly [string, string])[] = [
    ['lone eighths of every height', 'F4:480:1 -:480 G4:480:2 -:480 A4:480:3 -:480 Bb4:480:4 -:480'],
    ['lone quarters', 'E4:960:1 G4:960:2 A4:960:3 C5:960:5'],
    ['half notes low and high', 'A4:1920:1 Ab5:1920:5'],
    ['chords with seconds', 'G4+A4+D5:1920:124 F4+G4:960:12 -:960'],
    ['ledger lines', 'B3:480:1 -:480 D6:480:5 -:480 A3:960:1 E6:960:5'],
  ];
  test.each(lines)('digits stand off the stems: %s', (_name, notes) => {
    const bars = [barAt(1, 0, keyOf('Eb major'))];
    const staves = [{ role: 'right hand' as const, clef: 'treble' as const, notes: line(notes) }];
    const xml = writeMusicXml({ ...score, bars, staves, chords: [], thumbs: [] }, { purpose: 'engraving' });
    const [svg = ''] = engraver.engrave(xml, { widthMm: 120 });
    const digits = texts(svg, 'fing');
    expect(digits.length).toBeGreaterThan(0);
    for (const digit of digits) {
      const halfWidth = digit.size * 0.4;
      for (const stem of stems(svg)) {
        if (Math.abs(stem.x - digit.x) > halfWidth) continue;
        // the digit's box, from its baseline up, shares no height with the stem
        expect(digit.y <= stem.top + 5 || digit.y - digit.size * 0.75 >= stem.bottom).toBe(true);
      }
    }
  });

  test('digits and symbols share no place', () => {
    const notes = 'G4:480:3 A4:1440:4 A4:480:2 -:480 G4:960:1 A4:480:5 C5:480:4 A4:960:3 A4:1920:2';
    const bars = [barAt(1, 0, keyOf('Eb major')), barAt(2, 3840, keyOf('Eb major'))];
    const staves = [{ role: 'right hand' as const, clef: 'treble' as const, notes: line(notes) }];
    const places = [0, 960, 1920, 2880, 3840, 4800, 5760];
    const chords = places.map((startTicks, index) => ({ ...score.chords[1 + (index % 5)], startTicks }) as ScoreChord);
    const xml = writeMusicXml(
      { ...score, bars, staves, chords, thumbs: [] },
      { purpose: 'engraving', numerals: false },
    );
    for (const widthMm of [120, 180]) {
      for (const svg of engraver.engrave(xml, { widthMm })) {
        const symbols = texts(svg, 'harm');
        expect(symbols.length).toBeGreaterThan(0);
        for (const digit of texts(svg, 'fing')) {
          for (const symbol of symbols) {
            const isAside =
              digit.x + digit.size * 0.4 < symbol.x || digit.x > symbol.x + symbol.text.length * symbol.size;
            // a symbol's parentheses hang a fifth of its size below its baseline
            expect(isAside || digit.y - digit.size * 0.75 >= symbol.y + symbol.size * 0.2).toBe(true);
          }
        }
      }
    }
  });

  /** Left, right, and the heights between which a symbol's letters lie, its j and its brackets too. */
  const symbolBoxes = (svg: string): { text: string; left: number; right: number; bottom: number }[] =>
    [...svg.matchAll(/<g class="harm"><text x="([\d.-]+)" y="([\d.-]+)"[^>]*>(.*?)<\/text>/gu)].map(
      ([, x = '', y = '', body = '']) => {
        const runs = [...body.matchAll(/<tspan font-size="([\d.]+)"[^>]*>([^<]*)/gu)].map(
          ([, size = '', text = '']) => ({
            size: Number(size),
            text,
          }),
        );
        const descent = Math.max(...runs.map(({ size, text }) => (/[jgpqy(),/]/u.test(text) ? size * 0.22 : 0)));
        const width = runs.reduce((sum, { size, text }) => sum + size * 0.65 * text.length, 0);
        return {
          text: runs.map((each) => each.text).join(''),
          left: Number(x),
          right: Number(x) + width,
          bottom: Number(y) + descent,
        };
      },
    );

  const examples = readdirSync(EXAMPLES).filter((name) => name.endsWith('.chart'));
  test.each(examples)('no finger touches a chord symbol in a film: %s', (name) => {
    const read = readChart(readFileSync(join(EXAMPLES, name), 'utf8'));
    if (!read.ok) throw new TypeError('an example must be a chart');
    const lessonOf = lessonMaker();
    // as a film's rows are set
    const film = { widthMm: 300, staffHeightMm: 7, textScale: 1.25, barNumbers: false, fillsLastSystem: true };
    let compared = 0;
    for (const key of ['Eb major', 'A major']) {
      for (const level of [2, 4] as const) {
        const { score: of } = lessonOf(read.value, { ...DEFAULT_CHOICES, level }, parseKey(key) ?? null);
        // rows of four bars: a digit moved up in another would make room in this one too
        for (let from = 0; from < of.bars.length; from += 4) {
          const bars = { from, to: Math.min(from + 4, of.bars.length) };
          const options = {
            purpose: 'engraving',
            parts: ['right hand'],
            numerals: false,
            thumbs: false,
            bars,
          } as const;
          for (const svg of engraver.engrave(writeMusicXml(of, options), film)) {
            const symbols = symbolBoxes(svg);
            for (const digit of texts(svg, 'fing')) {
              const half = digit.size * 0.3;
              const over = symbols.filter(({ left, right }) => digit.x + half > left && digit.x - half < right);
              for (const { text, bottom } of over) {
                const gap = digit.y - digit.size * 0.73 - bottom;
                // a tenth of the digit's size is white that is still seen
                expect(gap, `${key}, level ${level}: ${digit.text} under ${text}`).toBeGreaterThan(digit.size * 0.1);
                compared++;
              }
            }
          }
        }
      }
    }
    expect(compared).toBeGreaterThan(50);
  });

  test('everything lies inside the picture', () => {
    for (const svg of systems) {
      const [, width = '0', height = '0'] = /viewBox="0 0 (\d+) (\d+)"/u.exec(svg) ?? [];
      for (const name of ['harm', 'fing', 'reh', 'dir', 'mNum', 'tempo']) {
        for (const each of texts(svg, name)) {
          expect(each.y - each.size).toBeGreaterThanOrEqual(-each.size * 0.3);
          expect(each.y).toBeLessThanOrEqual(Number(height));
          expect(each.x).toBeLessThan(Number(width));
        }
      }
    }
  });
});

describe('the PDF writer can draw it', () => {
  // the packages the pictures are made for are those of packages/formats
  const fromFormats = createRequire(join(import.meta.dirname, '../..', 'packages', 'formats', 'package.json'));
  interface Font {
    hasGlyphForCodePoint(code: number): boolean;
  }
  const fontkit = createRequire(fromFormats.resolve('pdfkit'))('fontkit') as {
    create(bytes: Buffer): Font;
    openSync(path: string): Font;
  };

  test('the music font is TrueType and holds the note of a metronome mark', async () => {
    const font = await musicFont();
    expect(font.slice(0, 4)).toEqual(Uint8Array.of(0, 1, 0, 0));
    const read = fontkit.create(Buffer.from(font));
    // SMuFL: metNoteHalfUp, metNoteQuarterUp, metAugmentationDot
    for (const code of [0xeca3, 0xeca5, 0xecb7]) expect(read.hasGlyphForCodePoint(code)).toBe(true);
  });

  test('the fonts named have every character the pictures use: letters the serif or the sans, signs the sign font', () => {
    expect(ENGRAVING_TEXT_FONT).toBe("'Fivespan Signs', 'Source Serif 4', serif");
    const serif = fontkit.openSync(fromFormats.resolve(HANDOUT_FONT_FILES['serif-bold']));
    const signs = fontkit.openSync(fromFormats.resolve(HANDOUT_FONT_FILES['signs-bold']));
    const all = systems.join('');
    const inSpans = [...all.matchAll(/<tspan[^>]*font-family="Fivespan Signs"[^>]*>([^<]*)</gu)].map(
      ([, text]) => text,
    );
    expect(inSpans.length).toBeGreaterThan(0);
    for (const sign of inSpans.join(''))
      expect([sign, signs.hasGlyphForCodePoint(sign.codePointAt(0)!)]).toEqual([sign, true]);
    const others = all
      .replaceAll(/<tspan[^>]*font-family="Fivespan Signs"[^>]*>[^<]*/gu, '')
      .replaceAll(/<[^>]*>|\n/gu, '');
    for (const sign of new Set(others))
      expect([sign, serif.hasGlyphForCodePoint(sign.codePointAt(0)!)]).toEqual([sign, true]);
  });
});
