import { expect, test } from 'vitest';
import { PlayerGains } from './player-gains.ts';

test('solo silences the others, mute wins over solo, level is kept meanwhile', () => {
  const gains = new PlayerGains(100);
  gains.setLevel(0, 0.5, true);
  gains.setSolo(1, true, true);
  expect([gains.gain[0], gains.gain[1], gains.gain[2]]).toEqual([0, 1, 0]);
  gains.setMuted(1, true, true);
  expect(gains.gain[1]).toBe(0);
  gains.setSolo(1, false, true);
  expect([gains.gain[0], gains.gain[1], gains.gain[2]]).toEqual([0.5, 0, 1]);
});

test('a change arrives exactly, after its frames', () => {
  const gains = new PlayerGains(100);
  gains.setMuted(0, true, false);
  expect(gains.steadyFor(1000)).toBe(100);
  gains.advance(40);
  expect(gains.gain[0]).toBeCloseTo(0.6, 9);
  expect(gains.steadyFor(1000)).toBe(60);
  gains.advance(60);
  expect([gains.gain[0], gains.step[0], gains.steadyFor(1000)]).toEqual([0, 0, 1000]);
});

test('a change on the way to another starts from where it is', () => {
  const gains = new PlayerGains(100);
  gains.setMuted(0, true, false);
  gains.advance(50);
  gains.setMuted(0, false, false);
  expect(gains.gain[0]).toBeCloseTo(0.5, 9);
  gains.advance(gains.steadyFor(1000));
  expect(gains.gain[0]).toBe(1);
});

test.each([-1, 32, 0.5])('%d is no player', (player) => {
  expect(() => new PlayerGains(10).setMuted(player, true, true)).toThrow(/^player /u);
});
