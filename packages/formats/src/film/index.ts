export { filmDrawing, type FilmDrawing, type FilmLayer, type FilmLook } from './layers.ts';
export {
  FILM_HEIGHTS,
  FILM_SHAPES,
  frameSize,
  type Box,
  type FilmGround,
  type FilmHeight,
  type FilmShape,
} from './layout.ts';
export { cueSheet, filmChapters, filmDescription, type FilmChapter } from './description.ts';
export { englishFilmWords, type FilmWords } from './words.ts';
