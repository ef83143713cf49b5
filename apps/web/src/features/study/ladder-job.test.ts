import { formatNoteName } from '@fivespan/core';
import { describe, expect, it } from 'vitest';
import { lessonOf, TWICE } from './invented-study.ts';
import { studyLadder } from './ladder-job.ts';

const { analysis, choices } = lessonOf(TWICE);
const ladderAt = (slotIndex: number) => studyLadder({ analysis, slotIndex, hand: choices.hand });

describe('a ladder studied', () => {
  it('has the rungs of the analysis in their order', () => {
    for (const [index, slot] of analysis.slots.entries()) {
      expect(ladderAt(index).map(({ id }) => id)).toEqual(slot.chordScales.map(({ id }) => id));
    }
  });

  it('raises the family a fifth for the tonic’s Lydian, and moves it a tritone for the substitute', () => {
    const thumbs = (slotIndex: number, name: string): string[] => {
      const at = analysis.slots[slotIndex]?.chordScales.findIndex((each) => each.name === name) ?? -1;
      return ladderAt(slotIndex)[at]?.family?.positions.map(({ thumb }) => formatNoteName(thumb)) ?? [];
    };
    // common practice: C Ionian D A E, Lydian A E B
    expect(thumbs(2, 'Ionian')).toEqual(['D', 'A', 'E']);
    expect(thumbs(2, 'Lydian')).toEqual(['A', 'E', 'B']);
  });

  it('is smoother over the tonic raised than at home, where the fourth rubs', () => {
    // docs/chord-scales.md, 'Roughness': it held in every setting tried
    const ladder = ladderAt(2);
    const of = (name: string): number =>
      ladder[analysis.slots[2]?.chordScales.findIndex((each) => each.name === name) ?? -1]?.roughness ?? Number.NaN;
    expect(of('Lydian')).toBeLessThan(of('Ionian'));
    for (const { roughness } of ladder) expect(roughness > 0 && roughness <= 1).toBe(true);
  });

  it('is what the route takes: the used rung’s family is the plan’s', () => {
    const lesson = lessonOf(TWICE);
    for (const [index, { chordScale, family }] of lesson.plan.slots.entries()) {
      const rung = ladderAt(index).find(({ id }) => id === chordScale?.id);
      expect(rung?.family?.positions.map(({ set }) => set)).toEqual(family?.positions.map(({ set }) => set));
    }
  });
});
