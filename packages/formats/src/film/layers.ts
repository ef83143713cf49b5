import { changeKey, type Film, type LineShown, type Picture } from '@fivespan/core';
import type { Theme } from '../diagram/index.ts';
import type { Engraver } from '../engraving/index.ts';
import { cardBox, drawCard } from './card-layer.ts';
import { FILM_COLOURS } from './colours.ts';
import { fittingSize, px, textLine, wrapped } from './film-text.ts';
import { drawKeyboardLayer, pressedPictures } from './keyboard-layer.ts';
import { filmLayout, type Box, type FilmGround, type FilmLayout, type FilmShape } from './layout.ts';
import { drawLine, engraveLine, rowsSeen, strokeOf, type EngravedLine } from './line-layer.ts';
import { drawNowLayer } from './now-layer.ts';
import { englishFilmWords, type FilmWords } from './words.ts';

/** How a film looks. */
export interface FilmLook {
  readonly shape: FilmShape;
  readonly theme: Theme;
  readonly ground: FilmGround;
  /** Whether the written music is seen; over a camera's picture it takes much of it. */
  readonly hasNotes: boolean;
  /** Whether captions are part of the picture. */
  readonly hasCaptions: boolean;
}

/** A part of a frame that is drawn for itself. Only signs on keys and the stroke lie upon others. */
export interface FilmLayer {
  readonly id: 'heading' | 'line' | 'stroke' | 'card' | 'now' | 'keyboard' | 'pressed' | 'caption' | 'sheet';
  /** Changes when what it shows changes. */
  readonly key: string;
  readonly box: Box;
  /** An SVG document of the box. Made when it is asked for. */
  readonly svg: () => string;
}

/** Draws the frames of a film. */
export interface FilmDrawing {
  readonly layout: FilmLayout;
  /** The colour of the frame where nothing is; null for none. */
  readonly ground: string | null;
  /** The layers of a picture, back to front. */
  readonly layersOf: (picture: Picture) => readonly FilmLayer[];
  /** Everything of a picture as one SVG document. */
  readonly frame: (picture: Picture) => string;
}

const documentOf = ({ x, y, width, height }: Box, content: string): string =>
  `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="${px(width)}" height="${px(height)}" ` +
  `viewBox="${px(x)} ${px(y)} ${px(width)} ${px(height)}">${content}</svg>`;

const plate = ({ x, y, width, height }: Box, fill: string): string =>
  `<rect class="plate" x="${px(x)}" y="${px(y)}" width="${px(width)}" height="${px(height)}" fill="${fill}"/>`;

/**
 * Sets up the drawing of a film. The same film, look and engraver give the same pictures.
 * @example filmDrawing(film, { shape: 'wide', theme: 'light', ground: 'paper', hasNotes: true, hasCaptions: true }, engraver).frame(film.stills[0]!.picture)
 */
export function filmDrawing(
  film: Film,
  look: FilmLook,
  engraver: Engraver,
  words: FilmWords = englishFilmWords(film.lessons),
): FilmDrawing {
  const layout = filmLayout(look.shape, look.ground);
  const colours = FILM_COLOURS[look.theme];
  const isClear = look.ground === 'clear';
  const lines = new Map<string, EngravedLine>();
  const engraved = (rows: readonly LineShown[]): EngravedLine => {
    const key = changeKey(rows);
    const found = lines.get(key) ?? engraveLine(engraver, film, rows, layout, colours);
    lines.set(key, found);
    return found;
  };
  /** What is on the one sheet needs no paper of its own. */
  const paperFor = (box: Box): string => (isClear ? plate(box, colours.paper) : '');
  const layer = (id: FilmLayer['id'], shown: unknown, box: Box, content: () => string): FilmLayer => ({
    id,
    key: `${id} ${changeKey(shown)}`,
    box,
    svg: () => documentOf(box, content()),
  });

  const layersOf = (picture: Picture): readonly FilmLayer[] => {
    const { heading, card, line, bar, now, next, keyboard, caption } = picture;
    const found: FilmLayer[] = [];
    const { sheet } = layout;
    if (sheet !== null && (now !== null || keyboard !== null)) {
      found.push(layer('sheet', null, sheet, () => plate(sheet, colours.paper)));
    }
    if (heading !== null && layout.heading !== null) {
      const box = layout.heading;
      found.push(
        layer('heading', heading, { ...box, y: box.y - 8, height: box.height + 16 }, () => {
          const about = `${words.key(heading.key)} · ${words.tempo(heading.tempoBpm)}`;
          const named = heading.player === undefined ? heading.title : words.played(heading.title, heading.player);
          const aboutSize = fittingSize(about, 34, box.width * 0.42);
          const size = fittingSize(named, 44, box.width * 0.56);
          return (
            textLine(box.x, box.y + 42, named, {
              size,
              fill: colours.ink,
              face: 'serif',
              isBold: true,
              role: 'title',
            }) +
            textLine(box.x + box.width, box.y + 42, about, {
              size: aboutSize,
              fill: colours.soft,
              face: 'serif',
              anchor: 'end',
              role: 'about',
            })
          );
        }),
      );
    }
    if (line !== null && look.hasNotes) {
      const rows = rowsSeen(line, bar, layout);
      found.push(
        layer('line', rows, layout.line, () => {
          return paperFor(layout.line) + drawLine(engraved(rows));
        }),
      );
      const stroke = bar === null ? undefined : strokeOf(engraved(rows), bar);
      if (stroke !== undefined) {
        found.push(layer('stroke', stroke, stroke, () => plate(stroke, colours.ink).replace('"plate"', '"stroke"')));
      }
    }
    if (card !== null) {
      const own = cardBox(card, layout);
      const box = isClear
        ? { ...own, x: own.x - 36, y: own.y - 30, width: own.width + 72, height: own.height + 30 }
        : own;
      found.push(layer('card', card, box, () => paperFor(box) + drawCard(card, layout, colours, words)));
    }
    if (now !== null || next !== null) {
      const box = { ...layout.now, x: layout.now.x - 12, width: layout.now.width + 24 };
      found.push(layer('now', [now, next], box, () => drawNowLayer(now, next, layout, colours)));
    }
    if (keyboard !== null) {
      const { keyboard: keys, tabHeight } = layout;
      const above = keyboard.degrees === null ? 10 : 88;
      const box = {
        x: Math.max(0, keys.x - 8),
        y: keys.y - above,
        width: Math.min(layout.width, keys.width + 16),
        height: keys.height + above + tabHeight + 8,
      };
      // keys that are down lie upon it, each for itself: the keyboard need not be drawn again for a note
      const { pressed: _pressed, ...unpressed } = keyboard;
      found.push(layer('keyboard', unpressed, box, () => drawKeyboardLayer(unpressed, layout, colours, words)));
      for (const { shown, box: own, draw } of pressedPictures(keyboard, layout, colours)) {
        found.push(layer('pressed', shown, own, draw));
      }
    }
    if (caption !== null && look.hasCaptions) {
      const text = words.said(caption);
      const { caption: box, captionSize, captionLines } = layout;
      if (text !== '') {
        found.push(
          layer('caption', text, box, () => {
            const set = wrapped(text, captionSize, box.width, captionLines);
            return set.lines
              .map((each, index) =>
                textLine(box.x, box.y + set.size * (0.82 + index * 1.22), each, {
                  size: set.size,
                  fill: colours.ink,
                  role: 'caption',
                }),
              )
              .join('');
          }),
        );
      }
    }
    return found;
  };
  return {
    layout,
    ground: isClear ? null : colours.paper,
    layersOf,
    frame: (picture) => {
      const whole = { x: 0, y: 0, width: layout.width, height: layout.height };
      const content = layersOf(picture)
        .map((each) =>
          each
            .svg()
            .replace(/^<svg xmlns="[^"]*" xmlns:xlink="[^"]*"/u, `<svg x="${px(each.box.x)}" y="${px(each.box.y)}"`),
        )
        .join('');
      return documentOf(whole, (isClear ? '' : plate(whole, colours.paper)) + content);
    },
  };
}
