/**
 * What a page of the workbench may load and run: its own files, nothing else. Source: W3C, Content Security Policy Level 3.
 * It stands in index.html, so that any static host serves it; our own server sends it as a header too, which workers obey.
 */
import { createHash } from 'node:crypto';

/**
 * The two style sheets that react-aria adds to the page itself, letter for letter as it writes them (usePress, usePreventScroll).
 * A policy names them by their hash; one that changes with a new version is refused, and checks/web/policy.test.ts fails.
 */
const STYLES_OF_REACT_ARIA = [
  '@layer {\n  [data-react-aria-pressable] {\n    touch-action: pan-x pan-y pinch-zoom;\n  }\n}',
  '@layer {\n  * {\n    overscroll-behavior: contain;\n  }\n}',
];

const hashOf = (text: string): string => `'sha256-${createHash('sha256').update(text).digest('base64')}'`;

const DIRECTIVES: Readonly<Record<string, readonly string[]>> = {
  'default-src': ["'none'"],
  // WebAssembly may be compiled (the engraver, the encoders); text may not be run as script
  'script-src': ["'self'", "'wasm-unsafe-eval'"],
  // the AAC encoder starts its own worker from its own text; nobody else's can be there
  'worker-src': ["'self'", 'blob:'],
  'style-src': ["'self'", ...STYLES_OF_REACT_ARIA.map(hashOf)],
  // pictures that were made here: pages, keyboards
  'img-src': ["'self'", 'blob:', 'data:'],
  'media-src': ["'self'", 'blob:'],
  // the fonts of a page to be printed are inside it
  'font-src': ["'self'", 'data:'],
  'connect-src': ["'self'"],
  'manifest-src': ["'self'"],
  'object-src': ["'none'"],
  'frame-src': ["'none'"],
  'base-uri': ["'none'"],
  'form-action': ["'none'"],
};

/** The policy as the page carries it. */
export const CONTENT_POLICY = Object.entries(DIRECTIVES)
  .map(([name, sources]) => `${name} ${sources.join(' ')}`)
  .join('; ');

/** What our own server sends with every file; a host that can should send the same. */
export const SERVED_HEADERS: Readonly<Record<string, string>> = {
  // only a header can say who may put the page into a frame
  'Content-Security-Policy': `${CONTENT_POLICY}; frame-ancestors 'none'`,
  'X-Content-Type-Options': 'nosniff',
  'Referrer-Policy': 'no-referrer',
};
