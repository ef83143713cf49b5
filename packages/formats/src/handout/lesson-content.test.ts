import { describe, expect, it } from 'vitest';
import { findShape, formatNoteName, midi, noteName } from '@fivespan/core';
import { chordLine, octaveMarks, placeMarks, shapeMarks, shapesOfRoute, tabMarksOf } from '../diagram/index.ts';
import { isSameEveryTime, playedBars, writtenBars } from './chart-content.ts';
import { freedomOf, freePositions, isSameFreedomEveryTime } from './freedom.ts';
import { inventedLesson } from './invented-lesson.ts';
import { practiceSteps, shareOfTempo } from './practice-steps.ts';
import { rubbingChords, sayingTheSame } from './rubs.ts';
import { barRanges, stretchesOf, positionsOfRoute, usedPositions } from './used-positions.ts';
import { shapeText } from './shape-text.ts';
import { ENGLISH } from './words.ts';

const lesson = inventedLesson({
  key: 'Eb major',
  sections: [
    ['A', '|: Fm7:iim7 | Bb7:V7 | 1. Ebmaj7:Imaj7 :| 2. Ebmaj7:Imaj7'],
    ['B', 'Fm7:iim7 Bb7:V7 | Ebmaj7/G:Imaj7'],
  ],
});

describe('what a handout says', () => {
  it('lists every position of the route once, with its chords and bars', () => {
    const positions = usedPositions(lesson);
    const slots = lesson.plan.slots.filter((slot) => slot.position !== null);
    expect(new Set(positions.map((each) => each.thumbMidi)).size).toBe(positions.length);
    expect(positions.flatMap((each) => each.uses.flatMap((use) => use.bars)).length).toBe(slots.length);
    const stretches = stretchesOf(positions);
    for (const [index, { thumbMidi, position }] of positions.entries()) {
      expect(stretches[index]!.lowest).toBeLessThanOrEqual(thumbMidi);
      expect(stretches[index]!.highest).toBeGreaterThanOrEqual(thumbMidi + position.shape.steps[4]);
    }
    expect(positionsOfRoute(lesson).map(({ position }) => formatNoteName(position.thumb)).length).toBeGreaterThan(1);
  });

  it('has one picture of the same keys under two names', () => {
    const [first, ...others] = lesson.plan.slots;
    const { position, thumbMidi } = first!;
    const sharp = { ...position!, thumb: noteName('E#') };
    const slots = [first!, { ...others[0]!, position: sharp, thumbMidi }];
    const [used, ...rest] = usedPositions({ ...lesson, plan: { ...lesson.plan, slots } });
    expect(rest).toEqual([]);
    expect(used!.position.thumb).toBe(noteName('F'));
    expect(used!.otherNames).toEqual([noteName('E#')]);
    expect(used!.uses.map((use) => use.chord.symbol)).toEqual(['Fm7', 'Bb7']);
  });

  it('marks shapes apart, the most used one not at all', () => {
    const minor = inventedLesson({
      key: 'C minor',
      sections: [[null, 'Cm6:i | Cm7:i | Fm7:iv | Dm7b5:ii | Cm(maj7):i | Fm7:iv']],
    });
    const shapes = shapesOfRoute(minor).map((shape) => shape.id);
    expect(new Set(shapes).size).toBe(shapes.length);
    const count = (id: string | undefined): number =>
      minor.plan.slots.filter((slot) => slot.position?.shape.id === id).length;
    expect(count(shapes[0])).toBeGreaterThanOrEqual(count(shapes[1]));
    const marks = shapeMarks(minor);
    expect([...marks.values()]).toEqual(['', '′', '″'].slice(0, shapes.length));
    expect(tabMarksOf(minor).length).toBe(minor.score.thumbs.length);
    // the thumb stays, the shape changes: the next tab is shown all the same
    const [first] = minor.plan.slots;
    const other = minor.plan.slots.find((slot) => slot.position?.shape.id !== first!.position?.shape.id)!;
    const still = {
      ...other,
      thumbMidi: first!.thumbMidi,
      position: { ...other.position!, thumb: first!.position!.thumb },
    };
    const slots = minor.plan.slots.map((slot, index) => (index === 1 ? { ...still, analysed: slot.analysed } : slot));
    const bars = playedBars({ ...minor, plan: { ...minor.plan, slots } }, { numerals: false, tabs: 'route' });
    expect(bars[0]!.slots[0]!.next?.name).toBe(first!.position!.thumb);
    expect(bars[0]!.slots[0]!.next?.mark).not.toBe(bars[0]!.slots[0]!.tabs[0]!.mark);
  });

  it('tells octaves of one thumb apart in the tabs, by arrows, and only where the name alone does not', () => {
    const thumbs = ['D', 'D', 'A', 'D'] as const;
    // by hand: D on the keys 62 and 74, A on 57 alone
    const keys = [62, 74, 57, 62];
    const slots = lesson.plan.slots.slice(0, 2).flatMap((slot, bar) =>
      [0, 1].map((half) => ({
        ...slot,
        position: { ...slot.position!, thumb: noteName(thumbs[2 * bar + half]!) },
        thumbMidi: midi(keys[2 * bar + half]!),
      })),
    );
    const moved = { ...lesson, plan: { ...lesson.plan, slots } };
    expect([...octaveMarks(moved)]).toEqual([
      [62, ''],
      [74, '↑'],
      [57, ''],
    ]);
    const markOf = placeMarks(moved);
    expect(slots.map(({ position, thumbMidi }) => markOf(position, thumbMidi))).toEqual(['', '↑', '', '']);
    // a third octave: the middle one goes without
    const third = { ...slots[2]!, position: slots[0]!.position, thumbMidi: midi(50) };
    const three = { ...lesson, plan: { ...lesson.plan, slots: [...slots, third] } };
    expect([...octaveMarks(three)].slice(0, 3).map(([, mark]) => mark)).toEqual(['↓', '', '↑']);
    expect([...octaveMarks(lesson).values()].every((mark) => mark === '')).toBe(true);
  });

  it('says what each shape puts under the fingers, in half steps only where the trade has no name for it', () => {
    const text = (id: string): string => shapeText(findShape(id)!, ENGLISH).replaceAll('\u00A0', ' ');
    expect(text('minor-pentatonic')).toBe('minor pentatonic (1  ♭3  4  5  ♭7)');
    // by hand: C7(♭9) from its third, E G B♭ C D♭, is 0 3 6 8 9
    expect(text('0-3-6-8-9')).toBe('dominant flat nine, thumb on the 3 (3  5  ♭7  1  ♭2)');
    // Forte's 5-31A (docs/sources.md, 8) is in no trade's list
    expect(text('0-1-3-6-9')).toBe('the thumb’s note, then 1, 3, 6 and 9 half steps above it');
  });

  it('says bars as one says them', () => {
    expect(barRanges([1, 2, 3, 5, 7, 8])).toEqual({ text: '1–3, 5, 7–8', more: 0 });
    const fours = Array.from({ length: 250 }, (_, index) => 1 + 4 * index);
    expect(barRanges(fours)).toEqual({ text: '1, 5, 9, 13, 17, 21, 25, 29, 33, 37', more: 240 });
    expect(ENGLISH.bars('1, 5, 9', 250, false, 240)).toBe('bars\u00A01, 5, 9 … and 240 more');
    expect(ENGLISH.bars('4', 1, true, 0)).toBe('pickup, bar\u00A04');
  });

  it('says once for each chord what rubs and where it goes', () => {
    const rubbing = rubbingChords(lesson, ENGLISH);
    expect(rubbing.map((each) => chordLine(each.chord))).toEqual(['B♭7', 'E♭maj7']);
    // common practice: the natural 4 over a tonic major chord is its avoid note and resolves down a half step
    expect(rubbing[1]!.sentences.join(' ')).toContain(
      'A♭ (4) lies a half step above the third, G. Let A♭ fall a half step to G.',
    );
  });

  it('says the same of several chords once', () => {
    const said = rubbingChords(lesson, ENGLISH);
    const [first, second] = [said[0]!, said[1]!];
    const other = { chord: second.chord, sentences: first.sentences };
    // by hand: B♭7 and E♭maj7 share a saying, E♭maj7 has one more of its own, and what was said is not said again
    expect(
      sayingTheSame([first, other, second, other]).map(({ chords, sentences }) => [chords.map(chordLine), sentences]),
    ).toEqual([
      [['B♭7', 'E♭maj7'], first.sentences],
      [['E♭maj7'], second.sentences],
    ]);
  });

  it('names in "leaves out" only positions without the note', () => {
    // common practice: E flat major has the minor pentatonics on F, C and G; A flat is in F's alone
    const sentences = rubbingChords(lesson, ENGLISH)[1]!.sentences.join(' ');
    expect(sentences).toContain('The positions on C and G leave A♭ out.');
  });

  it('derives tempi from the lesson, rising, never above it', () => {
    for (const tempoBpm of [44, 66, 132, 301]) {
      const steps = practiceSteps({ ...lesson, score: { ...lesson.score, tempoBpm } }, ENGLISH);
      expect(steps.length).toBe(6);
      for (const { fromBpm, toBpm } of steps) {
        expect(fromBpm).toBeLessThanOrEqual(toBpm);
        expect(toBpm).toBeLessThanOrEqual(tempoBpm);
      }
      expect(steps.at(-1)!.toBpm).toBe(tempoBpm);
    }
    expect(shareOfTempo(132, 50)).toBe(68);
    expect(shareOfTempo(44, 50)).toBe(40);
  });

  it('shows the chart as written, and the thumb now and next', () => {
    const written = writtenBars(lesson, { numerals: true, tabs: 'family' });
    expect(written.map((each) => each.section)).toEqual(['A', null, null, null, 'B', null]);
    expect(written[0]!.slots[0]!.numeral).toBe('iim7');
    expect(written[0]!.slots[0]!.tabs.filter((tab) => tab.kind === 'now').length).toBe(1);
    expect(written.map((each) => each.isLast)).toEqual([false, false, false, false, false, true]);
    const played = playedBars(lesson, { numerals: false, tabs: 'route' });
    const slots = played.flatMap((each) => each.slots);
    slots.slice(0, -1).forEach((slot, index) => {
      const [now, then] = [lesson.plan.slots[index]!, lesson.plan.slots[index + 1]!];
      expect(slot.tabs[0]!.name).toBe(now.position!.thumb);
      expect(slot.next?.name ?? null).toBe(now.thumbMidi === then.thumbMidi ? null : then.position!.thumb);
    });
    expect(slots.at(-1)!.next).toBeNull();
    expect(isSameEveryTime(lesson)).toBe(true);
  });

  it('for a free hand shows every thumb that a chord allows, and a picture of each position once', () => {
    const freedom = freedomOf(lesson);
    const slots = playedBars(lesson, { numerals: false, tabs: 'free' }).flatMap((each) => each.slots);
    for (const [index, { tabs, next }] of slots.entries()) {
      const [family, ...others] = freedom.allowedAt(lesson.plan.slots[index]!);
      expect(others).toEqual([]);
      expect(tabs.map(({ name }) => name)).toEqual(family?.positions.map(({ thumb }) => thumb));
      expect(tabs.every(({ kind }) => kind === 'may')).toBe(true);
      expect(next).toBeNull();
    }
    expect(isSameFreedomEveryTime(lesson, freedom)).toBe(true);
    const pictures = freePositions(lesson, freedom);
    const shown = new Set(slots.flatMap(({ tabs }) => tabs.map(({ name, mark }) => `${name} ${mark}`)));
    expect(pictures).toHaveLength(shown.size);
  });
});
