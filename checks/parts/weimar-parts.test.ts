/**
 * Bass, chorus, score and performance over real changes. Source: Weimar Jazz Database, chord grids (Frieler, Pfleiderer, Zaddach,
 * Abesser: jazzodata; authors and licence in the data's README; R): forms, chords and harmonic rhythm nobody here invented.
 * The rules are common practice (walking-bass.test.ts, chorus.test.ts).
 */
import { describe, expect, test } from 'vitest';
import { chorusFaults, DEFAULT_CHOICES, makeLesson, midiOf, wordsOfChorusFault, type Lesson } from '@fivespan/core';
import { chartOfGrid, weimarGrids } from '../weimar-grid.ts';

/** One solo a tune: several players chose the same changes. */
const tunes = [...new Map((weimarGrids ?? []).map((grid) => [grid.title, grid])).values()];
const why = weimarGrids === null ? 'open data not here' : 'every fifth tune, the three levels in turn';

describe.skipIf(weimarGrids === null)(`real changes (${why})`, () => {
  const lessons = (): { readonly title: string; readonly lesson: Lesson }[] =>
    tunes
      .filter((_, index) => index % 5 === 0)
      .map((grid, index) => {
        const level = ((index % 3) + 1) as 1 | 2 | 3;
        return { title: grid.title, lesson: makeLesson(chartOfGrid(grid), { ...DEFAULT_CHOICES, level, seed: index }) };
      });
  let made: ReturnType<typeof lessons> | undefined;
  const all = (): ReturnType<typeof lessons> => (made ??= lessons());

  test('the chorus keeps every rule', () => {
    for (const { title, lesson } of all()) {
      expect(chorusFaults(lesson.plan, lesson.chorus).map(wordsOfChorusFault), title).toEqual([]);
    }
  }, 300_000);

  test('the hand has something to say: close to three notes a bar or more in every tune (judgement)', () => {
    for (const { title, lesson } of all()) {
      const { form } = lesson.analysis;
      const soundingBars = form.bars.filter(({ bar }) => bar.slots.some(({ chord }) => chord.kind === 'chord'));
      expect(lesson.chorus.length / soundingBars.length, title).toBeGreaterThanOrEqual(2.75);
    }
  }, 300_000);

  test('the bass sounds under every chord without a gap, never one key twice running', () => {
    for (const { title, lesson } of all()) {
      const { slots } = lesson.analysis.form;
      let at = Number.NaN;
      let key = -1;
      const covered = new Set<number>();
      for (const note of lesson.bass) {
        covered.add(note.slotIndex);
        if (note.startTicks === at) expect(midiOf(note.pitch), title).not.toBe(key);
        [at, key] = [note.startTicks + note.durationTicks, midiOf(note.pitch)];
      }
      const chords = slots.filter(({ slot }) => slot.chord.kind === 'chord').map(({ index }) => index);
      expect(
        [...covered].toSorted((a, b) => a - b),
        title,
      ).toEqual(chords);
    }
  }, 300_000);

  test('the performance ends with the form, and nobody plays past it', () => {
    for (const { title, lesson } of all()) {
      const { performance, score } = lesson;
      const beats = score.bars.reduce((sum, { durationTicks }) => sum + durationTicks, 0) / 960;
      expect(performance.endSeconds, title).toBeCloseTo((beats * 60) / score.tempoBpm, 6);
      for (const note of performance.parts.flatMap(({ notes }) => notes)) {
        expect(note.startSeconds + note.durationSeconds, title).toBeLessThanOrEqual(performance.endSeconds + 1e-9);
      }
    }
  }, 300_000);
});
