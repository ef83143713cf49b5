/** Whether the system asks for dark screens. */
import { atom } from 'nanostores';

const query = globalThis.matchMedia?.('(prefers-color-scheme: dark)');

export const $systemIsDark = atom(query?.matches ?? false);

query?.addEventListener('change', () => $systemIsDark.set(query.matches));
