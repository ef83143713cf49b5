import {
  beatTicksOf,
  midi,
  midiOf,
  partOnStaff,
  pitchClassOf,
  referenceVoicing,
  stavesOf,
  type AvoidNote,
  type Chord,
  type ChordScale,
  type Lesson,
  type Midi,
  type Position,
} from '@fivespan/core';
import type { HeardNote } from './sounding.ts';

/** Velocities: what is studied, and what lies under it. */
const CLEAR = 78;
const UNDER = 50;

/** A note of a scale or position that is heard for itself, in seconds. */
const STEP_SECONDS = 0.32;
/** How long a chord is held that is heard alone. */
const CHORD_SECONDS = 2.4;
/** An avoid note is left standing long enough to be heard rubbing. */
const RUB_SECONDS = 1.1;

function together(keys: readonly Midi[], startSeconds: number, durationSeconds: number, velocity: number): HeardNote[] {
  return keys.map((key) => ({ startSeconds, durationSeconds, midi: key, velocity }));
}

function inTurn(keys: readonly Midi[], fromSeconds: number): HeardNote[] {
  return keys.map((key, index) => ({
    startSeconds: fromSeconds + index * STEP_SECONDS,
    durationSeconds: index === keys.length - 1 ? STEP_SECONDS * 2 : STEP_SECONDS,
    midi: key,
    velocity: CLEAR,
  }));
}

function over(chord: Chord, melody: readonly HeardNote[]): HeardNote[] {
  const end = Math.max(CHORD_SECONDS, ...melody.map((each) => each.startSeconds + each.durationSeconds));
  return [...together(referenceVoicing(chord), 0, end, UNDER), ...melody];
}

/** The chord in its reference voicing. */
export function chordHeard(chord: Chord): readonly HeardNote[] {
  return together(referenceVoicing(chord), 0, CHORD_SECONDS, CLEAR - 10);
}

/** The lowest key from middle C up that sounds as a note. */
function fromMiddle(pitchClass: number): number {
  return 60 + pitchClass;
}

/** A chord-scale from its root up to the octave, over the chord. */
export function scaleHeard(chord: Chord, { notes }: ChordScale): readonly HeardNote[] {
  const [root] = notes;
  if (root === undefined) return [];
  const low = fromMiddle(pitchClassOf(root));
  const up = notes.map((note) => low + ((pitchClassOf(note) - pitchClassOf(root) + 12) % 12));
  return over(
    chord,
    inTurn(
      [...up, low + 12].map((key) => midi(key)),
      STEP_SECONDS,
    ),
  );
}

/** A position, thumb to little finger and back, over the chord. */
export function positionHeard(chord: Chord, position: Position, thumbMidi: Midi): readonly HeardNote[] {
  const up = position.shape.steps.map((step) => thumbMidi + step);
  const keys = [...up, ...up.toReversed().slice(1)].map((key) => midi(key));
  return over(chord, inTurn(keys, STEP_SECONDS));
}

/** An avoid note over the chord, and where it goes. */
export function resolutionHeard(chord: Chord, { note, resolvesTo }: AvoidNote): readonly HeardNote[] {
  const [nearest] = resolvesTo;
  const key = fromMiddle(pitchClassOf(note));
  const rub: HeardNote = { startSeconds: 0.4, durationSeconds: RUB_SECONDS, midi: midi(key), velocity: CLEAR };
  const goal: HeardNote[] =
    nearest === undefined
      ? []
      : [
          {
            startSeconds: 0.4 + RUB_SECONDS,
            durationSeconds: RUB_SECONDS,
            midi: midi(key + nearest.semitones),
            velocity: CLEAR,
          },
        ];
  return over(chord, [rub, ...goal]);
}

/** Seconds a tick, at the chart's tempo. */
export function secondsPerTick({ score }: Lesson): number {
  return 60 / score.tempoBpm / beatTicksOf(score.meter);
}

/** The bass and the chorus as played over a stretch of the form, in ticks. */
export function stretchHeard(lesson: Lesson, fromTicks: number, toTicks: number): readonly HeardNote[] {
  const notes = lesson.performance.parts
    .filter((part) => stavesOf('piano').includes(part.player))
    .flatMap((part) =>
      part.notes
        .filter(({ writtenStartTicks: at }) => at >= fromTicks && at < toTicks)
        .map(({ startSeconds, durationSeconds, midi: key, velocity }) => ({
          startSeconds,
          durationSeconds,
          midi: key,
          velocity,
          instrument: partOnStaff(part.player).instrument,
        })),
    );
  // time 0 of a performance is the start of the first bar, which a pickup may be
  const first = lesson.analysis.form.bars[0]?.startTicks ?? 0;
  const from = (fromTicks - first) * secondsPerTick(lesson);
  return notes
    .map((note) => ({ ...note, startSeconds: Math.max(0, note.startSeconds - from) }))
    .sort((a, b) => a.startSeconds - b.startSeconds);
}

/** One written note by itself, over its chord where it has one. */
export function noteHeard(
  chord: Chord | null,
  pitch: Parameters<typeof midiOf>[0],
  isBass: boolean,
): readonly HeardNote[] {
  const note: HeardNote = {
    startSeconds: 0,
    durationSeconds: 1,
    midi: midiOf(pitch),
    velocity: CLEAR,
    ...(isBass ? { instrument: 'acoustic bass' as const } : {}),
  };
  return chord === null || isBass ? [note] : [...together(referenceVoicing(chord), 0, 1.6, UNDER), note];
}
