/** For backups: what is kept of takes, without all that records and judges them. */
export { changeTakes, keptTakes } from './take-shelf.ts';
