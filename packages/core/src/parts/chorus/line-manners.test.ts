import { describe, expect, it } from 'vitest';
import { randomSource } from '../../random.ts';
import {
  accidentalsOf,
  guideTonesOf,
  letterOf,
  midiOf,
  noteAbove,
  ownNames,
  pitchClassOf,
  type Chord,
  type NoteName,
} from '../../theory/index.ts';
import { planOf } from '../invented-plan.ts';
import { CHORUS_LEVELS, improviseChorus } from './index.ts';
import { isWrongWay, keyPlacesOf } from './key-place.ts';
import { leavesChord } from './phrase-ground.ts';

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

  describe('hears the changes, at levels 2 to 4', () => {
    const HOME =
      'key: Eb major\n| Fm7 | Bb7 | Ebmaj7 | Abm7 Db7 | Ebmaj7 C7(b9) | Fm7 | D7alt | Gm6 | Bb7 | Ebmaj7 |\n';
    const BLUES =
      'key: F major\n| F7 | Bb7 | F7 | Cm7 F7 | Bb7 | Bdim7 | F7 | Am7b5 D7(b9) | Gm7 | C7 | F7 D7 | Gm7 C7 |\n';
    const made = ([2, 3, 4] as const).flatMap((level) =>
      [HOME, BLUES].flatMap((text) => {
        const plan = planOf(text, level);
        return SEEDS.slice(0, 8).map((seed) => ({
          plan,
          notes: improviseChorus(plan, { level, random: randomSource(seed, 'chorus') }),
        }));
      }),
    );

    it('no rest swallows a borrowed, secondary or altered change', () => {
      let [changes, silent] = [0, 0];
      for (const { plan, notes } of made) {
        for (const [index, { analysed }] of plan.slots.entries()) {
          const { role } = analysed.reading;
          const isAltered = /alt|b9/u.test(analysed.played.slot.chord.symbol);
          if (!/applied|substitute|backdoor|borrowed|diminished/u.test(role) && !isAltered) continue;
          changes++;
          if (!notes.some(({ slotIndex }) => slotIndex === index)) silent++;
        }
      }
      expect(changes).toBeGreaterThan(200);
      expect(silent / changes).toBeLessThanOrEqual(0.01);
    });

    it('what leaves a chord comes home in the same phrase, where 3 or 7 is under the hand', () => {
      let [left, home] = [0, 0];
      for (const { plan, notes } of made) {
        for (const [index, slot] of plan.slots.entries()) {
          const next = plan.slots[index + 1];
          if (next === undefined || !leavesChord(slot) || leavesChord(next)) continue;
          const chord = next.analysed.chord as Chord;
          const guides = guideTonesOf(chord).map((each) => pitchClassOf(noteAbove(chord.root, each)));
          const sounds = (names: readonly NoteName[]): boolean =>
            names.some((name) => guides.some((each) => each === pitchClassOf(name)));
          const isAway = notes.some(({ slotIndex }) => slotIndex === index);
          if (!isAway || !sounds(next.position?.notes ?? [])) continue;
          left++;
          const there = notes.filter(({ slotIndex }) => slotIndex === index + 1);
          if (sounds(there.map(({ pitch }) => pitch.name))) home++;
        }
      }
      expect(left).toBeGreaterThan(60);
      expect(home / left).toBeGreaterThanOrEqual(0.95);
    });

    // two bars of open Weimar solos with eight notes or more: in 13 of 100 one key has more than a third of them (C)
    it('no key is circled: more than a third of two bars, in 5 of 100 at most', () => {
      let [windows, circled] = [0, 0];
      for (const { notes } of made) {
        for (let bar = 0; bar < 12; bar++) {
          const within = notes.filter(({ startTicks }) => startTicks >= bar * 3840 && startTicks < (bar + 2) * 3840);
          if (within.length < 8) continue;
          windows++;
          const keys = within.map(({ pitch }) => midiOf(pitch));
          if (keys.some((key) => keys.filter((each) => each === key).length * 3 > keys.length)) circled++;
        }
      }
      expect(windows).toBeGreaterThan(300);
      expect(circled / windows).toBeLessThanOrEqual(0.05);
    });
  });

  it('an avoid note a half step over root or fifth falls into it: D♭ over Cm7 never rises', () => {
    let leaning = 0;
    for (const level of CHORUS_LEVELS) {
      const plan = planOf('key: C minor\n| Cm7 | Fm7 | Cm7 | Ab7 | G7 | Cm7 | Ebmaj7 | Dm7b5 G7 | Cm7 | % |\n', level);
      for (const place of keyPlacesOf(plan).flat()) {
        if (place.standing !== 'avoid note' || !['b9', 'b13'].includes(place.degree)) continue;
        leaning++;
        expect(place.resolvesTo.every((key) => key === place.midi - 1)).toBe(true);
      }
    }
    expect(leaning).toBeGreaterThan(0);
    expect([isWrongWay('b9', 2), isWrongWay('b9', -1), isWrongWay('11', 2)]).toEqual([true, false, false]);
  });
});
