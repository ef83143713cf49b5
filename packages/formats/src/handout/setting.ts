/** How close a page is set. */
export interface Setting {
  /** From line to line of its sentences. */
  readonly leadingPt: number;
  /** Words under the pictures. */
  readonly captionPt: number;
  /** Height of a staff that stands alone, of one of two, and of one on the play page. */
  readonly staffMm: { readonly alone: number; readonly grand: number; readonly play: number };
}

export const ROOMY: Setting = { leadingPt: 13, captionPt: 8.5, staffMm: { alone: 5.2, grand: 5.6, play: 7 } };
/** Where that saves a page. */
export const CLOSE: Setting = { leadingPt: 12, captionPt: 8, staffMm: { alone: 4.5, grand: 4.6, play: 6.2 } };
