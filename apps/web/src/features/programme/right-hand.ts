/** Who plays the demonstration's hands: the choice one makes each time, in the terms of a programme. */
import { ACCOMPANISTS, SOLOIST, type Programme, type SetUp, type TrioPlayer } from '@fivespan/core';

/** In the order in which they are offered. */
export const RIGHT_HANDS = ['mine', 'shown', 'answered', 'alone', 'left alone, chords', 'left alone, bass'] as const;
export type RightHand = (typeof RIGHT_HANDS)[number];

/** One hand and nobody else: the left one comps in a trio and walks alone. */
const ALONE: Readonly<Partial<Record<RightHand, { readonly player: TrioPlayer; readonly setUp: SetUp | null }>>> = {
  alone: { player: SOLOIST, setUp: null },
  'left alone, chords': { player: 'left hand', setUp: 'trio' },
  'left alone, bass': { player: 'left hand', setUp: 'solo' },
};

const isOnly = (players: readonly TrioPlayer[], player: TrioPlayer): boolean =>
  players.length === 1 && players[0] === player;

/** What a programme's choruses have in common; null where they differ. */
export function rightHandOf({ choruses, setUp, aids }: Programme): RightHand | null {
  const isAll = (holds: (players: readonly TrioPlayer[]) => boolean): boolean =>
    choruses.every(({ players }) => holds(players));
  const alone = RIGHT_HANDS.find((each) => {
    const hand = ALONE[each];
    return (
      hand !== undefined &&
      (hand.setUp ?? setUp) === setUp &&
      aids.answers === 'none' &&
      isAll((players) => isOnly(players, hand.player))
    );
  });
  if (alone !== undefined) return alone;
  if (isAll((players) => players.includes(SOLOIST))) return aids.answers === 'none' ? 'shown' : 'answered';
  return isAll((players) => !players.includes(SOLOIST)) ? 'mine' : null;
}

/** The same programme with another answer to that. Who was alone gets the others back. */
export function withRightHand(programme: Programme, chosen: RightHand): Programme {
  const { setUp, choruses, aids } = programme;
  const before = rightHandOf(programme);
  const hand = ALONE[chosen];
  const answers = chosen !== 'answered' ? 'none' : aids.answers === 'none' ? 'phrases' : aids.answers;
  const withPlayers = (playersOf: (players: readonly TrioPlayer[]) => readonly TrioPlayer[]): Programme['choruses'] =>
    choruses.map((chorus) => ({ ...chorus, players: playersOf(chorus.players) }));
  if (hand !== undefined) {
    return {
      ...programme,
      setUp: hand.setUp ?? setUp,
      aids: { ...aids, answers },
      choruses: withPlayers(() => [hand.player]),
    };
  }
  const wasAlone = before !== null && ALONE[before] !== undefined;
  const others = (players: readonly TrioPlayer[]): readonly TrioPlayer[] => {
    const rest = wasAlone ? ACCOMPANISTS : players.filter((each) => each !== SOLOIST);
    return rest.length === 0 ? ACCOMPANISTS : rest;
  };
  return {
    ...programme,
    // a walking left hand alone was asked for: with the others back the bass player walks
    setUp: wasAlone ? 'trio' : setUp,
    aids: { ...aids, answers },
    choruses: withPlayers((players) => (chosen === 'mine' ? others(players) : [SOLOIST, ...others(players)])),
  };
}
