import { describe, expect, test } from 'vitest';
import { formatPitch, parseNoteName, type NoteName, type Pitch } from '../../theory/index.ts';
import { analysisOf } from '../invented-plan.ts';
import { voicingLineFaults } from './beside-line.ts';
import { editVoicing, ownVoicing, ownVoicingFaults } from './own-voicing.ts';

const TUNE = 'key: C\n| Dm7 | G7 | Cmaj7 | Db7 |\n';
const voicing = (slot: number, keys: readonly number[], over: string) => {
  const analysed = analysisOf(TUNE).slots[slot];
  if (analysed === undefined) throw new RangeError('slot must be in the chart');
  return ownVoicing(analysed, { slotIndex: slot, keys, own: { over, left: keys.length } }, null);
};

describe('a voicing of one’s own', () => {
  test('is any keys over its chord, named by it', () => {
    expect(voicing(0, [50, 53, 59, 64], 'Dm7')?.pitches.map(formatPitch)).toEqual(['D3', 'F3', 'B3', 'E4']);
    // common practice: the ♭9 and ♯9 of a dominant have its letters
    expect(voicing(1, [53, 59, 64, 68], 'G7')?.pitches.map(formatPitch)).toEqual(['F3', 'B3', 'E4', 'Ab4']);
    expect(voicing(3, [53, 59, 63, 67], 'Db7')?.pitches.map(formatPitch)).toEqual(['F3', 'Cb4', 'Eb4', 'G4']);
  });

  test('waits where its chord has become another that it rubs over, and stays where it fits', () => {
    expect(voicing(2, [52, 59, 65], 'Dm7')).toBeUndefined();
    expect(voicing(2, [52, 55, 59], 'Dm7')?.form).toBe('own');
    expect(voicing(2, [52, 59, 65], 'Cmaj7')?.form).toBe('own');
    expect(voicing(2, [59, 52], 'Cmaj7')).toBeUndefined();
    expect(voicing(2, [12, 59], 'Cmaj7')).toBeUndefined();
  });

  test('keys are changed, added and taken out, in order, each once', () => {
    const keys = [53, 57, 60];
    expect(editVoicing(keys, 2, 0, { kind: 'move', key: 58 })).toEqual({ keys: [57, 58, 60], left: 2, place: 1 });
    expect(editVoicing(keys, 2, 0, { kind: 'move', key: 57 })).toBeUndefined();
    expect(editVoicing(keys, 2, 0, { kind: 'add', key: 50 })).toEqual({ keys: [50, 53, 57, 60], left: 3, place: 0 });
    expect(editVoicing(keys, 2, 2, { kind: 'add', key: 64 })).toEqual({ keys: [53, 57, 60, 64], left: 2, place: 3 });
    expect(editVoicing(keys, 2, 1, { kind: 'take out' })).toEqual({ keys: [53, 60], left: 1, place: 0 });
    expect(editVoicing([53], 1, 0, { kind: 'take out' })).toBeUndefined();
  });

  test('what a hand does not reach, and what is mud, is told', () => {
    const faults = (keys: readonly number[], left: number) => {
      const pitches = voicing(2, keys, 'Cmaj7')?.pitches ?? [];
      return ownVoicingFaults(pitches, left, 'medium').map(({ kind }) => kind);
    };
    expect(faults([52, 55, 59, 62], 4)).toEqual([]);
    // a third on E2 (voicings: low-interval.ts, common practice)
    expect(faults([40, 43, 52], 2)).toEqual(['mud']);
    expect(faults([48, 52, 55, 59, 62, 64], 6)).toEqual(['fingers']);
    expect(faults([48, 67], 2)).toEqual(['reach']);
    expect(faults([48, 67], 1)).toEqual([]);
  });

  test('what the line of the right hand strikes, crosses or cannot reach is told, each kind once', () => {
    const pitches = (names: string): Pitch[] =>
      names
        .split(' ')
        .map((text) => ({ name: parseNoteName(text.slice(0, -1)) as NoteName, octave: Number(text.at(-1)) }));
    const faults = (chord: string, left: number, line: string) => {
      const notes = pitches(line).map((pitch) => ({
        pitch,
        startTicks: 0,
        durationTicks: 480,
        slotIndex: 0,
        why: { code: 'own.chord-tone', args: {} },
      }));
      return voicingLineFaults(pitches(chord), left, notes as never, 'medium').map((fault) =>
        Object.values(fault).join(' '),
      );
    };
    expect(faults('E3 G3 B3 D4', 4, 'E4 C5 A4')).toEqual([]);
    expect(faults('E3 G3 B3 D4', 4, 'F4 D4 D4')).toEqual(['same key D4']);
    expect(faults('E3 G3 B3 D4', 4, 'F4 C4 A3')).toEqual(['crossing C4 D4']);
    // an octave from thumb to little finger is had, two are not
    expect(faults('E3 G3 B3 D4', 3, 'D5')).toEqual([]);
    expect(faults('E3 G3 B3 D4', 3, 'E4 D6')).toEqual(['line reach D6 D4']);
    expect(faults('B3 D4', 1, 'B3 A3')).toEqual(['same key B3', 'crossing A3 B3']);
  });
});
