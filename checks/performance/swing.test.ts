/**
 * How eighths swing. Sources: Friberg & Sundström 2002, Music Perception 19(3), abstract (R): the ride's short note is about
 * 100 ms at medium and fast tempi, its ratio up to 3.5 near 120 bpm and even when fast; soloists' ratios smaller, their
 * downbeats late, their off-beats together with the ride. The curve at four tempi computed from that (C). Corcoran &
 * Frieler 2021, abstract (R): soloists typically 1.3. Nelias et al. 2022 (R): downbeats about 30 ms late near 150 bpm, less
 * when faster. Bands 1.2–1.8 and 0–40 ms: judgement (reference section 4).
 */
import { describe, expect, test } from 'vitest';
import {
  accompanimentSwing,
  makeLesson,
  DEFAULT_CHOICES,
  readChart,
  soloistSwing,
  type Choices,
  type Lesson,
  type PlayedNote,
} from '@fivespan/core';

const TEMPI = [60, 90, 120, 150, 180, 200, 220, 240, 270, 300, 320];

function lessonAt(bpm: number, feel: 'swing' | 'even', seed = 1): Lesson {
  const text = `tempo: ${bpm}\nfeel: ${feel}\nkey: Eb major\nA:\n| Fm7 | Bb7 | Ebmaj7 | C7 | Fm7 | Bb7 | Ebmaj7 | % |\n`;
  const chart = readChart(text);
  if (!chart.ok) throw new TypeError('text must be a chart');
  const choices: Choices = { ...DEFAULT_CHOICES, level: 2, seed };
  return makeLesson(chart.value, choices);
}

/** Played on-beats and off-beats of a part in seconds after the beat they were written on (off-beats: half a beat later). */
function lateness(
  lesson: Lesson,
  player: 'right hand' | 'arpeggio study',
  bpm: number,
): { on: number[]; off: number[] } {
  const notes = lesson.performance.parts.find((each) => each.player === player)?.notes ?? [];
  const after = (note: PlayedNote): number => note.startSeconds - Math.floor(note.writtenStartTicks / 960) * (60 / bpm);
  return {
    on: notes.filter((note) => note.writtenStartTicks % 960 === 0).map(after),
    off: notes.filter((note) => note.writtenStartTicks % 960 === 480).map(after),
  };
}

describe('the accompaniment', () => {
  test.each([
    [150, 3.0],
    [200, 2.0],
    [240, 1.5],
    [300, 1.0],
    [120, 3.5],
    [60, 3.5],
  ])('at %i bpm swings %f : 1 (C)', (bpm, ratio) => {
    expect(accompanimentSwing(60 / bpm).ratio).toBeCloseTo(ratio, 9);
    // and as it is heard: the arpeggio study's eighths
    const { on, off } = lateness(lessonAt(bpm, 'swing'), 'arpeggio study', bpm);
    expect(on.length > 4 && off.length > 4).toBe(true);
    for (const late of on) expect(late).toBeCloseTo(0, 9);
    for (const late of off) expect(late / (60 / bpm - late)).toBeCloseTo(ratio, 6);
  });
});

describe('the soloist', () => {
  test.each(TEMPI)(
    'at %i bpm swings 1.2 to 1.8 from one downbeat to the next, less than the ride (judgement)',
    (bpm) => {
      const beat = 60 / bpm;
      const { ratio } = soloistSwing(beat);
      expect(ratio).toBeGreaterThanOrEqual(1.2);
      expect(ratio).toBeLessThanOrEqual(1.8);
      if (accompanimentSwing(beat).ratio > 1.2) expect(ratio).toBeLessThan(accompanimentSwing(beat).ratio + 1e-9);
      for (const seed of [1, 2, 3]) {
        const { on, off } = lateness(lessonAt(bpm, 'swing', seed), 'right hand', bpm);
        const downbeat = on[0] as number;
        for (const late of off) expect((late - downbeat) / (beat - late + downbeat)).toBeCloseTo(ratio, 6);
      }
    },
  );

  test.each(TEMPI)(
    'at %i bpm is 0 to 40 ms late on downbeats, and on off-beats no later than the ride (R, judgement)',
    (bpm) => {
      const beat = 60 / bpm;
      const ride = accompanimentSwing(beat).ratio;
      const rideOffBeat = (beat * ride) / (ride + 1);
      const { on, off } = lateness(lessonAt(bpm, 'swing'), 'right hand', bpm);
      expect(on.length > 4 && off.length > 4).toBe(true);
      for (const late of on) {
        expect(late).toBeGreaterThanOrEqual(-1e-9);
        expect(late).toBeLessThanOrEqual(0.04 + 1e-9);
      }
      // where the ride is even a soloist of 1.2 is up to a hundredth of a second behind it
      const allowed = ride < 1.2 ? 0.01 : 1e-9;
      for (const late of off) expect(late).toBeLessThanOrEqual(rideOffBeat + allowed);
    },
  );

  test('is about 30 ms late at 150 bpm (R), and less the faster it goes (R)', () => {
    const delays = TEMPI.filter((bpm) => bpm >= 120).map((bpm) => soloistSwing(60 / bpm).delaySeconds);
    expect(soloistSwing(60 / 150).delaySeconds).toBeCloseTo(0.03, 9);
    expect(delays).toEqual(delays.toSorted((a, b) => b - a));
  });
});

test('an even feel is straight, in time and on every beat (common practice)', () => {
  for (const bpm of TEMPI) {
    const { on, off } = lateness(lessonAt(bpm, 'even'), 'right hand', bpm);
    for (const late of on) expect(late).toBeCloseTo(0, 9);
    for (const late of off) expect(late).toBeCloseTo(30 / bpm, 9);
  }
});
