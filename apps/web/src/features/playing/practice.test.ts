import { beforeEach, expect, test } from 'vitest';
import { $practice, practise, WHOLE_PROGRAMME } from './practice.ts';

const slow = {
  ...WHOLE_PROGRAMME,
  rate: 0.5,
  mix: { ...WHOLE_PROGRAMME.mix, bass: { muted: true, solo: false, level: 2 } },
};

beforeEach(() => {
  practise('mine');
  $practice.set(slow);
});

test('what was slower or muted stays so with the lesson it was set for', () => {
  practise('mine');
  expect($practice.get()).toBe(slow);
});

test('another lesson is played as it is written', () => {
  practise('another');
  expect($practice.get()).toEqual(WHOLE_PROGRAMME);
});
