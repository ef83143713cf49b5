/** The part of pngjs that the checks use; it brings no types of its own. */
declare module 'pngjs' {
  export interface Picture {
    readonly width: number;
    readonly height: number;
    /** Four bytes a point: red, green, blue, opacity. */
    readonly data: Buffer;
  }
  export const PNG: {
    new (options: { readonly width: number; readonly height: number }): Picture;
    /** Copies a part of a picture to a place in another. */
    bitblt(
      from: Picture,
      to: Picture,
      fromX: number,
      fromY: number,
      width: number,
      height: number,
      toX: number,
      toY: number,
    ): void;
    readonly sync: {
      read(bytes: Buffer): Picture;
      /** @param options `colorType: 2` leaves opacity out */
      write(picture: Picture, options?: { readonly colorType: 2 }): Buffer;
    };
  };
}
