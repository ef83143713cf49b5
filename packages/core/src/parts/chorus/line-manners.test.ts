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
import { CHORUS_LEVELS, improviseChorus, type ChorusLevel } from './index.ts';
import { isWrongWay, keyPlacesOf } from './key-place.ts';
import { leavesChord, phraseGroundOf } from './phrase-ground.ts';
import { planPhrases } from './phrase-plan.ts';

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

  it('no long note swallows a coloured change: it is struck again on it', () => {
    const plan = planOf(
      'key: Eb major\n| Fm7 | Bb7 | Ebmaj7 | Abm7 Db7 | Ebmaj7 C7(b9) | Fm7 | D7alt | Gm6 | Bb7 | Ebmaj7 |\n',
      1,
    );
    const ground = phraseGroundOf(plan, keyPlacesOf(plan));
    const bars = plan.slots.map(({ analysed }) => analysed.played.playedBar);
    const form = bars.filter(({ index }, at) => bars[at - 1]?.index !== index);
    let inside = 0;
    for (const seed of Array.from({ length: 60 }, (_, each) => each)) {
      for (const { onsets } of planPhrases(form, 1, ground, 0, [], randomSource(seed, 'chorus'))) {
        for (const [index, onset] of onsets.slice(1).entries()) {
          const before = onsets[index] as (typeof onsets)[number];
          const swallowed = ground.coloured.filter(
            ({ startTicks, byTicks }) => startTicks > before.startTicks && byTicks < onset.startTicks,
          );
          expect(swallowed).toEqual([]);
          if (ground.coloured.some(({ startTicks }) => startTicks === onset.startTicks)) inside++;
        }
      }
    }
    expect(inside).toBeGreaterThan(20);
  });

  it('no finger takes another key a sixteenth later', () => {
    const plan = planOf(TUNE, 4);
    let quick = 0;
    for (const seed of SEEDS) {
      const notes = improviseChorus(plan, { level: 4, random: randomSource(seed, 'chorus') });
      for (const [index, note] of notes.slice(1).entries()) {
        const before = notes[index] as (typeof notes)[number];
        if (note.startTicks - before.startTicks > 240) continue;
        quick++;
        if (midiOf(note.pitch) !== midiOf(before.pitch)) expect(note.finger).not.toBe(before.finger);
      }
    }
    expect(quick).toBeGreaterThan(100);
  });

  // the model is our own (growth.ts): means over many seeds
  describe('a line grows from chorus to chorus: more notes, motives and anticipations, more of it an octave away', () => {
    const TEXT = 'key: F major\n| Gm7 | C7 | Fmaj7 | Dm7 | Gm7 | C7 | Fmaj7 | % |\n';
    const grownOf = (
      level: ChorusLevel,
      chorus: number,
      seeds: number,
    ): Record<'notes' | 'statements' | 'early' | 'away', number> => {
      const plan = planOf(TEXT, level);
      const lines = Array.from({ length: seeds }, (_, seed) =>
        improviseChorus(plan, { level, random: randomSource(seed, `chorus ${chorus + 1}`), chorus }),
      );
      const notes = lines.flat();
      const isEarly = ({ slotIndex, startTicks }: (typeof notes)[number]): boolean =>
        startTicks < (plan.slots[slotIndex]?.analysed.played.startTicks ?? 0);
      return {
        notes: notes.length / lines.length,
        statements:
          lines.flatMap((line) => [...new Set(line.map(({ motive }) => motive?.statement))]).length / lines.length,
        early: notes.filter(isEarly).length / lines.length,
        away: notes.filter(({ octaves }) => octaves !== 0).length / notes.length,
      };
    };

    it('at level 1 with every chorus', () => {
      const grown = [0, 1, 2, 3].map((chorus) => grownOf(1, chorus, 120));
      for (const of of ['notes', 'statements', 'early', 'away'] as const) {
        const values = grown.map((each) => each[of]);
        expect(values[3], `${of}: ${values.join(' ')}`).toBeGreaterThan((values[0] as number) * 1.05);
        // as many phrases lie apart in the fourth chorus as in the third
        const rising = of === 'away' ? values.slice(0, 3) : values;
        expect(
          rising.toSorted((a, b) => a - b),
          `${of}: ${values.join(' ')}`,
        ).toEqual(rising);
      }
    });

    it.each([2, 3, 4] as const)('at level %i, the fourth beside the first', (level) => {
      const [first, fourth] = [grownOf(level, 0, 60), grownOf(level, 3, 60)];
      for (const of of ['notes', 'statements', 'early', 'away'] as const) {
        expect(fourth[of], `${of}: ${JSON.stringify([first, fourth])}`).toBeGreaterThan(first[of]);
      }
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
