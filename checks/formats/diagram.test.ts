/**
 * Keyboard pictures against published measures.
 * Sources: docs/sources.md, 1: centres of the keys in public code, dvdrndlph/pydactyl Parncutt.py (R), and
 * widths and lengths of keys (R, weak); section 10: contrast as WCAG 2.2 computes it, and what it asks of text (R).
 */
import { describe, expect, it } from 'vitest';
import { midi, MINOR_PENTATONIC, noteName, positionAt, type PitchClass } from '@fivespan/core';
import { drawKeyboard, PALETTES } from '@fivespan/formats/diagram';

/** Centres from C in millimetres. R: pydactyl, physical ruler. */
const CENTRES_MM = [0, 9.5, 23.5, 37.5, 47, 70.5, 78.5, 94, 105.5, 117, 132.5, 140.5, 164];

const svg = drawKeyboard({
  lowest: midi(60),
  highest: midi(72),
  hand: null,
  otherThumbs: [],
  degrees: [],
});

const keys = [
  ...svg.matchAll(/<path class="key (\w+)" data-midi="(\d+)" d="M([\d.-]+) 0h([\d.]+)v([\d.]+)a([\d.]+)/gu),
].map(([, colour, key, x, width, straight, radius]) => ({
  black: colour === 'black',
  midi: Number(key),
  centre: Number(x) + Number(width) / 2,
  width: Number(width),
  length: Number(straight) + Number(radius),
}));

describe('the keyboard as drawn', () => {
  it('has its keys where the published ruler has them, to an eighth of a millimetre', () => {
    const from = keys.find((key) => key.midi === 60)!.centre;
    expect(keys.length).toBe(13);
    // an A is half a millimetre nearer its G than the mean (C): a white key's middle may lie off its printed centre by 1/8 mm
    for (const key of keys) {
      expect(Math.abs(key.centre - from - CENTRES_MM[key.midi - 60]!), `key ${key.midi}`).toBeLessThanOrEqual(0.13);
    }
  });

  it('has keys of published widths, in the published proportion of lengths', () => {
    for (const { black, width } of keys) {
      // R (weak): black 9.5 to 11 mm; R: white about 23.5 mm
      if (black) expect(width).toBeGreaterThanOrEqual(9.5);
      if (black) expect(width).toBeLessThanOrEqual(11);
      else expect(Math.abs(width - 23.5)).toBeLessThanOrEqual(0.5);
    }
    const [white, black] = [keys.find((key) => !key.black)!, keys.find((key) => key.black)!];
    // R: black 94 to 96 mm of a white key's six inches (152.4 mm); 150 to 152.4 by source
    expect(black.length / white.length).toBeGreaterThan(94 / 152.4);
    expect(black.length / white.length).toBeLessThan(96 / 150);
  });
});

/** Relative luminance and contrast. R: WCAG 2.2, threshold .04045. */
function luminanceOf(colour: string): number {
  const [red = 0, green = 0, blue = 0] = [1, 3, 5].map((at) => {
    const value = Number.parseInt(colour.slice(at, at + 2), 16) / 255;
    return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}

function contrastOf(a: string, b: string): number {
  const [light = 0, dark = 0] = [luminanceOf(a), luminanceOf(b)].sort((x, y) => y - x);
  return (light + 0.05) / (dark + 0.05);
}

describe('the colours', () => {
  it('are measured as published: blue #0072B2 on white is 5.19, vermillion #D55E00 3.87', () => {
    // C in the reference, from the colours of Okabe and Ito
    expect(contrastOf('#0072B2', '#ffffff')).toBeCloseTo(5.19, 2);
    expect(contrastOf('#D55E00', '#ffffff')).toBeCloseTo(3.87, 2);
  });

  it.each(['light', 'dark'] as const)(
    'give every text of the %s theme 4.5:1, every outline of the hand 3:1',
    (theme) => {
      const palette = PALETTES[theme];
      const texts = [
        [palette.onWhite, palette.white],
        [palette.onWhite, palette.tint],
        [palette.rubs, palette.paper],
        [palette.onBlack, palette.black],
        [palette.ink, palette.paper],
        [palette.soft, palette.paper],
      ] as const;
      for (const [text, ground] of texts)
        expect(contrastOf(text, ground), `${text} on ${ground}`).toBeGreaterThanOrEqual(4.5);
      for (const [line, ground] of [
        [palette.handLine, palette.tint],
        [palette.handLine, palette.white],
        [palette.tint, palette.black],
      ] as const) {
        expect(contrastOf(line, ground), `${line} on ${ground}`).toBeGreaterThanOrEqual(3);
      }
    },
  );

  it('use no colour that is not in the theme', () => {
    const all = drawKeyboard(
      {
        lowest: midi(60),
        highest: midi(83),
        hand: { position: positionAt(MINOR_PENTATONIC, noteName('Eb')), thumbMidi: midi(63) },
        otherThumbs: [{ name: noteName('F'), midi: midi(65) }],
        degrees: [
          { pitchClass: 3 as PitchClass, text: '1', kind: 'chord tone' },
          { pitchClass: 5 as PitchClass, text: '9', kind: 'tension' },
          { pitchClass: 8 as PitchClass, text: '4', kind: 'rubs' },
        ],
      },
      { theme: 'dark' },
    );
    const known: readonly string[] = Object.values(PALETTES.dark);
    for (const [colour] of all.matchAll(/#[0-9a-fA-F]{3,6}/gu)) expect(known).toContain(colour);
  });
});
