export { chosenScenes, makeFilm, type Film, type LeftOutVoice } from './make-film.ts';
export type { FilmTake } from './take-scene.ts';
