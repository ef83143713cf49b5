import { describe, expect, test } from 'vitest';
import { EXPLAINED } from '../words/help.ts';
import { matches } from './matches.ts';

const found = (sought: string): string[] => EXPLAINED.filter((each) => matches(each, sought)).map(({ word }) => word);

describe('looking for a word', () => {
  test('finds it by a part, in any case, with hyphens for dashes', () => {
    expect(found('AVOID')).toContain('avoid note');
    expect(found('ii-v')).toContain('cadence');
    expect(found('thumb tab')).toContain('thumb tab');
  });
  test('finds it by what is said of it', () => expect(found('third seventh')).toContain('guide tones'));
  test('finds all where nothing is looked for, and none where nothing is', () => {
    expect(found('')).toHaveLength(EXPLAINED.length);
    expect(found('xylophone')).toEqual([]);
  });
});

describe('the words', () => {
  test('stand once each, with a sentence and a screen', () => {
    expect(new Set(EXPLAINED.map(({ word }) => word)).size).toBe(EXPLAINED.length);
    for (const { word, says, screens } of EXPLAINED) {
      expect([word, says.length > 15 && says.endsWith('.')]).toEqual([word, true]);
      expect(screens.length).toBeGreaterThan(0);
    }
  });

  /** Source: design.md, section 6: words the product uses. */
  test.each(
    (
      'chart,bar,section,chorus,pickup,ending,slot,region,chord-scale,outsideness,roughness,shape,position,family,serves,' +
      'covers,route,thumb tab,walking bass,approach note,shell,rootless voicing,guide tone,avoid note,side-slip,handout'
    ).split(','),
  )('%s is explained', (word) => expect(EXPLAINED.some((each) => each.word.includes(word))).toBe(true));
});
