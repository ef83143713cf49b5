/**
 * Chords in thirds out of five-note positions, against:
 * - common practice: fingers 1-2-4-5 of the three minor pentatonics of a key spell the chords in thirds to the 13th (Gm13, C13,
 *   and Fmaj13(#11) on the family raised by a fifth); the natural 4 over a tonic major chord or a dominant is its avoid note
 *   and passes off the beat or is left out;
 * - tonal (npm), a general-purpose library: the notes of each chord-scale, in twelve keys by its own spelling.
 */
import { Scale } from 'tonal';
import { describe, expect, it } from 'vitest';
import {
  arpeggioStudy,
  formatNoteName,
  formatPitch,
  midiOf,
  NO_PLAN_PINS,
  planRoute,
  stackChord,
  type Analysis,
  type Plan,
} from '@fivespan/core';
import { inventedAnalysis } from '../../packages/core/src/plan/invented-analysis.ts';

const KEYS = [
  ['C', 'Dm7 | G7 | Cmaj7'],
  ['F', 'Gm7 | C7 | Fmaj7'],
  ['Bb', 'Cm7 | F7 | Bbmaj7'],
  ['Eb', 'Fm7 | Bb7 | Ebmaj7'],
  ['Ab', 'Bbm7 | Eb7 | Abmaj7'],
  ['Db', 'Ebm7 | Ab7 | Dbmaj7'],
  ['Gb', 'Abm7 | Db7 | Gbmaj7'],
  ['B', 'C#m7 | F#7 | Bmaj7'],
  ['E', 'F#m7 | B7 | Emaj7'],
  ['A', 'Bm7 | E7 | Amaj7'],
  ['D', 'Em7 | A7 | Dmaj7'],
  ['G', 'Am7 | D7 | Gmaj7'],
] as const;

/** 1 3 5 7 9 11 13 of a scale of seven notes. */
const inThirds = (notes: readonly string[]): string[] => [0, 2, 4, 6, 1, 3, 5].map((index) => notes[index] ?? '');

function planWith(analysis: Analysis, chordScale: string): Plan {
  const slot = analysis.slots[2]?.played.slot.id ?? '';
  const pins = { ...NO_PLAN_PINS, chordScales: [{ slot, pass: 1, chordScale }] };
  return planRoute(analysis, { pins, hand: 'medium', level: 1 });
}

const RAISED = 'lydian@1';

describe('fingers 1-2-4-5 of the three positions spell the chords in thirds to the 13th (common practice)', () => {
  it.each(KEYS)('in %s major', (tonic, changes) => {
    const plan = planWith(inventedAnalysis(changes, `${tonic} major`), RAISED);
    const study = arpeggioStudy(plan);
    const modes = ['dorian', 'mixolydian', 'lydian'];
    for (const [index, { analysed, chordScale, family }] of plan.slots.entries()) {
      const { chord } = analysed;
      if (chord === null || chordScale === null || family === null) throw new TypeError('every slot has a chord');
      const expected = inThirds(Scale.get(`${formatNoteName(chord.root)} ${modes[index]}`).notes);
      const stacked = stackChord(chord, chordScale, family);
      expect(stacked?.top).toBeGreaterThanOrEqual(6);
      for (const { position, fingers, from } of stacked?.runs ?? []) {
        expect(family.positions).toContain(position);
        expect(fingers).not.toContain(3);
        const held = fingers.map((finger) => formatNoteName(position.notes[finger - 1] as never));
        expect(held).toEqual(fingers.map((_, step) => expected[(from + step) % 7]));
      }
      const played = study.filter((each) => each.slotIndex === index).map((each) => formatNoteName(each.pitch.name));
      expect(played.slice(0, 7)).toEqual(expected);
    }
  });

  it('in F major, note by note and finger by finger', () => {
    const study = arpeggioStudy(planWith(inventedAnalysis('Gm7 | C7 | Fmaj7', 'F major'), RAISED));
    const line = (slot: number): string =>
      study
        .filter((each) => each.slotIndex === slot)
        .map((each) => formatPitch(each.pitch) + each.finger)
        .slice(0, 7)
        .join(' ');
    expect(line(0)).toBe('G31 Bb32 D44 F45 A41 C52 E54');
    expect(line(1)).toBe('C42 E44 G41 Bb42 D51 F52 A54');
    expect(line(2)).toBe('F42 A44 C55 E51 G52 B54 D65');
  });
});

describe('the avoid note (common practice)', () => {
  it.each(KEYS)('in %s major the 4 over V and I is never on a beat, never last in its chord', (tonic, changes) => {
    const analysis = inventedAnalysis(`${changes} | ${changes.replaceAll(' | ', ' ')} Cmaj7`, `${tonic} major`);
    const study = arpeggioStudy(planRoute(analysis, { pins: NO_PLAN_PINS, hand: 'medium', level: 1 }));
    let passing = 0;
    for (const [index, note] of study.entries()) {
      const { chord, played } = analysis.slots[note.slotIndex] as Analysis['slots'][number];
      if (chord === null || !['dominant', 'major'].includes(chord.quality)) continue;
      if (played.index > 2) continue;
      const fourth = (midiOf(note.pitch) - midiOf({ name: chord.root, octave: 0 }) + 120) % 12 === 5;
      if (!fourth) continue;
      passing++;
      expect(note.startTicks % 960).toBe(480);
      expect(study[index + 1]?.slotIndex).toBe(note.slotIndex);
    }
    expect(passing).toBeGreaterThan(0);
  });
});
