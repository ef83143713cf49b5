import type { Midi } from '@fivespan/core';
import { layOutKeyboard } from '@fivespan/formats/diagram';

/** A key in a picture. */
export interface KeyRect {
  readonly midi: Midi;
  readonly black: boolean;
  readonly x: number;
  readonly width: number;
  readonly length: number;
  readonly centre: number;
}

/** How far black keys reach, of a white key's length as drawn. */
const BLACK_SHARE = 0.61;

/** Keys from edge to edge of a picture: true in width, as long as there is room for. */
export function keyRects(lowest: Midi, highest: Midi, widthPx: number, lengthPx: number): readonly KeyRect[] {
  const layout = layOutKeyboard(lowest, highest);
  const scale = widthPx / layout.widthMm;
  return layout.keys.map(({ midi, black, xMm, widthMm, centreMm }) => ({
    midi,
    black,
    x: xMm * scale,
    width: widthMm * scale,
    length: black ? lengthPx * BLACK_SHARE : lengthPx,
    centre: centreMm * scale,
  }));
}
