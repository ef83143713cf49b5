import { heardTake, readTake, type PlayedProgramme } from '@fivespan/core';

/** A seat of its own: in the middle, as loud as the line it stands for. */
const SEAT = { name: 'take', plays: 'right hand', instrument: 'grand', pan: 0.05, level: 1 } as const;

/** What is heard of a take beside a programme: its keys from the programme's first bar 1 on. What cannot be read is silent. */
export function withTake(played: PlayedProgramme, text: string): PlayedProgramme {
  const read = readTake(text);
  const first = played.segments.find(({ kind }) => kind === 'chorus');
  if (!read.ok || first === undefined) return played;
  const player = played.players.length;
  const events = heardTake(read.value).flatMap(({ startSeconds, durationSeconds, key, velocity }) => {
    const start = first.startSeconds + startSeconds;
    if (start < 0 || start >= played.endSeconds) return [];
    return [{ startSeconds: start, durationSeconds: Math.max(0.02, durationSeconds), midi: key, velocity, player }];
  });
  return {
    ...played,
    players: [...played.players, SEAT],
    events: [...played.events, ...events].toSorted((a, b) => a.startSeconds - b.startSeconds),
  };
}
