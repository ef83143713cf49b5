import { beatAt, playedBarAt } from '../../chart/index.ts';
import { formatNoteName, midiOf } from '../../theory/index.ts';
import { motionBetween, motionOf } from '../../parts/index.ts';
import type { Lesson } from '../lesson.ts';
import { voicingsOfLesson } from '../voicings-of-lesson.ts';
import { beatReported } from './as-written.ts';

/** The public JSON of `bass`, version 1: docs/json.md. */
export interface BassReport {
  readonly version: 1;
  readonly notes: readonly {
    readonly bar: number;
    readonly beat: number;
    readonly name: string;
    readonly midi: number;
    readonly function: string;
    readonly why: { readonly code: string; readonly args: Readonly<Record<string, string>> };
    /** Whether the teacher wrote it. */
    readonly own: boolean;
  }[];
}

/** The public JSON of `chorus`, version 1: docs/json.md. */
export interface ChorusReport {
  readonly version: 1;
  readonly seed: number;
  readonly notes: readonly {
    readonly bar: number;
    readonly startTicks: number;
    readonly durationTicks: number;
    readonly name: string;
    readonly midi: number;
    readonly finger: number;
    readonly thumb: string;
    readonly shape: string;
    readonly chordScale: string;
    /** The chord it belongs to: an anticipation's is the coming one. */
    readonly slot: string;
    /** Octaves above the route's place. */
    readonly octaves: number;
    /** A chromatic neighbour's kind; null where the key is the position's own. */
    readonly neighbour: 'approach' | 'enclosure' | null;
    /** The finger motive it belongs to, from 1, and what is done with it; null between motives. */
    readonly motive: { readonly number: number; readonly form: string; readonly statement: number } | null;
    readonly why: { readonly code: string; readonly args: Readonly<Record<string, string>> };
    /** Whether the teacher wrote it. */
    readonly own: boolean;
  }[];
}

/** The walking bass as public JSON. `name` is the spelled note, `midi` says in which octave. */
export function reportBass({ bass, analysis }: Lesson): BassReport {
  return {
    version: 1,
    notes: bass.map((note) => {
      const playedBar = playedBarAt(analysis.form, note.startTicks);
      return {
        bar: playedBar.bar.number,
        beat: beatReported(beatAt(playedBar, note.startTicks)),
        name: formatNoteName(note.pitch.name),
        midi: midiOf(note.pitch),
        function: note.function,
        why: note.why,
        own: note.own === true,
      };
    }),
  };
}

/** The demonstration chorus as public JSON. An anticipation is in the bar it sounds in, with the coming chord's position. */
export function reportChorus({
  chorus,
  analysis,
  plan,
  choices,
}: Pick<Lesson, 'chorus' | 'analysis' | 'plan' | 'choices'>): ChorusReport {
  return {
    version: 1,
    seed: choices.seed,
    notes: chorus.map((note) => ({
      bar: playedBarAt(analysis.form, note.startTicks).bar.number,
      startTicks: note.startTicks,
      durationTicks: note.durationTicks,
      name: formatNoteName(note.pitch.name),
      midi: midiOf(note.pitch),
      finger: note.finger,
      thumb: formatNoteName(note.position.thumb),
      shape: note.position.shape.name,
      chordScale: plan.slots[note.slotIndex]?.chordScale?.id ?? '',
      slot: analysis.slots[note.slotIndex]?.played.slot.id ?? '',
      octaves: note.octaves,
      neighbour: note.neighbour,
      motive: note.motive,
      why: note.why,
      own: note.own === true,
    })),
  };
}

/** The public JSON of `voicings`, version 1: docs/json.md. */
export interface VoicingsReport {
  readonly version: 1;
  readonly kind: string;
  /** Half steps that all voices move over the form, and at the widest change. */
  readonly motion: { readonly total: number; readonly most: number };
  readonly voicings: readonly {
    readonly bar: number;
    readonly beat: number;
    readonly slot: string;
    readonly chord: string;
    readonly form: string;
    /** The right hand's triad in an upper structure: `D major`; null elsewhere. */
    readonly triad: string | null;
    readonly left: readonly { readonly name: string; readonly midi: number }[];
    readonly right: readonly { readonly name: string; readonly midi: number }[];
    /** Half steps that the voices move from the voicing before. */
    readonly moved: number;
    readonly pinned: boolean;
  }[];
}

/** The voicings as public JSON, one for each slot with a chord; keys from the lowest up. */
export function reportVoicings(lesson: Lesson): VoicingsReport {
  const { analysis, choices } = lesson;
  const voicings = voicingsOfLesson(lesson);
  const led = voicings.filter((each) => each !== undefined);
  return {
    version: 1,
    kind: choices.voicings,
    motion: motionOf(voicings),
    voicings: led.map(({ slotIndex, form, triad, pitches, keys, left }, index) => {
      const { played } = analysis.slots[slotIndex] as (typeof analysis.slots)[number];
      const before = led[index - 1];
      const notes = pitches.map((pitch) => ({ name: formatNoteName(pitch.name), midi: midiOf(pitch) }));
      return {
        bar: played.playedBar.bar.number,
        beat: beatReported(beatAt(played.playedBar, played.startTicks)),
        slot: played.slot.id,
        chord: played.slot.chord.symbol,
        form,
        triad: triad === null ? null : `${formatNoteName(triad.root)} ${triad.quality}`,
        left: notes.slice(0, left),
        right: notes.slice(left),
        moved: before === undefined ? 0 : motionBetween(before.keys, keys),
        pinned: choices.pins.parts.voicings.some(
          (pin) =>
            pin.slot === played.slot.id &&
            pin.pass === played.playedBar.pass &&
            pin.keys.length === keys.length &&
            pin.keys.every((key, place) => (key - (keys[place] as number)) % 12 === 0),
        ),
      };
    }),
  };
}
