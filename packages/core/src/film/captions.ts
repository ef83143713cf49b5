import type { Cue, Said } from './said.ts';

/** Makes words of what is said. */
export type SaidText = (said: Said) => string;

/** `h:mm:ss` and thousandths, behind the sign that the format asks for. */
function clock(seconds: number, sign: '.' | ','): string {
  const thousandths = Math.round(seconds * 1000);
  const two = (value: number): string => String(value).padStart(2, '0');
  const whole = Math.floor(thousandths / 1000);
  const rest = String(thousandths % 1000).padStart(3, '0');
  return `${two(Math.floor(whole / 3600))}:${two(Math.floor(whole / 60) % 60)}:${two(whole % 60)}${sign}${rest}`;
}

/** One line without what a caption file reads as its own: line ends, arrows. */
function lineOf(text: string): string {
  return text
    .replaceAll(/\p{Cc}+/gu, ' ')
    .replaceAll('-->', '→')
    .trim();
}

/** Cues that have words and a time to be read in. */
function readable(cues: readonly Cue[], textOf: SaidText): { readonly cue: Cue; readonly text: string }[] {
  return cues.flatMap((cue) => {
    const text = lineOf(textOf(cue.said));
    return text === '' || Math.round(cue.endSeconds * 1000) <= Math.round(cue.startSeconds * 1000)
      ? []
      : [{ cue, text }];
  });
}

/**
 * Captions as WebVTT. Source: W3C, WebVTT: The Web Video Text Tracks Format.
 * @example writeWebVtt([], () => '') // → 'WEBVTT\n'
 */
export function writeWebVtt(cues: readonly Cue[], textOf: SaidText): string {
  const blocks = readable(cues, textOf).map(({ cue, text }, index) => {
    const escaped = text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');
    return `\n${index + 1}\n${clock(cue.startSeconds, '.')} --> ${clock(cue.endSeconds, '.')}\n${escaped}\n`;
  });
  return `WEBVTT\n${blocks.join('')}`;
}

/** Captions as SubRip text, which has no standard: common practice. */
export function writeSrt(cues: readonly Cue[], textOf: SaidText): string {
  return readable(cues, textOf)
    .map(
      ({ cue, text }, index) =>
        `${index + 1}\n${clock(cue.startSeconds, ',')} --> ${clock(cue.endSeconds, ',')}\n${text}\n`,
    )
    .join('\n');
}
