/**
 * Our own choruses and bass lines, played with swing and with the timing of people (checks/take/student-lines.ts), written down again.
 * Seeds are apart from those tuned on. Beyond people's spread nothing is drawn: what was written is what must come back.
 */
import { describe, expect, test } from 'vitest';
import { DEFAULT_CHOICES, judgeTake, makeLesson, midiOf, randomSource, writeDown } from '@fivespan/core';
import { CHARTS, humanly, lessonOf, written } from './student-lines.ts';

/** Seeds from here on were never looked at. */
const FIRST = 700_000;

const takes = CHARTS.flatMap((_, chart) =>
  ([1, 2, 3, 4] as const).map((level) => {
    const random = randomSource(FIRST + 10 * chart + level, 'written');
    const lesson = lessonOf(chart, random.integer(3), level, 3 + random.integer(3));
    const tempoBpm = 70 + random.integer(130);
    const chances = { random, lesson, tempoBpm, swing: 1.5 };
    const hands = (['right', 'left'] as const).map((hand) => {
      const played = humanly(written(chances, hand), random).sort((a, b) => a.startSeconds - b.startSeconds);
      return { hand, judged: judgeTake(lesson, played, tempoBpm) };
    });
    return { about: `chart ${chart} level ${level} at ${tempoBpm}`, lesson, hands };
  }),
);

describe('written down', () => {
  test('99 of 100 notes come back at their ticks, 98 as long as they were, 90 with their fingers', () => {
    let [all, onsets, lengths, inPosition, fingers] = [0, 0, 0, 0, 0];
    const amiss: string[] = [];
    for (const { about, lesson, hands } of takes) {
      for (const { hand, judged } of hands) {
        const { notes } = writeDown(judged, { hand, fromTicks: 0, toTicks: lesson.score.endTicks });
        const back = new Map(notes.map((note) => [`${note.startTicks} ${note.key}`, note]));
        for (const own of hand === 'right' ? lesson.chorus : lesson.bass) {
          all++;
          const found = back.get(`${own.startTicks} ${midiOf(own.pitch)}`);
          if (found === undefined) amiss.push(`${about} ${hand} ${own.startTicks}`);
          else onsets++;
          if (found?.durationTicks === own.durationTicks) lengths++;
          if (!('finger' in own) || found === undefined || own.neighbour !== null) continue;
          inPosition++;
          if (found.finger === own.finger) fingers++;
        }
      }
    }
    expect(onsets / all, amiss.join('\n')).toBeGreaterThanOrEqual(0.99);
    expect(lengths / all).toBeGreaterThanOrEqual(0.98);
    expect(fingers / inPosition).toBeGreaterThanOrEqual(0.9);
  });

  test('its pins make a lesson that plays the same notes', () => {
    const [{ lesson, hands }] = takes as [(typeof takes)[number]];
    const [right] = hands as [(typeof hands)[number]];
    const { notes, pins } = writeDown(right.judged, { hand: 'right', fromTicks: 0, toTicks: lesson.score.endTicks });
    const home = lesson.choices;
    // in the key it was played in: there the pins stand
    const made = makeLesson(lesson.chart, {
      ...DEFAULT_CHOICES,
      level: home.level,
      seed: home.seed + 1,
      pins: { ...DEFAULT_CHOICES.pins, parts: { ...DEFAULT_CHOICES.pins.parts, notes: pins } },
    });
    const shown = ({ startTicks, durationTicks, key }: (typeof notes)[number]): string =>
      `${startTicks} ${durationTicks} ${key}`;
    expect(made.chorus.map((each) => `${each.startTicks} ${each.durationTicks} ${midiOf(each.pitch)}`)).toEqual(
      notes.map(shown),
    );
  });
});
