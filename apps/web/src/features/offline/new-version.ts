import { atom } from 'nanostores';

/**
 * Whether a newer version has come: one that waits is never put in place of the open one unasked; one that another tab has put in
 * place is in use here from the next loading of the page.
 */
export const $newVersion = atom<'none' | 'waits' | 'taken'>('none');
