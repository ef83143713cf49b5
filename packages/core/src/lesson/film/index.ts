export { makeFilm, type Film } from './make-film.ts';
export type { FilmTake } from './take-scene.ts';
