/**
 * A trio to measure with, invented here: walking bass, comping, ride with hi-hat and feathered bass drum, a soloist; velocities
 * and times vary by seed. Enough like music to be a load; the real performance has its own checks.
 */
import { randomSource } from '@fivespan/core';
import type { PlayedEvent, PlayerSetting, Schedule } from '@fivespan/sound/engine';

const TEMPO_BPM = 140;
const BARS_A_CHORUS = 32;
const BEAT_SECONDS = 60 / TEMPO_BPM;
const ROOTS = [39, 44, 37, 42, 41, 46, 39, 34];

export const TRIO_PLAYERS: readonly PlayerSetting[] = [
  { name: 'piano', instrument: 'grand', pan: 0, level: 1 },
  { name: 'bass', instrument: 'acoustic bass', pan: 0, level: 1 },
  { name: 'drums', instrument: 'jazz kit', pan: 0, level: 1 },
  { name: 'soloist', instrument: 'grand', pan: 0, level: 1 },
];

export function trioSchedule(choruses: number, seed = 1): Schedule {
  const source = randomSource(seed, 'trio for measuring');
  const chance = (percent: number): boolean => source.integer(100) < percent;
  const events: PlayedEvent[] = [];
  const add = (player: number, beat: number, beats: number, midi: number, velocity: number): void => {
    const late = (source.integer(13) - 6) / 1000;
    events.push({
      player,
      startSeconds: Math.max(0, beat * BEAT_SECONDS + late),
      durationSeconds: beats * BEAT_SECONDS,
      midi,
      velocity: velocity - 8 + source.integer(17),
    });
  };
  const bars = BARS_A_CHORUS * choruses;
  let line = 72;
  for (let bar = 0; bar < bars; bar++) {
    const root = ROOTS[bar % ROOTS.length] as number;
    const first = bar * 4;
    for (let beat = 0; beat < 4; beat++) {
      const up = [0, 4, 7, chance(50) ? 1 : -1][beat] as number;
      add(1, first + beat, 0.93, root + up, 80 + (beat % 2) * 8);
      add(2, first + beat, 0.2, 51, 78 + (beat % 2) * 10);
      add(2, first + beat, 0.2, 36, 35);
      if (beat % 2 === 1) {
        add(2, first + beat + 0.66, 0.2, 51, 66);
        add(2, first + beat, 0.2, 44, 70);
      }
    }
    for (const beat of [0, chance(50) ? 1.66 : 2.66]) {
      const beats = chance(50) ? 0.4 : 1.4;
      for (const above of [16, 20, 23, 26]) add(0, first + beat, beats, root + above, 62);
    }
    if (chance(50)) add(2, first + source.integer(8) / 2, 0.2, 38, 45);
    for (let eighth = 0; eighth < 8; eighth++) {
      if (!chance(75)) continue;
      line = Math.max(60, Math.min(86, line + source.integer(7) - 3));
      add(3, first + (eighth >> 1) + (eighth % 2) * 0.6, 0.45, line, 80 + (eighth % 2) * 8);
    }
  }
  return { players: TRIO_PLAYERS, events, endSeconds: bars * 4 * BEAT_SECONDS };
}
