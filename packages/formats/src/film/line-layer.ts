import type { Film, LineShown } from '@fivespan/core';
import type { Engraver } from '../engraving/index.ts';
import { writeMusicXml } from '../musicxml/index.ts';
import type { FilmColours } from './colours.ts';
import { px } from './film-text.ts';
import type { Box, FilmLayout } from './layout.ts';

/** Height of a staff in a frame, in the layout's units, where a row has room for it. */
const STAFF = 42;
const STAFF_MM = 7;
/** Symbols and fingers against the engraver's own size: read from a screen across a room. */
const TEXT_SCALE = 1.25;
/** Rows too dense for their width are engraved for a wider one and drawn smaller. */
const WIDENINGS = [1, 1.2, 1.45, 1.8, 2.3] as const;
const MOST_MM = 1000;
/** The stroke under the bar that sounds, and its room. */
const STROKE = 7;
const STROKE_ROOM = 20;

/** A row of a line, engraved: where it stands, and its bars' edges. */
interface Row {
  readonly from: number;
  readonly to: number;
  readonly box: Box;
  readonly svg: string;
  /** Left and right of each bar in the frame. */
  readonly bars: readonly { readonly left: number; readonly right: number }[];
}

/** A line as it is seen: all its rows, or in small frames the one with the bar that sounds. */
export interface EngravedLine {
  readonly rows: readonly Row[];
}

const numbers = (text: string): number[] => text.split(/[ ,]+/u).map(Number);

/** The edges of every bar of an engraved system, in its viewBox. */
function barEdges(svg: string): { left: number; right: number }[] {
  const [, shiftText = '0'] = /<g class="page-margin" transform="translate\((-?[\d.]+)/u.exec(svg) ?? [];
  const shift = Number(shiftText);
  return [
    ...svg.matchAll(/<g class="measure"[^>]*><g class="staff"[^>]*><path[^>]* d="M(-?[\d.]+) -?[\d.]+ L(-?[\d.]+)/gu),
  ].map(([, left = '0', right = '0']) => ({ left: Number(left) + shift, right: Number(right) + shift }));
}

/** Engraves bars in one system, wider where they are dense; a system for each where nothing helps. */
function engraveRow(engraver: Engraver, film: Film, line: LineShown, widthMm: number, ink: string): string[] {
  const score = film.lessons[line.lesson]?.score;
  if (score === undefined) throw new RangeError(`lesson must be one of the film's ${film.lessons.length}`);
  const xml = writeMusicXml(score, {
    purpose: 'engraving',
    parts: ['right hand', 'left hand'],
    bars: { from: line.from, to: line.to },
    thumbs: false,
    numerals: false,
  });
  // the metre is said once, at the beginning of the music
  const plain = line.from === 0 ? xml : xml.replaceAll('<time>', '<time print-object="no">');
  let systems: string[] = [];
  for (const widening of WIDENINGS) {
    systems = engraver.engrave(plain, {
      widthMm: Math.min(MOST_MM, widthMm * widening),
      staffHeightMm: STAFF_MM,
      barNumbers: false,
      fillsLastSystem: true,
      textScale: TEXT_SCALE,
      ink,
    });
    if (systems.length === 1) break;
  }
  return systems;
}

/** Puts systems into a box, one under the other, as large as they fit. */
function placed(
  systems: readonly string[],
  box: Box,
): { readonly box: Box; readonly svg: string; readonly unit: number; readonly left: number }[] {
  const sizes = systems.map((svg) => numbers(/\sviewBox="([^"]*)"/u.exec(svg)?.[1] ?? '0 0 1 1'));
  const total = sizes.reduce((sum, [, , , height = 1]) => sum + height, 0);
  const widest = Math.max(1, ...sizes.map(([, , width = 1]) => width));
  const unit = Math.min(box.width / widest, (box.height - STROKE_ROOM * systems.length) / total);
  let y = box.y;
  return systems.map((svg, index) => {
    const [left = 0, , width = 1, height = 1] = sizes[index] as number[];
    const own = { x: box.x + (box.width - widest * unit) / 2, y, width: width * unit, height: height * unit };
    y += own.height + STROKE_ROOM;
    return { box: own, svg, unit, left };
  });
}

/** Cuts a line into its rows: bars beside each other. */
function stretchesOf({ lesson, from, to }: LineShown, barsARow: number): LineShown[] {
  const rows = Math.max(1, Math.ceil((to - from) / barsARow));
  return Array.from({ length: rows }, (_, row) => ({
    lesson,
    from: from + Math.round((row * (to - from)) / rows),
    to: from + Math.round(((row + 1) * (to - from)) / rows),
  }));
}

/** The rows of a line that are seen while a bar sounds. */
export function rowsSeen(line: LineShown, bar: number | null, { barsARow, rows }: FilmLayout): readonly LineShown[] {
  const all = stretchesOf(line, barsARow);
  if (all.length <= rows) return all;
  const at = Math.max(
    0,
    all.findIndex((each) => bar !== null && bar >= each.from && bar < each.to),
  );
  const first = Math.min(Math.floor(at / rows) * rows, Math.max(0, all.length - rows));
  return all.slice(first, first + rows);
}

/** Engraves the rows of a line into the layout's box. */
export function engraveLine(
  engraver: Engraver,
  film: Film,
  rows: readonly LineShown[],
  layout: FilmLayout,
  { ink }: FilmColours,
): EngravedLine {
  const { line: box, sheet } = layout;
  const margin = sheet === null ? 0 : 16;
  const inner = {
    x: box.x + margin,
    y: box.y + margin,
    width: box.width - 2 * margin,
    height: box.height - 2 * margin,
  };
  const height = inner.height / rows.length;
  const widthMm = (inner.width / STAFF) * STAFF_MM;
  const found: Row[] = [];
  for (const [index, row] of rows.entries()) {
    let bar = row.from;
    const systems = engraveRow(engraver, film, row, widthMm, ink);
    for (const { box: own, svg, unit, left } of placed(systems, { ...inner, y: inner.y + index * height, height })) {
      const bars = barEdges(svg).map((edges) => ({
        left: own.x + (edges.left - left) * unit,
        right: own.x + (edges.right - left) * unit,
      }));
      found.push({ from: bar, to: bar + bars.length, box: own, svg, bars });
      bar += bars.length;
    }
  }
  return { rows: found };
}

/** The engraved rows as part of a frame. */
export function drawLine({ rows }: EngravedLine): string {
  return rows
    .map(({ box, svg }) =>
      svg
        .trim()
        .replace(
          /^<svg\b([^>]*?)\swidth="[^"]*"\sheight="[^"]*"/u,
          `<svg$1 x="${px(box.x)}" y="${px(box.y)}" width="${px(box.width)}" height="${px(box.height)}"`,
        ),
    )
    .join('');
}

/** Where the stroke under a bar is; undefined where the bar is not among the rows. */
export function strokeOf({ rows }: EngravedLine, bar: number): Box | undefined {
  const row = rows.find(({ from, to }) => bar >= from && bar < to);
  const edges = row?.bars[bar - row.from];
  if (row === undefined || edges === undefined) return undefined;
  return {
    x: Math.round(edges.left),
    y: Math.round(row.box.y + row.box.height + 4),
    width: Math.round(edges.right - edges.left),
    height: STROKE,
  };
}
