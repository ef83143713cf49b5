/** As much of the W3C's parser as is called; it ships no types. */
declare module 'webvtt-parser' {
  export class WebVTTParser {
    parse(
      text: string,
      kind: string,
    ): {
      readonly cues: readonly { readonly startTime: number; readonly endTime: number; readonly text: string }[];
      readonly errors: readonly unknown[];
    };
  }
}
