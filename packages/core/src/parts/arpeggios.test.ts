import { describe, expect, it } from 'vitest';
import { formatPitch, midiOf, pitchClassOf } from '../theory/index.ts';
import { NO_PLAN_PINS, planRoute, type Plan } from '../plan/index.ts';
import { inventedAnalysis } from '../plan/invented-analysis.ts';
import { arpeggioStudy } from './arpeggios.ts';
import type { HandNote } from './note.ts';

const planOf = (text: string, key: string, chordScales: readonly (readonly [number, string])[] = []): Plan => {
  const analysis = inventedAnalysis(text, key);
  const pins = chordScales.map(([index, chordScale]) => {
    const slot = analysis.slots[index]!.played.slot.id;
    return { slot, pass: 1, chordScale };
  });
  return planRoute(analysis, { pins: { ...NO_PLAN_PINS, chordScales: pins }, hand: 'medium', level: 1 });
};
const lineOver = (notes: readonly HandNote[], slot: number): string =>
  notes
    .filter((each) => each.slotIndex === slot)
    .map((each) => `${formatPitch(each.pitch)}:${each.finger}`)
    .join(' ');

const DORIAN_STACK = 'G3:1 Bb3:2 D4:4 F4:5 A4:1 C5:2 E5:4 G5:5';

describe('the arpeggio study', () => {
  // common practice: fingers 1-2-4-5 of G, D and A minor pentatonic stack Gm13 and C13; raised a fifth, Fmaj13(#11)
  it('stacks a major ii–V–I in thirds to the 13th with fingers 1-2-4-5', () => {
    const notes = arpeggioStudy(planOf('Gm7 | C7 | Fmaj7', 'F major', [[2, 'lydian@1']]));
    expect(lineOver(notes, 0)).toBe(DORIAN_STACK);
    expect(lineOver(notes, 1)).toBe('C4:2 E4:4 G4:1 Bb4:2 D5:1 F5:2 A5:4 C6:5');
    expect(lineOver(notes, 2)).toBe('F4:2 A4:4 C5:5 E5:1 G5:2 B5:4 D6:5 B5:4');
  });

  // common practice: the blues scale is for lines; its chord stays the chord, F A C E flat G B flat D F
  it('stacks the chord itself where the route has taken the blues scale', () => {
    const twelve = 'F7 | Bb7 | F7 | F7 | Bb7 | Bb7 | F7 | F7 | C7 | Bb7 | F7 | C7';
    const plan = planOf(twelve, 'F major', [[0, 'blues@1']]);
    expect(plan.slots[0]!.chordScale!.name).toBe('blues');
    const classes = arpeggioStudy(plan)
      .filter(({ slotIndex }) => slotIndex === 0)
      .map(({ pitch }) => pitchClassOf(pitch.name));
    expect(classes).toEqual([5, 9, 0, 3, 7, 10, 2, 5]);
  });

  it('lets an avoid note pass off the beat, on its way up and down, and never ends on it', () => {
    const analysis = inventedAnalysis('Fmaj7 | Fmaj7 C7 | Fmaj7 C7 Fmaj7 Fmaj7', 'F major');
    const notes = arpeggioStudy(planRoute(analysis, { pins: NO_PLAN_PINS, hand: 'medium', level: 1 }));
    for (const [index, note] of notes.entries()) {
      const slot = analysis.slots[note.slotIndex]!;
      const rubs = slot.chordScales[0]!.avoid.some((each) => pitchClassOf(each.note) === pitchClassOf(note.pitch.name));
      if (!rubs) continue;
      expect(note.startTicks % 960).toBe(480);
      expect(notes[index + 1]?.slotIndex).toBe(note.slotIndex);
    }
    expect(notes.some((note) => note.why.code === 'arpeggio.passing')).toBe(true);
  });

  it.each([
    // the b9 and the b13 over iii would fall on the beat: fifth and seventh note of the stack
    ['Em7 | Em7', '4/4'],
    // after the root on top the 11 would come back on the fourth dotted beat
    ['C7 | C7 | Fmaj7', '12/8'],
    ['C7 | Fmaj7', '3/4'],
  ])('leaves an avoid note out where it would fall on a beat: %s in %s', (text, meter) => {
    const analysis = inventedAnalysis(text, text.startsWith('Em7') ? 'C major' : 'F major', meter);
    const notes = arpeggioStudy(planRoute(analysis, { pins: NO_PLAN_PINS, hand: 'medium', level: 1 }));
    const beatTicks = meter === '12/8' ? 1440 : 960;
    for (const note of notes) {
      const slot = analysis.slots[note.slotIndex]!;
      const rubs = slot.chordScales[0]!.avoid.some((each) => pitchClassOf(each.note) === pitchClassOf(note.pitch.name));
      if (!rubs) continue;
      expect(note.startTicks % beatTicks).not.toBe(0);
      expect(note.startTicks + note.durationTicks).toBeLessThan(slot.played.endTicks);
    }
    for (const [index, note] of notes.entries()) {
      if (index > 0) expect(midiOf(note.pitch)).not.toBe(midiOf(notes[index - 1]!.pitch));
    }
  });

  it('fills every slot from its start to its end in one hand register', () => {
    const analysis = inventedAnalysis(
      'Gm7 C7 | Fmaj7 Dm7 | Em7b5 A7alt | Dm6 | N.C. | F#dim7 | Gm7 Gm7 C7sus C7',
      'F major',
    );
    const notes = arpeggioStudy(planRoute(analysis, { pins: NO_PLAN_PINS, hand: 'medium', level: 1 }));
    for (const { played, chord } of analysis.slots) {
      const own = notes.filter((each) => each.slotIndex === played.index);
      if (chord === null) expect(own).toEqual([]);
      let ticks = played.startTicks;
      for (const note of own) {
        expect(note.startTicks).toBe(ticks);
        ticks += note.durationTicks;
      }
      if (chord !== null) expect(ticks).toBe(played.endTicks);
    }
    for (const note of notes) {
      expect(midiOf(note.pitch)).toBeGreaterThanOrEqual(53);
      expect(midiOf(note.pitch)).toBeLessThanOrEqual(90);
      expect(note.position.notes[note.finger - 1]).toBe(note.pitch.name);
    }
  });

  it('takes another rotation of the class where the family itself has no thirds', () => {
    const notes = arpeggioStudy(planOf('Cm6', 'C minor'));
    // Cm(maj13): C Eb G, then B D F A
    expect(lineOver(notes, 0)).toBe('C4:1 Eb4:2 G4:4 B4:1 D5:2 F5:3 A5:5 F5:3');
  });
});
