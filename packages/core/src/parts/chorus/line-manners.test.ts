import { describe, expect, it } from 'vitest';
import { randomSource } from '../../random.ts';
import { accidentalsOf, letterOf, ownNames, pitchClassOf, type Chord } from '../../theory/index.ts';
import { planOf } from '../invented-plan.ts';
import { CHORUS_LEVELS, improviseChorus } from './index.ts';

const TUNE = 'key: Eb major\n| Fm7 | Bb7 | Ebmaj7 | Gm6 | Am7b5 | D7alt | Gm6 | C7 | Fm7 | Bb7 | Ebmaj7 | % |\n';
const SEEDS = Array.from({ length: 12 }, (_, seed) => seed);

// common practice, and what two readers of printed choruses asked for
describe('the manners of a line', () => {
  it('a chromatic neighbour has the letter beside the note it goes to, unless the chord owns it', () => {
    let judged = 0;
    for (const level of [3, 4] as const) {
      const plan = planOf(TUNE, level);
      for (const seed of SEEDS) {
        const notes = improviseChorus(plan, { level, random: randomSource(seed, 'chorus') });
        for (const [index, { neighbour, pitch, slotIndex }] of notes.entries()) {
          const next = notes[index + 1];
          const slot = plan.slots[slotIndex]?.analysed;
          if (neighbour === null || next === undefined || slot?.chord == null) continue;
          const own = ownNames(slot.chord as Chord, slot.reading.key).map(pitchClassOf);
          // a white key keeps its plain name where the letter beside would be odd
          if (own.includes(pitchClassOf(pitch.name)) || accidentalsOf(pitch.name) === 0) continue;
          judged++;
          expect(letterOf(pitch.name)).not.toBe(letterOf(next.pitch.name));
        }
      }
    }
    expect(judged).toBeGreaterThan(20);
  });

  it('a chorus lands: its last note begins a quarter before the form ends, or earlier', () => {
    for (const level of CHORUS_LEVELS) {
      const plan = planOf(TUNE, level);
      const end = plan.slots.at(-1)?.analysed.played.endTicks ?? 0;
      for (const seed of SEEDS) {
        const last = improviseChorus(plan, { level, random: randomSource(seed, 'chorus') }).at(-1);
        expect(last?.startTicks ?? 0).toBeLessThanOrEqual(end - 960);
      }
    }
  });
});
