/** Where a chapter begins and what it is called: a key, a tempo, a chorus. */
export interface Chapter {
  readonly startSeconds: number;
  readonly title: string;
}

/** What a sound file says about itself. Texts may hold any character; control characters become spaces. */
export interface SoundTags {
  readonly title: string;
  /** In order of time; empty where there are none. */
  readonly chapters: readonly Chapter[];
}

/** Longest text written into a file, in characters. */
const LONGEST_TEXT = 200;

/** The program that wrote the file. */
export const SOFTWARE = 'Fivespan';

/** A text as it goes into a tag: one line, no control characters, of bounded length. */
export function tagText(text: string): string {
  return Array.from(text.replaceAll(/\p{Cc}+/gu, ' ').trim())
    .slice(0, LONGEST_TEXT)
    .join('');
}

/** Throws when chapters are not in order or lie outside the sound: the programmer's mistake. */
export function checkTags({ chapters }: SoundTags): void {
  let before = 0;
  for (const { startSeconds, title } of chapters) {
    if (!(startSeconds >= before && Number.isFinite(startSeconds))) {
      throw new RangeError(`startSeconds of chapter '${title}' must be ${before} or more, not ${startSeconds}`);
    }
    before = startSeconds;
  }
}

/** Every host has it; no host's types are loaded here, so that nothing else of one slips in. */
declare const TextEncoder: new () => { encode(text: string): Uint8Array };

export const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text);

/** One array out of many. */
export function joined(parts: readonly Uint8Array[]): Uint8Array {
  const whole = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}
