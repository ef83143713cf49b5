/** The address bar: which screen is shown. Everything stays behind the `#`, so that any static host can serve it. */
import { atom } from 'nanostores';

/** The screens a lesson has. */
export const SCREENS = ['chart', 'study', 'play', 'pages'] as const;
export type Screen = (typeof SCREENS)[number];

/** What is shown: the shelf of lessons, or one lesson's screen. */
export type Address =
  // the shelf
  { readonly kind: 'lessons' } | { readonly kind: 'lesson'; readonly id: string; readonly screen: Screen };

function isScreen(text: string | undefined): text is Screen {
  return SCREENS.some((each) => each === text);
}

/**
 * Reads what stands behind the `#`; anything strange leads to the lessons.
 * @example readAddress('#/lesson/a1/study') // → { kind: 'lesson', id: 'a1', screen: 'study' }
 */
export function readAddress(hash: string): Address {
  const [, place, id, screen] = hash.split('/');
  if (place !== 'lesson' || id === undefined || !/^[\w-]{1,64}$/u.test(id)) return { kind: 'lessons' };
  return { kind: 'lesson', id, screen: isScreen(screen) ? screen : 'chart' };
}

/** The `#` part for an address: what a link's `href` holds. */
export function hrefOf(address: Address): string {
  return address.kind === 'lessons' ? '#/lessons' : `#/lesson/${address.id}/${address.screen}`;
}

export const $address = atom<Address>(readAddress(globalThis.location?.hash ?? ''));

/** Whether nothing stands behind the `#`: someone came to the workbench itself, not to a place in it. */
export function isBareAddress(): boolean {
  return location.hash.replace(/^#?\/?/u, '') === '';
}

/** Follows the address bar from now on. Called once, when the application starts. */
export function watchAddress(): void {
  addEventListener('hashchange', () => $address.set(readAddress(location.hash)));
}

/** Goes to an address; the way back leads here. */
export function goTo(address: Address): void {
  location.hash = hrefOf(address);
}

/** Goes to an address in place of the present one. */
export function goInstead(address: Address): void {
  location.replace(hrefOf(address));
}

/** Loads the page anew, at the same place. */
export function loadAnew(): void {
  location.reload();
}
