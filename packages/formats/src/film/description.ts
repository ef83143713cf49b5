import { clockText, formatKey, type Film } from '@fivespan/core';
import { englishFilmWords, type FilmWords } from './words.ts';

/** A place in a film that one may begin from. */
export interface FilmChapter {
  readonly startSeconds: number;
  readonly title: string;
}

/** A chapter for every scene. */
export function filmChapters(film: Film, words: FilmWords = englishFilmWords(film.lessons)): FilmChapter[] {
  return film.scenes.map(({ kind, isDemonstrated, key, startSeconds }) => ({
    startSeconds,
    title: words.scene(kind, isDemonstrated, key),
  }));
}

/** What stands beside a film where it is shown: title, chapters with their times, keys. */
export function filmDescription(film: Film, words: FilmWords = englishFilmWords(film.lessons)): string {
  const keys = film.scenes.map(({ key }) => key);
  const once = keys.filter((key, index) => keys.findIndex((other) => formatKey(other) === formatKey(key)) === index);
  const chapters = filmChapters(film, words).map(({ startSeconds, title }) => `${clockText(startSeconds)} ${title}`);
  const title = film.player === undefined ? film.title : words.played(film.title, film.player);
  return [title, '', ...chapters, '', words.keys(once), words.care, ''].join('\n');
}

/** A cue sheet to speak from: when, and what is said. */
export function cueSheet(film: Film, words: FilmWords = englishFilmWords(film.lessons)): string {
  const lines = film.cues.flatMap(({ startSeconds, said }) => {
    const text = words.caption(said);
    return text === '' ? [] : [`${clockText(startSeconds)}  ${text}`];
  });
  return [film.title, '', ...lines, ''].join('\n');
}
