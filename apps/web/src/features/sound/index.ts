export { hear, openSound, stopHearing, type HeardNote } from './hear.ts';
