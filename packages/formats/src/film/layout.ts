/** How a film is cut: across, upright, square. */
export const FILM_SHAPES = ['wide', 'tall', 'square'] as const;
export type FilmShape = (typeof FILM_SHAPES)[number];

/** A rectangle of a frame, in the layout's units: 1080 to the frame's short side. */
export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** Where everything stands in one shape. */
export interface FilmLayout {
  readonly width: number;
  readonly height: number;
  /** Texts stay inside. Source: EBU R 95 (from memory): 5 % on every side. */
  readonly safe: Box;
  readonly heading: Box | null;
  /** The written music and the stroke under its bar; how many bars stand beside each other, and how many such rows are seen. */
  readonly line: Box;
  readonly barsARow: number;
  readonly rows: number;
  readonly card: Box;
  /** Chord now, barline, next chord; where the slashes stand. */
  readonly now: Box;
  readonly nowBaseline: number;
  readonly nowSize: number;
  /** Where the chord stands while no time passes: degrees may stand over the keys. */
  readonly still: { readonly baseline: number; readonly size: number };
  /** Titles and ends, alone in the frame. */
  readonly title: Box;
  readonly slashes: 'beside' | 'below';
  readonly nextBaseline: number;
  readonly nextSize: number;
  /** The keys alone; the felt is above, tabs hang below. */
  readonly keyboard: Box;
  readonly tabHeight: number;
  readonly caption: Box;
  readonly captionSize: number;
  readonly captionLines: number;
  /** The one sheet everything is on over a camera's picture; null where the whole frame is paper. */
  readonly sheet: Box | null;
}

/** A rectangle with a part of a frame's width or height left free on each side. */
function inset(width: number, height: number): Box {
  const [dx, dy] = [Math.round(width * 0.05), Math.round(height * 0.05)];
  return { x: dx, y: dy, width: width - 2 * dx, height: height - 2 * dy };
}

const box = (x: number, y: number, width: number, height: number): Box => ({ x, y, width, height });

/** Found by looking, at full size. The frame of paper. */
const ON_PAPER: Readonly<Record<FilmShape, FilmLayout>> = {
  wide: {
    width: 1920,
    height: 1080,
    safe: inset(1920, 1080),
    heading: box(96, 54, 1728, 56),
    line: box(72, 122, 1776, 336),
    barsARow: 4,
    rows: 1,
    card: box(96, 130, 1728, 290),
    now: box(96, 468, 1728, 200),
    nowBaseline: 620,
    nowSize: 168,
    still: { baseline: 582, size: 130 },
    title: box(96, 400, 1728, 420),
    slashes: 'beside',
    nextBaseline: 620,
    nextSize: 116,
    keyboard: box(0, 696, 1920, 216),
    tabHeight: 62,
    caption: box(96, 984, 1728, 42),
    captionSize: 36,
    captionLines: 1,
    sheet: null,
  },
  tall: {
    width: 1080,
    height: 1920,
    safe: inset(1080, 1920),
    heading: box(54, 96, 972, 56),
    line: box(42, 560, 996, 740),
    barsARow: 2,
    rows: 2,
    card: box(54, 560, 972, 680),
    now: box(54, 190, 972, 330),
    nowBaseline: 350,
    nowSize: 190,
    still: { baseline: 350, size: 190 },
    title: box(54, 720, 972, 700),
    slashes: 'below',
    nextBaseline: 490,
    nextSize: 116,
    keyboard: box(0, 1356, 1080, 290),
    tabHeight: 72,
    caption: box(54, 1736, 972, 88),
    captionSize: 37,
    captionLines: 2,
    sheet: null,
  },
  square: {
    width: 1080,
    height: 1080,
    safe: inset(1080, 1080),
    heading: box(54, 54, 972, 46),
    line: box(42, 292, 996, 314),
    barsARow: 2,
    rows: 1,
    card: box(54, 292, 972, 254),
    now: box(54, 108, 972, 170),
    nowBaseline: 234,
    nowSize: 128,
    still: { baseline: 234, size: 128 },
    title: box(54, 380, 972, 500),
    slashes: 'beside',
    nextBaseline: 234,
    nextSize: 88,
    keyboard: box(0, 636, 1080, 226),
    tabHeight: 62,
    caption: box(54, 940, 972, 86),
    captionSize: 34,
    captionLines: 2,
    sheet: null,
  },
};

/** Over a camera's picture: one sheet with an excerpt of the keyboard, its ends seen; the rest of the frame stays free. */
const OVER_A_PICTURE: Readonly<Record<FilmShape, FilmLayout>> = {
  wide: {
    ...ON_PAPER.wide,
    heading: null,
    line: box(96, 54, 1728, 336),
    card: box(446, 150, 1028, 320),
    now: box(446, 556, 1028, 150),
    nowBaseline: 680,
    nowSize: 128,
    still: { baseline: 632, size: 86 },
    title: box(446, 600, 1028, 400),
    nextBaseline: 680,
    nextSize: 90,
    keyboard: box(446, 724, 1028, 176),
    tabHeight: 58,
    caption: box(446, 974, 1028, 44),
    captionSize: 31,
    captionLines: 1,
    sheet: box(410, 546, 1100, 480),
  },
  tall: {
    ...ON_PAPER.tall,
    heading: null,
    line: box(54, 96, 972, 720),
    card: box(90, 560, 900, 660),
    now: box(90, 1256, 900, 176),
    nowBaseline: 1396,
    nowSize: 132,
    still: { baseline: 1346, size: 100 },
    title: box(90, 1300, 900, 500),
    slashes: 'beside',
    nextBaseline: 1396,
    nextSize: 90,
    keyboard: box(90, 1450, 900, 210),
    tabHeight: 62,
    caption: box(90, 1734, 900, 80),
    captionSize: 32,
    sheet: box(54, 1244, 972, 580),
  },
  square: {
    ...ON_PAPER.square,
    heading: null,
    line: box(54, 54, 972, 314),
    card: box(90, 200, 900, 314),
    now: box(90, 570, 900, 140),
    nowBaseline: 682,
    nowSize: 108,
    still: { baseline: 632, size: 74 },
    title: box(90, 600, 900, 400),
    nextBaseline: 682,
    nextSize: 78,
    keyboard: box(90, 724, 900, 160),
    tabHeight: 54,
    caption: box(90, 956, 900, 64),
    captionSize: 28,
    sheet: box(54, 560, 972, 466),
  },
};

/** What a frame's ground is: paper, or nothing, to lie over a camera's picture. */
export type FilmGround = 'paper' | 'clear';

/** The layout of a shape. */
export function filmLayout(shape: FilmShape, ground: FilmGround): FilmLayout {
  return (ground === 'paper' ? ON_PAPER : OVER_A_PICTURE)[shape];
}

/** Heights of the short side that films are made in; the smallest is for trying. */
export const FILM_HEIGHTS = [360, 480, 720, 1080] as const;
export type FilmHeight = (typeof FILM_HEIGHTS)[number];

/** A frame's size in pixels: even, as encoders ask. @param height of the short side */
export function frameSize(shape: FilmShape, height: FilmHeight): { readonly width: number; readonly height: number } {
  const { width, height: tall } = ON_PAPER[shape];
  const even = (value: number): number => 2 * Math.round(value / 2);
  return { width: even((width * height) / 1080), height: even((tall * height) / 1080) };
}
