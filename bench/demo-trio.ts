/** The demo tune as the trio plays it: what a second of sound is measured on. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { DEFAULT_CHOICES, inTurn, keysAlong, NO_AIDS, playProgramme, readChart, TRIO_PLAYERS } from '@fivespan/core';
import type { Schedule } from '@fivespan/sound/engine';

/**
 * All four players, two bars of sticks first.
 * @param keys how many keys round the circle of fourths, 1 to 12
 * @param choruses in each key
 */
export function demoTrio(keys: number, choruses: number): Schedule {
  const chart = readChart(readFileSync(join(import.meta.dirname, '../examples/DEMO.chart'), 'utf8'));
  if (!chart.ok || chart.value.key === null || chart.value.tempoBpm === null) {
    throw new Error('examples/DEMO.chart must be a chart with key and tempo');
  }
  const played = playProgramme(chart.value, DEFAULT_CHOICES, {
    setUp: 'trio',
    swing: 'measured',
    voicings: 'rootless',
    countInBars: 2,
    aids: NO_AIDS,
    choruses: inTurn({
      keys: keysAlong(chart.value.key, 'fourths').slice(0, keys),
      tempi: [chart.value.tempoBpm],
      choruses,
      players: TRIO_PLAYERS,
    }),
  });
  if (played === undefined) throw new Error('nobody cancelled this');
  return played;
}
