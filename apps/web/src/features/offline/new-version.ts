import { atom } from 'nanostores';

/** Whether a newer version has come and waits; it is never put in place of the open one unasked. */
export const $newVersion = atom(false);
