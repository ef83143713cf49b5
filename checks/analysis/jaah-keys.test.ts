/**
 * Home keys on one chorus each of real recordings. Source: Audio-Aligned Jazz Harmony Dataset (Eremenko, Demirel, Bozkurt,
 * Serra 2018; authors and licence in the data's README; values read from it: R). Labels its README calls doubtful are
 * listed, not counted.
 */
import { formatKey, keyIndexOf, rankedKeys, type Key } from '@fivespan/core';
import { describe, expect, test } from 'vitest';
import { DOUBTFUL_LABELS, jaahTunes } from '../jaah.ts';

describe.skipIf(jaahTunes === null)(
  `recorded choruses${jaahTunes === null ? ' (skipped: open data not here)' : ''}`,
  () => {
    test('the home key is the labelled one in at least 97 % of the tunes whose label is not in doubt', () => {
      const found = (jaahTunes ?? []).map(({ name, key, chart }) => ({
        name,
        key,
        keyFound: rankedKeys(chart)[0]?.key as Key,
        isDoubtful: DOUBTFUL_LABELS.has(name),
      }));
      const isRight = ({ key, keyFound }: (typeof found)[number]): boolean => keyIndexOf(key) === keyIndexOf(keyFound);
      const sure = found.filter((each) => !each.isDoubtful);
      console.info(
        `home key: ${found.filter(isRight).length} of ${found.length}, ${sure.filter(isRight).length} of ${sure.length} without doubtful labels`,
      );
      for (const each of found.filter((one) => !isRight(one))) {
        console.info(
          `  ${each.name}${each.isDoubtful ? ' (doubtful)' : ''}: ${formatKey(each.key)}, found ${formatKey(each.keyFound)}`,
        );
      }
      expect(sure.length).toBe(89);
      expect(sure.filter(isRight).length / sure.length).toBeGreaterThanOrEqual(0.97);
      expect(found.filter(isRight).length).toBeGreaterThanOrEqual(90);
    });
  },
);
