import { atom } from 'nanostores';

/** What is over the screen: at most one thing. */
export type OpenDialog =
  | { readonly kind: 'settings' }
  /** `word`: the word of the trade that is explained first. */
  | { readonly kind: 'help'; readonly word?: string };

export const $dialog = atom<OpenDialog | null>(null);

/** Opens a dialog over the screen; one that is open gives way. @example openDialog({ kind: 'help', word: 'avoid note' }) */
export function openDialog(dialog: OpenDialog): void {
  $dialog.set(dialog);
}

export function closeDialog(): void {
  $dialog.set(null);
}
