/** Files that come in and go out by the user's own hand. */
export { openFiles } from './open-files.ts';
export { fileNameOf, saveFile } from './save-file.ts';
export { watchDrops } from './watch-drops.ts';
