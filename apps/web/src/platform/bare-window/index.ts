import { alsoFramesOf } from '../audio/every-frame.ts';

/** What is behind the picture: as it is read, or one plain colour that another program makes transparent. */
export const BARE_GROUNDS = ['light', 'dark', 'key colour'] as const;
export type BareGround = (typeof BARE_GROUNDS)[number];

/** A second window without any control, drawn into from this page. */
export interface BareWindow {
  /** What is drawn goes in here. */
  readonly place: HTMLElement;
  readonly setGround: (ground: BareGround) => void;
  readonly close: () => void;
}

/** Its size at first: a picture of 16 by 9, as one shares or films it. */
const WIDTH = 1280;
const HEIGHT = 720;

/**
 * Opens the window, in this page's look. Within a click: browsers open none otherwise.
 * @param gone is called when it is closed, by whomever
 * @returns null where the browser lets none be opened
 */
export function openBareWindow(title: string, gone: () => void): BareWindow | null {
  const other = open('', '', `popup,width=${WIDTH},height=${HEIGHT}`);
  if (other === null) return null;
  const page = other.document;
  page.title = title;
  page.documentElement.lang = document.documentElement.lang;
  // letters as large as the reader has them here
  page.documentElement.style.fontSize = getComputedStyle(document.documentElement).fontSize;
  for (const sheet of document.querySelectorAll<HTMLElement>('link[rel="stylesheet"], style')) {
    const copy = page.importNode(sheet, true);
    if (sheet instanceof HTMLLinkElement) (copy as HTMLLinkElement).href = sheet.href;
    page.head.append(copy);
  }
  const place = page.createElement('div');
  page.body.append(place);
  const leaveFrames = alsoFramesOf(other);
  const leave = (): void => {
    leaveFrames();
    removeEventListener('pagehide', close);
    gone();
  };
  const close = (): void => other.close();
  other.addEventListener('pagehide', leave, { once: true });
  // this page draws it: without it nothing would move there
  addEventListener('pagehide', close);
  return {
    place,
    setGround: (ground) => {
      page.documentElement.dataset['theme'] = ground === 'dark' ? 'dark' : 'light';
      page.documentElement.dataset['ground'] = ground;
    },
    close,
  };
}
