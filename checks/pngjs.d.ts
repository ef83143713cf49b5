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
    readonly sync: { read(bytes: Buffer): Picture; write(picture: Picture): Buffer };
  };
}
