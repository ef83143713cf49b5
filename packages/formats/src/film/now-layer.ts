import type { ChordSymbol, NowShown } from '@fivespan/core';
import { chordPieces } from '../type/index.ts';
import type { FilmColours } from './colours.ts';
import { chordAt, chordEms, px } from './film-text.ts';
import type { FilmLayout } from './layout.ts';

/** Where the barline stands in its row: what is now has the larger part. */
const BARLINE_SHARE = 0.68;
const ROOM = 34;

/** A slash's slant and the room from one to the next, against its height. Found by looking. */
const SLASH = { height: 0.52, width: 0.42, slant: 0.36, pitch: 1.08 } as const;

/** The barline between now and next. */
export function barlineX({ now }: FilmLayout): number {
  return now.x + now.width * BARLINE_SHARE;
}

/** One slash a beat: filled up to the one that sounds. */
function drawSlashes(
  x: number,
  bottom: number,
  width: number,
  size: number,
  shown: NowShown,
  colours: FilmColours,
): string {
  const { beat, beats } = shown;
  if (beat === null || beats < 1) return '';
  const height = Math.min(size * SLASH.height, width / ((beats - 1) * SLASH.pitch + SLASH.width + SLASH.slant));
  return Array.from({ length: beats }, (_, index) => {
    const left = x + index * height * SLASH.pitch;
    const isFilled = index <= beat;
    return (
      `<path class="slash ${isFilled ? 'filled' : 'open'}" d="M${px(left)} ${px(bottom)}l${px(height * SLASH.slant)} ${px(-height)}` +
      `h${px(height * SLASH.width)}l${px(-height * SLASH.slant)} ${px(height)}z" ` +
      (isFilled ? `fill="${colours.ink}"/>` : `fill="none" stroke="${colours.faint}" stroke-width="2.5"/>`)
    );
  }).join('');
}

/** The chord now with its beats, the barline, and the chord that comes. */
export function drawNowLayer(
  shown: NowShown | null,
  next: ChordSymbol | null,
  layout: FilmLayout,
  colours: FilmColours,
): string {
  const { now: box, nextBaseline, nextSize, slashes, still } = layout;
  const isStill = shown !== null && shown.beat === null;
  const nowBaseline = isStill ? still.baseline : layout.nowBaseline;
  const nowSize = isStill ? still.size : layout.nowSize;
  const line = barlineX(layout);
  const room = (shown?.beat === null ? box.width : line - box.x) - ROOM;
  const pieces = shown?.chord == null ? [] : chordPieces(shown.chord, 'bench');
  const share = slashes === 'beside' && shown?.beat !== null ? 0.62 : 1;
  const size = pieces.length === 0 ? nowSize : Math.min(nowSize, (room * share) / chordEms(pieces));
  const chord =
    pieces.length === 0
      ? ''
      : chordAt(box.x, nowBaseline, pieces, { size, fill: colours.ink, isBold: true, role: 'chord-now' });
  const slashX =
    slashes === 'below' || pieces.length === 0 ? box.x : box.x + Math.max(chordEms(pieces) * size + ROOM, room * 0.5);
  const beats =
    shown === null
      ? ''
      : drawSlashes(
          slashX,
          slashes === 'below' ? nextBaseline : nowBaseline,
          line - ROOM - slashX,
          nowSize * 0.86,
          shown,
          colours,
        );
  const nextPieces = next === null ? [] : chordPieces(next, 'bench');
  const nextRoom = box.x + box.width - line - ROOM;
  const coming =
    nextPieces.length === 0
      ? ''
      : chordAt(line + ROOM, nextBaseline, nextPieces, {
          size: Math.min(nextSize, nextRoom / chordEms(nextPieces)),
          fill: colours.ink,
          isBold: false,
          role: 'chord-next',
        });
  const barline =
    next === null
      ? ''
      : `<path class="barline" d="M${px(line)} ${px(box.y + 8)}V${px(Math.max(nextBaseline, nowBaseline) + 12)}" stroke="${colours.ink}" stroke-width="4"/>`;
  return chord + beats + barline + coming;
}
