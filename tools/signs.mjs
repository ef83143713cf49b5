/**
 * Makes the sign font, 'Fivespan Signs': accidentals and the few other signs that no text face has, in the weights of the
 * text faces. `node tools/signs.mjs` writes packages/formats/fonts; the same bytes on every machine (tools/signs.test.ts).
 *
 * Most are Noto Music's outlines (OFL 1.1), scaled, placed and emboldened to Source Serif 4's measures; the rest are drawn here:
 * △ is in none of the faces (the Greek Δ is a letter), nor are ✕ → ← ‴ ⁗ and the sign for a character that is missing.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import opentype from 'opentype.js';
import wawoff2 from 'wawoff2';

// the parser that pdfkit brings
const { resolve } = createRequire(import.meta.url);
const fontkit = createRequire(resolve('pdfkit'))('fontkit');

/** Source Serif 4's capital (its OS/2 table), of 1000 units to the em, and half of it: what signs are centred on. */
const CAPITAL = 670;
const MIDDLE = CAPITAL / 2;

/** How far every edge moves out, in units, by weight: stems as dark as the letters'. Found by looking, 12 to 120 px. */
export const WEIGHTS = { 400: 1, 600: 10, 700: 18 };

/**
 * Noto Music's signs: wished height, where they stand (a foot, or centred on half the capital), side bearings. Text signs are
 * `plain`: their own weight is dark enough, they move out by half as much.
 */
const FROM_NOTO = {
  '♭': { height: 775, bottom: -14, left: 26, right: 18 },
  '♮': { height: 800, left: 34, right: 30 },
  '♯': { height: 800, left: 30, right: 30 },
  '𝄪': { height: 320, left: 34, right: 30 },
  '𝄫': { height: 775, bottom: -14, left: 26, right: 18 },
  '♩': { height: 730, bottom: -6, left: 20, right: 40, plain: true },
  '♪': { height: 730, bottom: -6, left: 20, right: 30, plain: true },
  '\u{1D15E}': { height: 730, bottom: -6, left: 20, right: 40, plain: true },
  '𝄋': { height: 900, left: 40, right: 40, plain: true },
  '𝄌': { height: 820, left: 30, right: 30, plain: true },
  '𝄎': { height: 560, left: 30, right: 30, plain: true },
};

const on = (x, y) => ({ x, y, on: true });

/** A stroke with flat ends as a closed outline, clockwise. */
function stroke([x1, y1], [x2, y2], width) {
  const length = Math.hypot(x2 - x1, y2 - y1);
  const [dx, dy] = [((y2 - y1) / length) * (width / 2), ((x1 - x2) / length) * (width / 2)];
  return [on(x1 - dx, y1 - dy), on(x2 - dx, y2 - dy), on(x2 + dx, y2 + dy), on(x1 + dx, y1 + dy)];
}

/** A triangle's outline with a counter of even width: the lowest corners at the baseline. */
function triangle(left, width, height, line) {
  const side = Math.hypot(width / 2, height);
  const [a, b, c] = [on(left, 0), on(left + width / 2, height), on(left + width, 0)];
  // how far each corner moves in along the sides' bisectors
  const foot = (line * (side + width / 2)) / height;
  const top = (line * side) / (width / 2);
  const inner = [on(a.x + foot, line), on(c.x - foot, line), on(b.x, height - top)];
  return [[a, b, c], inner];
}

/** Minute signs: slanting wedges that hang from a little above the capital. */
function primes(count, thick) {
  const wedges = Array.from({ length: count }, (_, index) => {
    const x = 40 + index * (104 + thick * 0.5);
    return [on(x, 440), on(x + 62, 712), on(x + 62 + thick, 712), on(x + thick * 0.42 + 10, 440)];
  });
  return { contours: wedges, width: 40 + count * (104 + thick * 0.5) + 34 };
}

/** Signs that are drawn here, by the width of a stem in the weight. */
function drawn(stem) {
  const arrow = (mirrored) => {
    const at = (x, y) => (mirrored ? on(860 - x, y) : on(x, y));
    const half = stem * 0.38;
    const points = [
      at(60, MIDDLE + half),
      at(690, MIDDLE + half),
      at(560, MIDDLE + 150),
      at(560 + stem * 0.9, MIDDLE + 150 + stem * 0.3),
      at(800, MIDDLE),
      at(560 + stem * 0.9, MIDDLE - 150 - stem * 0.3),
      at(560, MIDDLE - 150),
      at(690, MIDDLE - half),
      at(60, MIDDLE - half),
    ];
    return { contours: [mirrored ? points.reverse() : points], width: 860 };
  };
  const [low, high] = [MIDDLE - 215, MIDDLE + 215];
  const cross = {
    contours: [stroke([60, low], [490, high], stem * 0.95), stroke([60, high], [490, low], stem * 0.95)],
    width: 550,
  };
  const box = [
    [on(60, 0), on(60, CAPITAL), on(540, CAPITAL), on(540, 0)],
    [on(60 + 50, 50), on(540 - 50, 50), on(540 - 50, CAPITAL - 50), on(60 + 50, CAPITAL - 50)],
    stroke([60, 0], [540, CAPITAL], 50),
  ];
  const small = triangle(30, 420, 380, stem * 0.62);
  return {
    '△': { contours: triangle(30, 640, 600, stem * 0.72), width: 700 },
    '▵': { contours: small, width: 480 },
    '✕': cross,
    '→': arrow(false),
    '←': arrow(true),
    '′': primes(1, stem),
    '″': primes(2, stem),
    '‴': primes(3, stem),
    '⁗': primes(4, stem),
    '‑': { contours: [stroke([50, 245], [290, 245], stem * 0.8)], width: 340 },
    '\uFFFD': { contours: box, width: 600 },
  };
}

/** The width of a stem the drawn signs go by, in units. */
const STEM = { 400: 66, 600: 96, 700: 118 };

/** The signs of the font, in the order of their code points. */
export const SIGNS = [...Object.keys(FROM_NOTO), ...Object.keys(drawn(60))].sort(
  (a, b) => a.codePointAt(0) - b.codePointAt(0),
);

/** A glyph's outlines as rings of points, on the curve or controlling a quadratic one. */
function ringsOf(glyph) {
  const rings = [];
  for (const { command, args } of glyph.path.commands) {
    if (command === 'moveTo') rings.push([on(args[0], args[1])]);
    else if (command === 'lineTo') rings.at(-1).push(on(args[0], args[1]));
    else if (command === 'quadraticCurveTo')
      rings.at(-1).push({ x: args[0], y: args[1], on: false }, on(args[2], args[3]));
    else if (command !== 'closePath') throw new Error(`an outline must be quadratic, not ${command}`);
  }
  for (const ring of rings) {
    const [first, last] = [ring[0], ring.at(-1)];
    if (ring.length > 1 && first.x === last.x && first.y === last.y && last.on) ring.pop();
  }
  return rings;
}

/** A ring moved out (a counter: in) along the bisector at each point. */
function movedOut(ring, distance) {
  const count = ring.length;
  const direction = (from, step) => {
    for (let k = 1; k < count; k++) {
      const other = ring[(from + k * step + count) % count];
      const [dx, dy] = [(other.x - ring[from].x) * step, (other.y - ring[from].y) * step];
      const length = Math.hypot(dx, dy);
      if (length > 0.5) return [dx / length, dy / length];
    }
    return [0, 0];
  };
  return ring.map((point, index) => {
    const [before, after] = [direction(index, -1), direction(index, 1)];
    const [n1, n2] = [
      { x: -before[1], y: before[0] },
      { x: -after[1], y: after[0] },
    ];
    const sharpness = 1 / (1 + n1.x * n2.x + n1.y * n2.y);
    // a spike is cut short
    const reach = Math.min(Number.isFinite(sharpness) ? sharpness : 1.6, 1.6);
    return {
      x: point.x + distance * (n1.x + n2.x) * reach,
      y: point.y + distance * (n1.y + n2.y) * reach,
      on: point.on,
    };
  });
}

const areaOf = (ring) =>
  ring.reduce((sum, point, index) => {
    const next = ring[(index + 1) % ring.length];
    return sum + point.x * next.y - next.x * point.y;
  }, 0);

function glyphOf(sign, rings, shiftX, shiftY, advanceWidth) {
  const path = new opentype.Path();
  for (const ring of rings) {
    const points = ring.map(({ x, y, on: isOn }) => ({ x: Math.round(x + shiftX), y: Math.round(y + shiftY), isOn }));
    path.moveTo(points[0].x, points[0].y);
    for (let index = 1; index < points.length; index++) {
      const point = points[index];
      if (point.isOn) path.lineTo(point.x, point.y);
      else {
        const end = points[(index + 1) % points.length];
        path.quadraticCurveTo(point.x, point.y, end.x, end.y);
        index++;
      }
    }
    path.close();
  }
  const unicode = sign.codePointAt(0);
  return new opentype.Glyph({
    name: `u${unicode.toString(16)}`,
    unicode,
    advanceWidth: Math.round(advanceWidth),
    path,
  });
}

/** A sign of Noto Music at our measures. */
function fromNoto(source, sign, distance) {
  const { height, bottom, left, right, plain } = FROM_NOTO[sign];
  const glyph = source.glyphForCodePoint(sign.codePointAt(0));
  const scale = height / (glyph.bbox.maxY - glyph.bbox.minY);
  let rings = ringsOf(glyph).map((ring) => ring.map((point) => ({ ...point, x: point.x * scale, y: point.y * scale })));
  const largest = rings.reduce((most, ring) => (Math.abs(areaOf(ring)) > Math.abs(areaOf(most)) ? ring : most));
  const outward = areaOf(largest) < 0 ? 1 : -1;
  rings = rings.map((ring) => movedOut(ring, outward * distance * (plain === true ? 0.6 : 1)));
  const xs = rings.flat().map(({ x }) => x);
  const ys = rings.flat().map(({ y }) => y);
  const [x0, x1, y0, y1] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const shiftY = bottom === undefined ? MIDDLE - (y0 + y1) / 2 : bottom - y0;
  return glyphOf(sign, rings, left - x0, shiftY, left + x1 - x0 + right);
}

/** Runs with the clock stopped: the library writes the moment into the font, and has no option for all of it. */
function atFixedTime(work) {
  const { Date: clock } = globalThis;
  globalThis.Date = class extends clock {
    constructor() {
      super(clock.UTC(2000, 0, 1));
    }
  };
  try {
    return work();
  } finally {
    globalThis.Date = clock;
  }
}

/** The font in one weight, as OpenType and as WOFF2. */
export async function signFont(weight) {
  const source = fontkit.create(
    readFileSync(resolve('@fontsource/noto-music/files/noto-music-music-400-normal.woff2')),
  );
  const ours = drawn(STEM[weight]);
  const glyphs = [
    new opentype.Glyph({ name: '.notdef', advanceWidth: 300, path: new opentype.Path() }),
    ...SIGNS.map((sign) =>
      sign in FROM_NOTO
        ? fromNoto(source, sign, WEIGHTS[weight])
        : glyphOf(sign, ours[sign].contours, 0, 0, ours[sign].width),
    ),
  ];
  const font = new opentype.Font({
    familyName: 'Fivespan Signs',
    styleName: String(weight),
    unitsPerEm: 1000,
    // the serif's: a sign never changes the height of a line
    ascender: 1036,
    descender: -335,
    glyphs,
    license: 'SIL Open Font License 1.1; outlines after Noto Music, (c) 2022 The Noto Project Authors',
  });
  const otf = new Uint8Array(atFixedTime(() => font.toArrayBuffer()));
  return { otf, woff2: await wawoff2.compress(otf) };
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const folder = join(import.meta.dirname, '..', 'packages', 'formats', 'fonts');
  for (const weight of Object.keys(WEIGHTS)) {
    const { otf, woff2 } = await signFont(weight);
    writeFileSync(join(folder, `signs-${weight}.otf`), otf);
    writeFileSync(join(folder, `signs-${weight}.woff2`), woff2);
    console.log(`signs-${weight}: ${otf.length} bytes, ${woff2.length} as WOFF2`);
  }
}
