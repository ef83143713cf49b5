import fc from 'fast-check';
import { createRequire } from 'node:module';
import { describe, expect, it } from 'vitest';
import {
  keysOf,
  midi,
  MINOR_PENTATONIC,
  MINOR_SIX_PENTATONIC,
  noteName,
  noteTextIn,
  positionAt,
  usualKeys,
  type Midi,
  type NoteName,
  type Position,
} from '@fivespan/core';
import { signRuns } from '../type/index.ts';
import { drawKeyboard, thumbsWithin } from './keyboard-picture.ts';
import { PALETTES } from './palette.ts';

interface Box {
  left: number;
  right: number;
  bottom: number;
}

/** The keys as drawn, read back from their outlines: `M x 0 h width v length …`. */
function keysIn(svg: string): Map<number, Box & { black: boolean }> {
  const keys = new Map<number, Box & { black: boolean }>();
  const found = svg.matchAll(/<path class="key (\w+)" data-midi="(\d+)" d="M([\d.-]+) 0h([\d.]+)v([\d.]+)a([\d.]+)/gu);
  for (const [, colour, key, x, width, straight, radius] of found) {
    const left = Number(x);
    keys.set(Number(key), {
      black: colour === 'black',
      left,
      right: left + Number(width),
      bottom: Number(straight) + Number(radius),
    });
  }
  return keys;
}

interface SetText {
  midi: number;
  x: number;
  y: number;
  size: number;
  text: string;
}

function textsIn(svg: string, role: string): SetText[] {
  const found = svg.matchAll(
    new RegExp(
      `<text class="${role}" data-midi="(\\d+)" x="([\\d.-]+)" y="([\\d.-]+)" font-size="([\\d.]+)"[^>]*>(.*?)</text>`,
      'gu',
    ),
  );
  return [...found].map(([, key, x, y, size, text = '']) => ({
    midi: Number(key),
    x: Number(x),
    y: Number(y),
    size: Number(size),
    text: text.replaceAll(/<[^>]*>/gu, ''),
  }));
}

function tabsIn(svg: string): { kind: string; midi: number; left: number; right: number; top: number }[] {
  const found = svg.matchAll(
    /<path class="tab (\w+)" data-midi="(\d+)" data-centre="[\d.-]+" d="M([\d.-]+) ([\d.-]+)h([\d.]+)/gu,
  );
  return [...found].map(([, kind = '', key, x, y, width]) => ({
    kind,
    midi: Number(key),
    left: Number(x),
    right: Number(x) + Number(width),
    top: Number(y),
  }));
}

function pictureOf(position: Position, thumbMidi: Midi, others: readonly NoteName[] = []): string {
  return drawKeyboard({
    lowest: midi(48),
    highest: midi(83),
    hand: { position, thumbMidi },
    otherThumbs: thumbsWithin(others, midi(48), midi(83)),
    degrees: [],
  });
}

const PLACES = [MINOR_PENTATONIC, MINOR_SIX_PENTATONIC].flatMap((shape) =>
  usualKeys('minor').map(({ tonic }) => {
    const position = positionAt(shape, tonic);
    const thumbMidi = Array.from({ length: 12 }, (_, step) => midi(53 + step)).find((each) => {
      try {
        return keysOf(position, each).length > 0;
      } catch {
        return false;
      }
    });
    return { position, thumbMidi: thumbMidi as Midi };
  }),
);

describe('a keyboard picture', () => {
  it('has every finger numeral inside its key, where no black key covers it', () => {
    for (const { position, thumbMidi } of PLACES) {
      const svg = pictureOf(position, thumbMidi);
      const keys = keysIn(svg);
      const fingers = textsIn(svg, 'finger');
      expect(fingers.map((each) => `${each.midi} ${each.text}`).sort()).toEqual(
        keysOf(position, thumbMidi)
          .map((key, index) => `${key} ${index + 1}`)
          .sort(),
      );
      for (const { midi: key, x, y, size } of fingers) {
        const box = keys.get(key)!;
        const half = (size * 0.7) / 2;
        expect(x - half).toBeGreaterThan(box.left);
        expect(x + half).toBeLessThan(box.right);
        expect(y).toBeLessThan(box.bottom);
        const blackEnd = Math.max(...[...keys.values()].filter((each) => each.black).map((each) => each.bottom));
        if (!box.black) expect(y - size * 0.75).toBeGreaterThan(blackEnd);
      }
      expect([...svg.matchAll(/class="under-hand"/gu)].length).toBe(5);
    }
  });

  it("hangs the tab from the middle of the thumb key's front edge, a black key's on a stem", () => {
    for (const { position, thumbMidi } of PLACES) {
      const svg = pictureOf(position, thumbMidi);
      const keys = keysIn(svg);
      const box = keys.get(thumbMidi)!;
      const [tab, ...more] = tabsIn(svg);
      expect(more).toEqual([]);
      expect(tab!.kind).toBe('now');
      expect((tab!.left + tab!.right) / 2).toBeCloseTo((box.left + box.right) / 2, 0);
      const front = Math.max(...[...keys.values()].map((each) => each.bottom));
      expect(tab!.top - front).toBeGreaterThanOrEqual(0);
      expect(tab!.top - front).toBeLessThan(2);
      const stem = /class="stem" d="M([\d.-]+) ([\d.]+)V([\d.]+)"/u.exec(svg);
      if (!box.black) expect(stem).toBeNull();
      else {
        expect(Number(stem![1])).toBeCloseTo((box.left + box.right) / 2, 1);
        expect(Number(stem![2]) - box.bottom).toBeLessThan(1);
        expect(Number(stem![3])).toBeCloseTo(tab!.top, 1);
      }
      expect(textsIn(svg, 'tab-name')[0]!.x).toBeCloseTo((tab!.left + tab!.right) / 2, 1);
    }
  });

  it('lets no tab cover another, whichever thumbs there are', () => {
    const names = fc.subarray(usualKeys('major').map((key) => key.tonic));
    fc.assert(
      fc.property(names, (others) => {
        const svg = pictureOf(positionAt(MINOR_PENTATONIC, noteName('Eb')), midi(63), others);
        const tabs = tabsIn(svg);
        for (const [index, a] of tabs.entries()) {
          for (const b of tabs.slice(index + 1)) {
            const apart = a.right <= b.left || b.right <= a.left || Math.abs(a.top - b.top) >= 18;
            expect(apart).toBe(true);
          }
        }
        expect(tabs.filter((tab) => tab.kind === 'now').length).toBe(1);
      }),
      { seed: 7, numRuns: 60 },
    );
  });

  it('sets degrees above the felt, never on a key, apart from one another, and marks what rubs with a sign of its own', () => {
    const svg = drawKeyboard({
      lowest: midi(60),
      highest: midi(83),
      hand: null,
      otherThumbs: [],
      degrees: Array.from({ length: 12 }, (_, each) => ({
        pitchClass: each as never,
        text: '♭13',
        kind: each % 2 === 0 ? ('rubs' as const) : ('tension' as const),
      })),
    });
    const keys = keysIn(svg);
    const felt = Number(/class="felt" x="[^"]*" y="([^"]*)"/u.exec(svg)![1]);
    const top = Number(/viewBox="[-\d.]+ ([-\d.]+)/u.exec(svg)![1]);
    const labels = textsIn(svg, 'degree').sort((a, b) => a.midi - b.midi);
    expect(labels.length).toBe(24);
    let end = -Infinity;
    for (const { midi: key, x, y, size } of labels) {
      expect(y).toBeLessThan(felt);
      expect(x).toBeGreaterThan(keys.get(key)!.left);
      expect(x).toBeLessThan(keys.get(key)!.right);
      // widths of ♭, 1 and 3: the sign font's and the bold sans's tables
      const half = (size * (0.294 + 2 * 0.513)) / 2;
      expect(x - half).toBeGreaterThan(end);
      end = x + half;
    }
    const rubs = textsIn(svg, 'rubs');
    expect(rubs.map((each) => each.text)).toEqual(Array.from({ length: 12 }, () => '✕'));
    for (const { y, size } of rubs) expect(y - size * 0.7).toBeGreaterThan(top);
  });

  it('dashes what is coming alone: other thumbs hang open, in a thinner line than the thumb now', () => {
    const picture = {
      lowest: midi(58),
      highest: midi(82),
      hand: { position: positionAt(MINOR_PENTATONIC, noteName('Bb')), thumbMidi: midi(58) },
      otherThumbs: [{ name: noteName('F'), midi: midi(65) }],
      degrees: [],
    };
    const svg = drawKeyboard({ ...picture, next: { name: noteName('Eb'), midi: midi(75), mark: '′' } });
    const strokeOf = (kind: string): string =>
      new RegExp(`class="tab ${kind}"[^>]*(stroke-width="[^/]*)/>`, 'u').exec(svg)?.[1] ?? '';
    expect(strokeOf('next')).toContain('stroke-dasharray');
    expect(strokeOf('now') + strokeOf('other')).not.toContain('stroke-dasharray');
    expect(Number.parseFloat(strokeOf('other').slice(14))).toBeLessThan(Number.parseFloat(strokeOf('now').slice(14)));
    expect(svg).toContain('Dashed tab, where the thumb goes next: E♭′.');
    expect(drawKeyboard(picture)).not.toContain('stroke-dasharray');
  });

  it('shows the hand in one look: naturals tinted with a line within, raised keys as a frame round the tint', () => {
    const { tint, black, handLine, onWhite } = PALETTES.light;
    const svg = pictureOf(positionAt(MINOR_PENTATONIC, noteName('Bb')), midi(58));
    const fillOf = (key: number): string =>
      new RegExp(`class="key \\w+" data-midi="${key}" [^>]*fill="([^"]*)"`, 'u').exec(svg)?.[1] ?? '';
    expect([fillOf(58), fillOf(65)]).toEqual([black, tint]);
    const within = [...svg.matchAll(/class="under-hand" d="[^"]*" fill="([^"]*)" stroke="([^"]*)"/gu)].map(
      ([, fill, stroke]) => `${fill} ${stroke}`,
    );
    // F is the natural of B flat's five
    expect(within.sort()).toEqual([`none ${handLine}`, ...Array.from({ length: 4 }, () => `${tint} none`)].sort());
    expect(new Set([...svg.matchAll(/class="finger"[^>]*fill="([^"]*)"/gu)].map(([, fill]) => fill))).toEqual(
      new Set([onWhite]),
    );
  });

  it('says in words what it shows', () => {
    const svg = pictureOf(positionAt(MINOR_PENTATONIC, noteName('Bb')), midi(58), [noteName('F')]);
    expect(svg).toContain('<title>Thumb on B♭: B♭ D♭ E♭ F A♭ under fingers 1 to 5.</title>');
    expect(svg).toContain('Finger 1 on B♭3, Finger 2 on D♭4');
    expect(svg).toContain('Open tabs, the other thumbs: F.');
  });

  it('is the same text every time, in two themes that share their geometry', () => {
    const place = { position: positionAt(MINOR_PENTATONIC, noteName('C')), thumbMidi: midi(60) };
    const picture = { lowest: midi(60), highest: midi(72), hand: place, otherThumbs: [], degrees: [] };
    expect(drawKeyboard(picture)).toBe(drawKeyboard(picture));
    const colours = /#[0-9a-f]{6}/gu;
    expect(drawKeyboard(picture, { theme: 'dark' })).not.toBe(drawKeyboard(picture));
    expect(drawKeyboard(picture, { theme: 'dark' }).replaceAll(colours, '')).toBe(
      drawKeyboard(picture).replaceAll(colours, ''),
    );
  });

  it('widens the stretch to white keys and to the hand, and refuses what is no keyboard', () => {
    const svg = drawKeyboard({
      lowest: midi(61),
      highest: midi(63),
      hand: { position: positionAt(MINOR_PENTATONIC, noteName('D')), thumbMidi: midi(62) },
      otherThumbs: [],
      degrees: [],
    });
    const keys = [...keysIn(svg).keys()];
    expect([Math.min(...keys), Math.max(...keys)]).toEqual([60, 72]);
    const bare = { hand: null, otherThumbs: [], degrees: [] };
    expect(() => drawKeyboard({ ...bare, lowest: midi(64), highest: midi(60) })).toThrow(RangeError);
    expect(() => drawKeyboard({ ...bare, lowest: midi(0), highest: midi(60) })).toThrow(RangeError);
    const wrong = { position: positionAt(MINOR_PENTATONIC, noteName('D')), thumbMidi: midi(61) };
    expect(() => drawKeyboard({ ...bare, lowest: midi(60), highest: midi(72), hand: wrong })).toThrow(RangeError);
  });
});

describe('names of notes in other languages', () => {
  /** The advance width of a name in the bold face the picture asks for, in ems, as fontkit (inside pdfkit) reads it from the font. */
  const require = createRequire(import.meta.url);
  const fontkit = createRequire(require.resolve('pdfkit'))('fontkit') as {
    openSync: (path: string) => { unitsPerEm: number; layout: (text: string) => { advanceWidth: number } };
  };
  const font = fontkit.openSync(require.resolve('@fontsource/source-sans-3/files/source-sans-3-latin-600-normal.woff'));
  const signs = fontkit.openSync(require.resolve('@fivespan/formats/fonts/signs-600.otf'));
  const ems = (text: string): number =>
    signRuns(text).reduce(
      (sum, run) => sum + (run.isSign ? signs : font).layout(run.text).advanceWidth / font.unitsPerEm,
      0,
    );

  it('fit their tab, the longest too, and are said in the description', () => {
    for (const language of ['german', 'do re mi'] as const) {
      for (const thumb of ['Bbb', 'C##', 'Gb', 'Ab', 'B', 'Bb', 'G##', 'Eb'].map(noteName)) {
        const position = positionAt(MINOR_PENTATONIC, noteName('C'));
        const named = noteTextIn(language, thumb);
        const svg = drawKeyboard(
          {
            lowest: midi(48),
            highest: midi(72),
            hand: { position, thumbMidi: midi(60) },
            otherThumbs: thumbsWithin([thumb], midi(49), midi(59)),
            degrees: [],
          },
          { noteText: (name) => noteTextIn(language, name) },
        );
        const label = textsIn(svg, 'tab-name').find((each) => each.text === named)!;
        expect(label.size * ems(named)).toBeLessThan(18.5);
        expect(label.size).toBeGreaterThanOrEqual(5);
        expect(/<desc>(.*)<\/desc>/u.exec(svg)?.[1]).toContain(named);
      }
    }
  });

  it('leave the picture as it is where letters are asked for', () => {
    const picture = {
      lowest: midi(48),
      highest: midi(72),
      hand: { position: positionAt(MINOR_PENTATONIC, noteName('Eb')), thumbMidi: midi(63) },
      otherThumbs: [],
      degrees: [],
    };
    expect(drawKeyboard(picture, { noteText: (name) => noteTextIn('english', name) })).toBe(drawKeyboard(picture));
  });
});
