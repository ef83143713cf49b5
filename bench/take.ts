/**
 * A ten-minute take judged, against the limit of 100 ms and against making the lesson it is judged by: right hand and walking left
 * hand of our own choruses with a person's spread. `npx tsx bench/take.ts`.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import {
  DEFAULT_CHOICES,
  handsOf,
  judgeTake,
  makeLesson,
  randomSource,
  readChart,
  type HeardNote,
} from '@fivespan/core';

const MINUTES = 10;
const LIMIT_MS = 100;
const say = (text: string): boolean => process.stdout.write(`${text}\n`);

const chart = readChart(readFileSync(join(import.meta.dirname, '../examples/DEMO.chart'), 'utf8'));
if (!chart.ok) throw new TypeError('the demo must be a chart');
const seconds = (work: () => void): number => {
  const start = process.cpuUsage();
  work();
  const { user, system } = process.cpuUsage(start);
  return (user + system) / 1000;
};
const lesson = makeLesson(chart.value, DEFAULT_CHOICES);
const making = Math.min(...[1, 2, 3].map(() => seconds(() => makeLesson(chart.value, DEFAULT_CHOICES))));

const random = randomSource(1, 'bench');
const notes: HeardNote[] = [];
for (let chorus = 0; chorus * lesson.performance.endSeconds < MINUTES * 60; chorus++) {
  for (const { player, notes: played } of lesson.performance.parts) {
    if (player !== 'right hand' && player !== 'left hand') continue;
    for (const { startSeconds, durationSeconds, midi, velocity } of played) {
      notes.push({
        startSeconds: startSeconds + chorus * lesson.performance.endSeconds + (random.integer(60) - 30) / 1000,
        durationSeconds,
        key: midi,
        velocity: Math.min(127, velocity + random.integer(20)),
        hand: player === 'right hand' ? 'right' : 'left',
      });
    }
  }
}
notes.sort((a, b) => a.startSeconds - b.startSeconds);
const TIMES = 60;
const measured = (work: () => void): { first: number; median: number } => {
  const all = Array.from({ length: TIMES }, () => seconds(work));
  // the engine compiles what is called often in the first third
  const warm = all.slice(TIMES / 3).sort((a, b) => a - b);
  return { first: all[0] ?? 0, median: warm[warm.length >> 1] ?? 0 };
};
const judging = measured(() => judgeTake(lesson, notes, lesson.score.tempoBpm));
const parting = measured(() => handsOf(notes));
say(`${notes.length} notes in ${MINUTES} minutes, ${Math.round(notes.length / 12 / 2)} strokes a chorus or so`);
say(
  `judged in ${judging.median.toFixed(0)} ms (warm median; first ${judging.first.toFixed(0)}): ${(judging.median / LIMIT_MS).toFixed(2)} of the limit, ${(judging.median / making).toFixed(2)} of making the lesson`,
);
say(`hands told apart in ${parting.median.toFixed(0)} ms (first ${parting.first.toFixed(0)})`);
