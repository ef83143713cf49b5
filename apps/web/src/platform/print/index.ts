/** Paper out of the user's printer. */
export { printPictures, type PrintedPicture } from './print-pictures.ts';
