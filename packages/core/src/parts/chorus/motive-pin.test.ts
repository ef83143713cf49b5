import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { randomSource } from '../../random.ts';
import { planOf } from '../invented-plan.ts';
import { improviseChorus } from './chorus.ts';
import { motiveFault, motiveOfPin, type MotivePin } from './motive-pin.ts';
import { formatMotive, parseMotive } from './motive-text.ts';

const QUARTERS = { startTicks: 0, cellTicks: 480, cells: 2 } as const;
const TUNE = '| Dm7 | G7 | Cmaj7 | % | Fm7 | Bb7 | Cmaj7 | A7 |\n| Dm7 | G7 | Em7 | A7 | Dm7 | G7 | Cmaj7 | % |\n';

const motive = (text: string): MotivePin => {
  const read = parseMotive(text);
  if (typeof read === 'string') throw new TypeError(read);
  return read;
};

describe('a motive as one writes it', () => {
  it('is fingers and note values', () => {
    expect(motive('1 2 4 3 : 8 8 4. 4').notes).toEqual([
      { onsetTicks: 0, durationTicks: 480, finger: 1 },
      { onsetTicks: 480, durationTicks: 480, finger: 2 },
      { onsetTicks: 960, durationTicks: 1440, finger: 4 },
      { onsetTicks: 2400, durationTicks: 960, finger: 3 },
    ]);
    expect(motive('1-3-5: 8t 8t r8t 4').notes.map(({ onsetTicks }) => onsetTicks)).toEqual([0, 320, 960]);
  });

  it.each([
    ['1 2 3', 'it takes fingers, a colon'],
    ['1 2 3 : 8 8', 'it has 3 fingers but 2 notes'],
    ['1 2 6 : 8 8 8', 'needs a finger from 1 (the thumb) to 5'],
    ['1 2 : 8 8', 'fewer than three notes'],
    ['1 2 3 : 8 8 5', "'5' is no note value"],
    ['1 2 3 : r8 8 8 8', 'begins with a note'],
    ['1 2 3 : 1 1 1', 'longer than two bars'],
  ])('says what is wrong with %s', (text, words) => {
    expect(parseMotive(text)).toContain(words);
  });

  it('comes back as it was written', () => {
    const value = fc.constantFrom('2', '4.', '4', '8', '8t', '16');
    const note = fc.record({ finger: fc.integer({ min: 1, max: 5 }), value });
    fc.assert(
      fc.property(fc.array(note, { minLength: 3, maxLength: 4 }), (notes) => {
        const text = `${notes.map(({ finger }) => finger).join(' ')} : ${notes.map((each) => each.value).join(' ')}`;
        expect(formatMotive(motive(text))).toBe(text);
      }),
      { seed: 20_261_130, numRuns: 200 },
    );
  });
});

describe('a motive given to the search', () => {
  it('has its rhythm in signs and its fingers as moves', () => {
    expect(motiveOfPin(motive('1 2 4 3 : 8 8 r8 8 2'), QUARTERS)).toEqual({
      signs: ['xx', '.x', 'x-', '--'],
      moves: [1, 2, -1],
    });
    // nothing is held on out of a triplet
    expect(motiveOfPin(motive('5 3 1 2 : 8t 8t 4 4'), QUARTERS).signs).toEqual(['xxx', '..x', '..']);
    // a motive of quarters in a metre of dotted beats
    expect(motiveOfPin(motive('1 3 5 : 4 8 4.'), { startTicks: 0, cellTicks: 480, cells: 3 }).signs).toEqual([
      'x-x',
      'x--',
    ]);
  });

  it('is what the chorus is made of: said, brought back, and no other', () => {
    const given = [motive('1 2 4 3 : 8 8 4 4'), motive('5 3 2 : 4 8 8')];
    const plan = planOf(TUNE);
    let [kept, wished] = [0, 0];
    for (let seed = 1; seed <= 8; seed++) {
      for (const level of [1, 2, 3, 4] as const) {
        const notes = improviseChorus(plan, { level, random: randomSource(seed, 'chorus'), motives: given });
        const marked = notes.filter((note) => note.motive !== null);
        expect(new Set(marked.map((note) => note.motive?.number))).toEqual(new Set([1, 2]));
        for (const [index, note] of notes.entries()) {
          const before = notes[index - 1];
          const mark = note.motive;
          if (mark?.form !== 'new' || before?.motive?.statement !== mark.statement) continue;
          const place = notes.filter((each) => each.motive?.statement === mark.statement).indexOf(note);
          const moves = motiveOfPin(given[mark.number - 1] as MotivePin, QUARTERS).moves;
          wished++;
          if (note.finger - before.finger === moves[place - 1]) kept++;
        }
      }
    }
    expect(wished).toBeGreaterThan(100);
    expect(kept / wished).toBeGreaterThan(0.8);
  });

  it('is refused where it is no motive', () => {
    const [first] = motive('1 2 3 : 8 8 8').notes;
    if (first === undefined) throw new TypeError('a motive has notes');
    expect(motiveFault({ notes: [first, first, first] })).toBe('not in order');
    expect(motiveFault({ notes: [] })).toBe('too few notes');
  });
});
