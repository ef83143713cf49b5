export { makeFilm, type Film } from './make-film.ts';
