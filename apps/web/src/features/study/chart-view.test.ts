import { formatKey, formatNoteName } from '@fivespan/core';
import { shapeMarks } from '@fivespan/formats/diagram';
import { describe, expect, it } from 'vitest';
import { chartView } from './chart-view.ts';
import { lessonOf, TWICE } from './invented-study.ts';

const lesson = lessonOf(TWICE);
const { pins } = lesson.choices;

describe('the chart as it is studied', () => {
  const view = chartView(lesson, pins, 1);
  const slots = view.sections.flatMap(({ bars }) => bars.flatMap((bar) => bar.slots));

  it('has every written chord once, with its place in the bar and the times it is played', () => {
    expect(slots.map(({ chord }) => chord.symbol)).toEqual(['Dm7', 'G7', 'Cmaj7', 'Fm7', 'Bb7', 'Ebmaj7', 'Ebmaj7']);
    expect(slots.map(({ from, share }) => [from, share])).toEqual([
      [0, 0.5],
      [0.5, 0.5],
      [0, 1],
      [0, 1],
      [0, 1],
      [0, 1],
      [0, 1],
    ]);
    expect(view.sections.flatMap(({ bars }) => bars.map((bar) => bar.passes))).toEqual([2, 2, 1, 1, 1, 1]);
  });

  it('shows the second time where it is asked for, the only time elsewhere', () => {
    const second = chartView(lesson, pins, 2).sections.flatMap(({ bars }) => bars.flatMap((bar) => bar.slots));
    expect(second.map(({ name }) => name.pass)).toEqual([2, 2, 2, 1, 1, 1, 1]);
    expect(second.map(({ index }) => index)).toEqual([3, 4, 5, 6, 7, 8, 9]);
  });

  it('has regions end to end over all bars, neighbours in different keys', () => {
    // common practice: ii–V–I in C, then in E flat
    expect(view.regions.map(({ key, fromBar, toBar }) => [formatKey(key), fromBar, toBar])).toEqual([
      ['C major', 0, 2],
      ['Eb major', 2, 6],
    ]);
  });

  it('has each cadence as one line over its chords, and tells each chord of it', () => {
    expect(view.figures.map(({ kind, fromBar, toBar }) => [kind, fromBar, toBar])).toEqual([
      ['ii-V-I', 0, 2],
      ['ii-V-I', 2, 6],
    ]);
    for (const slot of slots) expect(slot.figures.map(({ kind }) => kind)).toEqual(['ii-V-I']);
  });

  it('has the family under each chord, the hand’s own thumb told', () => {
    // three minor pentatonics a fifth apart cover the key: D A E in C. Common practice
    expect(slots[2]?.thumbs.map(({ name }) => formatNoteName(name))).toEqual(['D', 'A', 'E']);
    for (const { thumbs } of slots) expect(thumbs.filter(({ isHere }) => isHere)).toHaveLength(1);
  });

  it('has the sign of the shape behind each thumb, as the lesson’s pages have it', () => {
    const minor = lessonOf('key: C minor\n\n| Cm6 | Cm7 | Fm7 | Dm7b5 | Cm(maj7) | Fm7 |\n');
    const marks = shapeMarks(minor);
    expect(marks.size).toBeGreaterThan(1);
    const shown = chartView(minor, pins, 1).sections.flatMap(({ bars }) => bars.flatMap((bar) => bar.slots));
    for (const slot of shown) {
      const { position } = minor.plan.slots[slot.index]!;
      const own = slot.thumbs.find(({ isHere }) => isHere);
      expect(own?.mark).toBe(position === null ? undefined : marks.get(position.shape.id));
    }
  });

  it('keeps a blues off the lines: it is the form', () => {
    const blues = lessonOf('key: F major\n\n| F7 | Bb7 | F7 | F7 |\n| Bb7 | Bb7 | F7 | D7 |\n| Gm7 | C7 | F7 | C7 |\n');
    const shown = chartView(blues, pins, 1);
    expect(shown.forms.map(({ kind }) => kind)).toContain('blues');
    expect(shown.figures.map(({ kind }) => kind)).not.toContain('blues');
  });
});
