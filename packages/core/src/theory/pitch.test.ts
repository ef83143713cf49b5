import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { accidentalsOf, letterOf, modulo, noteName, pitchClass, spellingsOf } from './note-name.ts';
import { formatPitch, midi, midiOf, pitchAt } from './pitch.ts';

describe('pitches', () => {
  // scientific pitch notation, middle C is C4 = MIDI 60 (docs/sources.md, 8, mark R)
  test.each([
    ['C', 4, 60],
    ['A', 0, 21],
    ['C', 8, 108],
    ['Cb', 4, 59],
    ['B#', 3, 60],
    ['A', 4, 69],
    ['Fbb', 4, 63],
  ])('%s%i is MIDI note %i', (name, octave, value) => {
    expect(midiOf({ name: noteName(name), octave })).toBe(value);
    expect(pitchAt(noteName(name), midi(value))).toEqual({ name: noteName(name), octave });
    expect(formatPitch({ name: noteName(name), octave })).toBe(`${name}${octave}`);
  });

  test('every spelling of every key comes back', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 127 }), fc.nat(), (value, choice) => {
        const names = spellingsOf(pitchClass(value), 2);
        const name = names[choice % names.length] as (typeof names)[number];
        const pitch = pitchAt(name, midi(value));
        expect(midiOf(pitch)).toBe(value);
        // the octave is the letter's: without accidentals the note is between its C and its B
        expect(Math.floor((value - accidentalsOf(name)) / 12) - 1).toBe(pitch.octave);
        expect('CDEFGAB').toContain(letterOf(name));
      }),
      { seed: 1 },
    );
  });

  test("a programmer's mistake throws", () => {
    expect(() => midi(128)).toThrow(RangeError);
    expect(() => midi(-1)).toThrow(RangeError);
    expect(() => midi(60.5)).toThrow(RangeError);
    expect(() => midiOf({ name: noteName('C'), octave: 10 })).toThrow(RangeError);
    expect(() => pitchAt(noteName('C'), midi(61))).toThrow(RangeError);
    expect(modulo(-1, 12)).toBe(11);
  });
});
