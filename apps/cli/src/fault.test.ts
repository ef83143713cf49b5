import { createRequire } from 'node:module';
import { expect, test } from 'vitest';
import { sentenceOfFault } from './fault.ts';

/** What Node throws for a file of a package that is not there. */
function notFound(file: string): unknown {
  try {
    return createRequire(import.meta.url).resolve(file);
  } catch (error) {
    return error;
  }
}

test('a font package that is missing is named, with the command that installs it', () => {
  expect(sentenceOfFault(notFound('@fontsource/no-such-face/files/no-such-face-latin-400-normal.woff'))).toBe(
    "the package @fontsource/no-such-face is not installed; 'npm ci' in Fivespan's folder installs what is missing",
  );
  expect(sentenceOfFault(notFound('no-such-package'))).toContain('the package no-such-package is not installed');
});

test('a file of ours that is missing is our own fault', () => {
  expect(sentenceOfFault(notFound('./no-such-file.js'))).toContain('its own fault');
});
