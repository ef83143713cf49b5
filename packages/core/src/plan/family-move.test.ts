import { describe, expect, it } from 'vitest';
import { familyIn, MINOR_PENTATONIC, MINOR_SIX_PENTATONIC } from '../hand/index.ts';
import { degrees, formatNoteName, noteAbove, noteName, type NoteName } from '../theory/index.ts';
import { familyMove } from './family-move.ts';

const scale = (root: string, spelled: string): NoteName[] =>
  degrees(spelled).map((each) => noteAbove(noteName(root), each));
const pentatonics = (root: string, spelled: string) => familyIn(MINOR_PENTATONIC, scale(root, spelled));

describe('the move from family to family', () => {
  // common practice: the raised family and the substitute's
  it.each([
    ['F', '1 2 3 #4 5 6 7', 7, 'D A'],
    ['F', '1 2 3 4 5 6 7', 0, 'G D A'],
    ['Gb', '1 2 3 4 5 6 b7', 6, ''],
    ['Bb', '1 2 3 4 5 6 7', 5, 'G D'],
  ])('from F major to %s %s is %i semitones and keeps %s', (root, spelled, semitones, kept) => {
    const move = familyMove(pentatonics('F', '1 2 3 4 5 6 7'), pentatonics(root, spelled));
    expect(move.semitones).toBe(semitones);
    expect(move.kept.map((each) => formatNoteName(each.thumb)).join(' ')).toBe(kept);
    expect(move.kept.length + move.entered.length).toBe(3);
  });

  it('has no interval between different shapes, and keeps nothing', () => {
    const other = familyIn(MINOR_SIX_PENTATONIC, scale('F', '1 2 b3 4 5 6 7'));
    expect(familyMove(pentatonics('F', '1 2 3 4 5 6 7'), other)).toMatchObject({ semitones: null, kept: [] });
  });

  it('is the smallest where a ring allows several', () => {
    const shape = {
      ...MINOR_PENTATONIC,
      id: 'ring',
      steps: [0, 3, 4, 7, 10] as const,
      degrees: MINOR_PENTATONIC.degrees,
    };
    const halfWhole = (root: string) => familyIn(shape, scale(root, '1 b2 b3 3 #4 5 6 b7'));
    expect(familyMove(halfWhole('C'), halfWhole('Eb'))).toMatchObject({ semitones: 0 });
    expect(familyMove(halfWhole('C'), halfWhole('E'))).toMatchObject({ semitones: 1 });
  });
});
