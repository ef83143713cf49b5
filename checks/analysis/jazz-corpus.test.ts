/**
 * Home keys of chord sequences that a person analysed. Source: annotated jazz chord progression corpus (Granroth-Wilding &
 * Steedman; authors and licence in the data's README; values read from it: R).
 */
import { formatKey, keyIndexOf, rankedKeys, type Key } from '@fivespan/core';
import { describe, expect, test } from 'vitest';
import { corpusSequences, ENDS_AWAY } from '../jazz-corpus.ts';

describe.skipIf(corpusSequences === null)(
  `analysed sequences${corpusSequences === null ? ' (skipped: open data not here)' : ''}`,
  () => {
    test('the home key is the labelled one in at least 94 %, and in all that end at home', () => {
      const all = corpusSequences ?? [];
      const wrong = all.flatMap(({ name, key, chart }) => {
        const found = rankedKeys(chart)[0]?.key as Key;
        return keyIndexOf(found) === keyIndexOf(key) ? [] : [{ name, key, found }];
      });
      console.info(`home key: ${all.length - wrong.length} of ${all.length}`);
      for (const { name, key, found } of wrong) console.info(`  ${name}: ${formatKey(key)}, found ${formatKey(found)}`);
      expect(all.length).toBe(75);
      expect((all.length - wrong.length) / all.length).toBeGreaterThanOrEqual(0.94);
      expect(wrong.filter(({ name }) => !ENDS_AWAY.has(name))).toEqual([]);
    });
  },
);
