import { describe, expect, it } from 'vitest';
import { degrees, noteName, type Chord } from '@fivespan/core';
import { chordLine, chordText, noteText, numeralText } from './note-text.ts';

function chord(root: string, suffix: string, bass?: string): Chord {
  return {
    kind: 'chord',
    root: noteName(root),
    quality: 'dominant',
    degrees: degrees('1 3 5 b7'),
    bass: bass === undefined ? null : noteName(bass),
    suffix,
    symbol: '',
  };
}

describe('printed names', () => {
  it('have ♭ U+266D and ♯ U+266F, as the issue asks: B♭7, E♭maj7(♯11)', () => {
    expect(chordLine(chord('Bb', '7'))).toBe('B\u266D7');
    expect(chordLine(chord('Eb', 'maj7(#11)'))).toBe('E\u266Dmaj7(\u266F11)');
    expect(chordLine(chord('F#', 'm7b5', 'Bb'))).toBe('F♯m7♭5/B♭');
    expect(noteText(noteName('Bbb'))).toBe('B𝄫');
  });

  it('raise alterations and leave the quality on the line', () => {
    expect(chordText(chord('Bb', '7(b9,b13)'))).toEqual({ root: 'B♭', quality: '7', raised: '(♭9,♭13)', bass: '' });
    expect(chordText(chord('D', '7alt'))).toEqual({ root: 'D', quality: '7', raised: 'alt', bass: '' });
    expect(chordText(chord('A', 'm7b5'))).toEqual({ root: 'A', quality: 'm7', raised: '♭5', bass: '' });
    expect(chordText(chord('C', 'm(maj7)'))).toEqual({ root: 'C', quality: 'm(maj7)', raised: '', bass: '' });
    expect(chordText({ kind: 'no chord', symbol: 'N.C.' }).root).toBe('N.C.');
  });

  it('keep the b of sub', () => {
    expect(numeralText('subV7/bII')).toBe('subV7/♭II');
    expect(numeralText('bVII7')).toBe('♭VII7');
  });
});
