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
export { ENGLISH_FILM_WORDS, type FilmWords } from './words.ts';
