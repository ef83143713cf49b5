/**
 * What a chorus costs, how it grows, and whether its order matters.
 * Run: npx tsx bench/choruses.ts
 * Times are ratios within one run: against analysing the chart and finding the hand's way. The shuffle's measure is one the search does
 * not know: the computed roughness of each note against its chord's reference voicing (docs/sources.md, 3, Sethares 1993), by length; bars keep
 * their notes and change places.
 */
import {
  analyse,
  improviseChorus,
  midiOf,
  NO_ANALYSIS_PINS,
  NO_PLAN_PINS,
  planRoute,
  randomSource,
  readChart,
  roughnessOver,
  transposeChart,
  usualKeys,
  type Chart,
  type ChorusNote,
  type Plan,
} from '@fivespan/core';

/** 32 bars of our own: cadences in major and minor, substitutes, a bridge in other keys. */
const THIRTY_TWO_BARS = `
Cmaj7 A7alt | Dm7 G7 | Em7 A7 | Dm7 Db7 | Cmaj7 C7 | Fmaj7 Bb7 | Em7b5 A7alt | Dm7 G7 |
Cmaj7 A7alt | Dm7 G7 | Em7 A7 | Dm7 Db7 | Gm7 C7 | Fmaj7 Fm6 | Em7 Ebdim7 | Dm7 G7alt |
F#m7b5 B7alt | Em6 | Dm7b5 G7alt | Cm6 | Fm7 Bb7 | Ebmaj7 | Abm7 Db7 | Gbmaj7 G7sus |
Cmaj7 A7alt | Dm7 G7 | Em7 A7 | Dm7 Db7 | Fmaj7 F#dim7 | Cmaj7 A7 | Dm7 G7 | C6
`.trim();
const BAR_TICKS = 3840;
const LEVELS = [1, 2, 3, 4] as const;
const LEVEL = 4;

function chartOf(times: number): Chart {
  const bars = Array.from({ length: times }, () => THIRTY_TWO_BARS).join(' |\n');
  const read = readChart(`key: C major\nA:\n| ${bars} |\n`);
  if (!read.ok) throw new TypeError('the bench has a chart');
  return read.value;
}

function planOf(chart: Chart, level: 1 | 2 | 3 | 4 = LEVEL): Plan {
  return planRoute(analyse(chart, NO_ANALYSIS_PINS), { pins: NO_PLAN_PINS, hand: 'medium', level });
}

const chorusOf = (plan: Plan, seed: number, level: 1 | 2 | 3 | 4 = LEVEL): ChorusNote[] =>
  improviseChorus(plan, { level, random: randomSource(seed, 'chorus') });

/** Processor time, so that a busy machine does not show; the least of three. */
function msOf(work: () => void): number {
  const times = [1, 2, 3].map(() => {
    const before = process.cpuUsage();
    work();
    const { user, system } = process.cpuUsage(before);
    return (user + system) / 1000;
  });
  return Math.min(...times);
}

const chart = chartOf(1);
const plan = planOf(chart);
chorusOf(plan, 0);
const planMs = msOf(() => void planOf(chart));

const inKeys = usualKeys('major').map((key) => planOf(transposeChart(chart, key)));
const keysMs = msOf(() => inKeys.forEach((each) => void chorusOf(each, 1)));
console.log(`32 bars at level 4 in twelve keys: ${(keysMs / 12 / planMs).toFixed(2)} of analysis and way, each`);

const hundredMs = msOf(() => {
  for (let seed = 0; seed < 100; seed++) chorusOf(plan, seed);
});
console.log(`100 choruses: ${(hundredMs / 100 / planMs).toFixed(2)} of analysis and way, each`);

let before = hundredMs / 100;
for (const times of [2, 4, 8]) {
  const longer = planOf(chartOf(times));
  const ms =
    msOf(() => {
      for (let seed = 0; seed < 8; seed++) chorusOf(longer, seed);
    }) / 8;
  console.log(`${32 * times} bars: ${(ms / before).toFixed(2)} times half as many`);
  before = ms;
}

/** Roughness against the chord under each note, weighted by its length, with the bars in another order. */
function roughness(slots: Plan['slots'], notes: readonly ChorusNote[], order: readonly number[]): number {
  let [sum, ticks] = [0, 0];
  for (const note of notes) {
    const bar = Math.floor(note.startTicks / BAR_TICKS);
    const at = (order[bar] as number) * BAR_TICKS + (note.startTicks % BAR_TICKS);
    const slot = slots.find(({ analysed: { played } }) => played.startTicks <= at && at < played.endTicks);
    const chord = slot?.analysed.chord;
    if (chord == null) continue;
    sum += roughnessOver(chord, [midiOf(note.pitch)]) * note.durationTicks;
    ticks += note.durationTicks;
  }
  return sum / ticks;
}

const asPlayed = Array.from({ length: 32 }, (_, bar) => bar);
const random = randomSource(1, 'shuffle');
for (const level of LEVELS) {
  const { slots } = planOf(chart, level);
  let [worse, tried] = [0, 0];
  for (let seed = 0; seed < 20; seed++) {
    const notes = chorusOf({ slots, totalTravelMm: 0 }, seed, level);
    const own = roughness(slots, notes, asPlayed);
    for (let shuffle = 0; shuffle < 5; shuffle++) {
      const order = [...asPlayed];
      for (let last = order.length - 1; last > 0; last--) {
        const other = random.integer(last + 1);
        [order[last], order[other]] = [order[other] as number, order[last] as number];
      }
      tried++;
      if (roughness(slots, notes, order) > own) worse++;
    }
  }
  console.log(`bars shuffled, level ${level}: rougher in ${((100 * worse) / tried).toFixed(0)} % of ${tried}`);
}
