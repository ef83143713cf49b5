import { noteName, readChordSymbol } from '@fivespan/core';
import { describe, expect, it } from 'vitest';
import { spokenChord, spokenNote, spokenNumeral, spokenPitch, spokenSigns } from './spoken.ts';

function said(symbol: string): string {
  const read = readChordSymbol(symbol);
  if (!read.ok) throw new RangeError(`symbol must be a chord symbol, not ${symbol}`);
  return spokenChord(read.value);
}

// how musicians read symbols aloud: common practice
describe('music said', () => {
  it.each([
    ['Ebmaj7', 'E flat major seven'],
    ['Fm7', 'F minor seven'],
    ['Bb7', 'B flat seven'],
    ['C', 'C major'],
    ['Am7b5', 'A minor seven flat five'],
    ['D7alt', 'D seven altered'],
    ['G7(b9,#11)', 'G seven flat nine sharp eleven'],
    ['F#dim7', 'F sharp diminished seven'],
    ['C/E', 'C major over E'],
    ['N.C.', 'no chord'],
    ['C#m6/9', 'C sharp minor six nine'],
    ['C6/9/G', 'C six nine over G'],
  ])('%s is %s', (symbol, words) => expect(said(symbol)).toBe(words));

  it.each([
    ['iim7', 'two minor seven'],
    ['V7(b9)/ii', 'five seven flat nine of two'],
    ['subV7', 'substitute five seven'],
    ['bVII7', 'flat seven seven'],
    ['#iv°7', 'sharp four diminished seven'],
    ['im6/9', 'one minor six nine'],
    ['I6/9/IV', 'one six nine of four'],
  ])('the numeral %s is %s', (numeral, words) => expect(spokenNumeral(numeral)).toBe(words));

  it('says accidentals, also those behind names of other languages', () => {
    expect(spokenNote(noteName('Bbb'))).toBe('B double flat');
    expect(spokenNote(noteName('F#'))).toBe('F sharp');
    expect(spokenSigns('Si♭, ♯11')).toBe('Si flat, sharp 11');
  });

  it('keeps an octave apart from an accidental: A flat four would be a fourth', () => {
    expect(spokenPitch('A♭', 4)).toBe('A flat in octave 4');
    expect(spokenPitch('Si♭', 5)).toBe('Si flat in octave 5');
    expect(spokenPitch('C', 4)).toBe('C in octave 4');
  });
});
