/** For the page's start: takes that were to go when it was closed last are gone before anybody looks for them. */
export { dropClosed } from './take-shelf.ts';
