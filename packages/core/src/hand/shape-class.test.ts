import { describe, expect, it } from 'vitest';
import { formatDegree, noteName, semitonesOf } from '../theory/index.ts';
import { ALL_SHAPES, classOfShape, findShape, SHAPE_CLASSES, shapeFromNotes, widthOf } from './shape-class.ts';
import { MINOR_PENTATONIC, MINOR_SIX_PENTATONIC, NAMED_SHAPES } from './shapes.ts';

const notes = (text: string) => text.split(' ').map(noteName);

describe('all shapes', () => {
  it('have steps that ascend from 0 within the octave, spelled by degrees that sound so', () => {
    for (const shape of ALL_SHAPES) {
      expect(shape.steps[0]).toBe(0);
      expect(shape.steps.every((step, index) => index === 0 || step > (shape.steps[index - 1] as number))).toBe(true);
      expect(widthOf(shape)).toBeLessThan(12);
      expect(shape.degrees.map(semitonesOf)).toEqual(shape.steps);
    }
  });

  it('have each its own identifier and its own name', () => {
    expect(new Set(ALL_SHAPES.map((shape) => shape.id)).size).toBe(330);
    expect(new Set(ALL_SHAPES.map((shape) => shape.name)).size).toBe(330);
  });

  // common practice: a letter for each note where that can be, the simpler accidental
  it.each([
    ['0-3-4-7-9', '1 #2 3 5 6'],
    ['0-1-4-8-10', '1 b2 3 b6 b7'],
    ['0-3-6-7-10', '1 b3 #4 5 b7'],
    ['0-3-5-7-11', '1 b3 4 5 7'],
    ['0-4-7-9-10', '1 3 5 6 b7'],
    ['0-2-4-6-9', '1 2 3 #4 6'],
    ['0-3-5-8-10', '1 b3 4 b6 b7'],
  ])('with steps %s are spelled %s', (id, spelled) => {
    expect(
      findShape(id)
        ?.degrees.map((each) => formatDegree(each))
        .join(' '),
    ).toBe(spelled);
  });

  it('hold the named ones as they are', () => {
    for (const shape of NAMED_SHAPES) expect(findShape(shape.id)).toBe(shape);
    expect(findShape('0-3-5-7-10')).toBe(MINOR_PENTATONIC);
    expect(findShape('0-3-5-7-12')).toBeUndefined();
  });

  it('of one class are named after its leader', () => {
    const { forte, name, rotations, hasHalfStep } = classOfShape(MINOR_PENTATONIC);
    expect({ forte, name, hasHalfStep }).toEqual({ forte: '5-35', name: 'minor pentatonic', hasHalfStep: false });
    expect(rotations.map((shape) => shape.name)).toEqual([
      'minor pentatonic',
      'major pentatonic',
      'suspended pentatonic',
      'minor pentatonic, thumb on the 5',
      'minor pentatonic, thumb on the b7',
    ]);
    expect(rotations[3].degrees.map((each) => formatDegree(each)).join(' ')).toBe('1 b3 4 b6 b7');
    // common practice: the dominant pentatonic is the minor-six pentatonic with its thumb on the 4
    expect(classOfShape(MINOR_SIX_PENTATONIC).rotations[2].name).toBe('dominant pentatonic');
  });

  it('are open (no half step) in three classes only: 5-33, 5-34, 5-35', () => {
    expect(SHAPE_CLASSES.filter((each) => !each.hasHalfStep).map((each) => each.forte)).toEqual([
      '5-33',
      '5-34',
      '5-35',
    ]);
  });
});

describe("a player's own shape", () => {
  it('is found from its notes, in any order above the thumb', () => {
    expect(shapeFromNotes(notes('C E G Bb D'))).toMatchObject({ ok: true, value: { id: 'dominant-pentatonic' } });
    expect(shapeFromNotes(notes('G Bb C D F'))).toMatchObject({ ok: true, value: MINOR_PENTATONIC });
    expect(shapeFromNotes(notes('C Db Eb F G'))).toMatchObject({ ok: true, value: { name: 'Phrygian five-finger' } });
  });

  it('needs five different notes', () => {
    expect(shapeFromNotes(notes('C D E G'))).toMatchObject({ ok: false, issues: [{ code: 'shape.not-five-notes' }] });
    expect(shapeFromNotes([])).toMatchObject({ ok: false, issues: [{ code: 'shape.not-five-notes' }] });
    expect(shapeFromNotes(notes('C D E G Fb'))).toMatchObject({
      ok: false,
      issues: [{ code: 'shape.note-twice', args: { note: 'Fb' } }],
    });
  });
});
