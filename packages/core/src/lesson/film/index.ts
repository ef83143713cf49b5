export { makeFilm, type Film, type FilmOptions } from './make-film.ts';
export type { FilmSound } from './scene-part.ts';
export { lineBars, type BarStretch } from './line-bars.ts';
