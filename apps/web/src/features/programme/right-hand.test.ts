import { NO_AIDS, parseKey, TRIO_PLAYERS, type Key, type Programme } from '@fivespan/core';
import { expect, test } from 'vitest';
import { RIGHT_HANDS, rightHandOf, withRightHand } from './right-hand.ts';

const programme: Programme = {
  setUp: 'trio',
  swing: 'measured',
  voicings: 'rootless',
  countInBars: 1,
  aids: NO_AIDS,
  choruses: [{ key: parseKey('C major') as Key, tempoBpm: 90, players: ['left hand', 'bass', 'drums'] }],
};

test('each choice is what it says, from each other one, and leads back to a trio', () => {
  for (const before of RIGHT_HANDS) {
    for (const chosen of RIGHT_HANDS) {
      const changed = withRightHand(withRightHand(programme, before), chosen);
      expect(rightHandOf(changed)).toBe(chosen);
      expect(rightHandOf(withRightHand(changed, 'mine'))).toBe('mine');
      expect(withRightHand(changed, 'mine')).toEqual(programme);
    }
  }
  expect(withRightHand(programme, 'shown').choruses[0]?.players).toEqual(TRIO_PLAYERS);
});

test('rows that differ have no word', () => {
  const [row] = programme.choruses;
  expect(rightHandOf({ ...programme, choruses: [row!, { ...row!, players: ['right hand'] }] })).toBeNull();
});
