import { beatsOf, beatTicksOf, TICKS_PER_QUARTER, type Feel } from '../../chart/index.ts';
import { keyOfDrum, phrasesOf, type CompChord, type DrumStroke, type PartNote } from '../../parts/index.ts';
import { randomSource, type RandomSource } from '../../random.ts';
import { midiOf, type Midi } from '../../theory/index.ts';
import { barAt, clockIn, type Clock, type ClockBar } from '../bar-clock.ts';
import type { PlayedNote } from '../performance.ts';
import type { Swing } from '../swing.ts';
import { drift, type Drift, type DriftBounds } from './drift.ts';
import { trioSwing, type SwingSource } from './measured-swing.ts';
import { bassVelocity, chordVelocity, drumVelocity, growthOf, lineVelocity } from './trio-dynamics.ts';

/** Who plays in a trio: the pianist's hands count apart, so that a student can take over either. */
export const TRIO_PLAYERS = ['right hand', 'left hand', 'bass', 'drums'] as const;
export type TrioPlayer = (typeof TRIO_PLAYERS)[number];

/** Who improvises, and rests where the student takes over. */
export const SOLOIST = 'right hand' satisfies TrioPlayer;

/** Everyone but the soloist. */
export const ACCOMPANISTS = ['left hand', 'bass', 'drums'] as const satisfies readonly TrioPlayer[];

/** 'trio': the bass walks and the left hand comps. 'solo': the left hand walks, the bass rests. */
export type SetUp = 'trio' | 'solo';

/** Who can be heard in it: one hand cannot walk and comp, so where the left walks there is no bass player. */
export const PLAYERS_IN: Readonly<Record<SetUp, readonly TrioPlayer[]>> = {
  trio: TRIO_PLAYERS,
  solo: ['right hand', 'left hand', 'drums'],
};

/** The written parts of one chorus. Ticks from the first full bar. */
export interface TrioParts {
  readonly bars: readonly ClockBar[];
  readonly feel: Feel;
  readonly endTicks: number;
  readonly line: readonly PartNote[];
  readonly bass: readonly PartNote[];
  readonly comping: readonly CompChord[];
  readonly drums: readonly DrumStroke[];
}

export interface TrioOptions {
  readonly setUp: SetUp;
  /** Beats a minute of the opening metre. */
  readonly tempoBpm: number;
  readonly swing: SwingSource;
  readonly seed: number;
  /** Which chorus this is, from 0: the band grows. */
  readonly chorus: number;
}

/** One player's notes, in time order. */
export interface TrioPart {
  readonly player: TrioPlayer;
  readonly notes: readonly PlayedNote[];
}

/** One chorus as played. Time 0 is the first full bar: a pickup is before it. */
export interface TrioPerformance {
  readonly parts: readonly TrioPart[];
  readonly endSeconds: number;
}

/** How far each player strays in time, microseconds, and no further than a 24th of a beat. Our own, within what the recordings' quartiles leave. */
const TIME_DRIFT: Readonly<Record<TrioPlayer, DriftBounds>> = {
  'right hand': { farthest: 15_000, push: 7000 },
  'left hand': { farthest: 12_000, push: 6000 },
  bass: { farthest: 9000, push: 4500 },
  drums: { farthest: 6000, push: 3000 },
};
const DRIFT_SHARE_OF_BEAT = 24;

/** How far velocities stray, hundredths of a step. Our own. */
const VELOCITY_DRIFT: DriftBounds = { farthest: 700, push: 400 };

/** How far a bass note's share of its length strays, thousandths: fingers stop a string a little sooner or later. Our own. */
const LENGTH_DRIFT: DriftBounds = { farthest: 70, push: 40 };

/** How many of a hundred valley notes are ghosted. Our own. */
const GHOSTED_PERCENT = 45;

/** A soloist comes into a phrase so much earlier than they usually are, and leaves it as much later: leaning back. Our own. */
const PHRASE_LEAN_SECONDS = 0.005;

/**
 * How far the keys of a comped chord lie apart, lowest first, in microseconds from one to the next: a hand lays a held chord
 * down more than it strikes a short one. Our own: at most 15 ms over four keys, well under what is heard as a roll.
 */
const ROLL_MOST = { long: 5000, short: 2000 } as const;

/** A drum rings as it will; its key is let go after this. */
const DRUM_SECONDS = 0.1;
const SHORTEST_SECONDS = 0.03;
/** A short chord is let go after this at most. */
const SHORT_CHORD_SECONDS = 0.22;

/** Share of its length a note sounds. Common practice: lines are played legato into the beat; a plucked string rings until the next is stopped, less when fast. */
const SOUNDING = { line: 0.93, intoBeat: 0.98, phraseEnd: 0.82, bass: 0.95, fastBass: 0.86, chord: 0.92 } as const;
/** Quarters shorter than this are fast for a bass player's left hand. */
const FAST_QUARTER_SECONDS = 0.28;

/** A note before drift. */
interface Meant {
  readonly startTicks: number;
  readonly startSeconds: number;
  readonly durationSeconds: number;
  readonly midi: Midi;
  readonly velocity: number;
}

/** One player's time and touch. Notes written at one place are one movement of the hand and stray together. */
function played(
  notes: readonly Meant[],
  time: Drift,
  touch: Drift,
  limitMicroseconds: number,
  louder: number,
): PlayedNote[] {
  let place = Number.NaN;
  let late = 0;
  return notes.map(({ startTicks, startSeconds, durationSeconds, midi, velocity }) => {
    if (startTicks !== place) late = Math.max(-limitMicroseconds, Math.min(limitMicroseconds, time())) / 1e6;
    place = startTicks;
    const loud = velocity + louder + Math.round(touch() / 100);
    return {
      startSeconds: startSeconds + late,
      durationSeconds: Math.max(SHORTEST_SECONDS, durationSeconds),
      midi,
      velocity: Math.max(1, Math.min(127, loud)),
      writtenStartTicks: startTicks,
    };
  });
}

function lineNotes({ line, bars }: TrioParts, clock: Clock, isGhosted: () => boolean): Meant[] {
  return phrasesOf(line).flatMap((phrase) => {
    const keys = phrase.map((note) => midiOf(note.pitch));
    const peak = keys.indexOf(highestOf(keys));
    return phrase.map((note, index): Meant => {
      const { startTicks, durationTicks } = note;
      const bar = barAt(bars, startTicks);
      const beatTicks = bar === undefined ? TICKS_PER_QUARTER : beatTicksOf(bar.meter);
      const isOffBeat = (startTicks - (bar?.startTicks ?? 0)) % beatTicks !== 0;
      const midi = keys[index] as Midi;
      const isValley =
        index > 0 && index < keys.length - 1 && midi < (keys[index - 1] as Midi) && midi < (keys[index + 1] as Midi);
      const isLast = index === phrase.length - 1;
      const share = isLast ? SOUNDING.phraseEnd : isOffBeat ? SOUNDING.intoBeat : SOUNDING.line;
      const startSeconds = clock(startTicks);
      const middle = (phrase.length - 1) / 2;
      const lean = middle === 0 ? 0 : ((index - middle) / middle) * PHRASE_LEAN_SECONDS;
      return {
        startTicks,
        startSeconds: startSeconds + lean,
        durationSeconds: (clock(startTicks + durationTicks) - startSeconds) * share,
        midi,
        velocity: lineVelocity(
          { midi, isOffBeat, index, count: keys.length, isValley, isPeak: index === peak },
          isValley && isGhosted(),
        ),
      };
    });
  });
}

function highestOf(keys: readonly Midi[]): Midi {
  return keys.reduce((high, key) => (key > high ? key : high));
}

function bassNotes({ bass, bars }: TrioParts, clock: Clock, quarterSeconds: number, length: Drift): Meant[] {
  const usual = quarterSeconds < FAST_QUARTER_SECONDS ? SOUNDING.fastBass : SOUNDING.bass;
  return bass.map(({ startTicks, durationTicks, pitch }) => {
    const share = Math.min(1, usual + length() / 1000);
    const bar = barAt(bars, startTicks);
    const beatTicks = bar === undefined ? TICKS_PER_QUARTER : beatTicksOf(bar.meter);
    const beat = Math.floor((startTicks - (bar?.startTicks ?? 0)) / beatTicks);
    const startSeconds = clock(startTicks);
    return {
      startTicks,
      startSeconds,
      durationSeconds: (clock(startTicks + durationTicks) - startSeconds) * share,
      midi: midiOf(pitch),
      velocity: bassVelocity(beat, bar === undefined ? 1 : beatsOf(bar.meter)),
    };
  });
}

function chordNotes({ comping, bars }: TrioParts, clock: Clock, random: RandomSource): Meant[] {
  return comping.flatMap(({ startTicks, durationTicks, pitches }) => {
    const bar = barAt(bars, startTicks);
    const beatTicks = bar === undefined ? TICKS_PER_QUARTER : beatTicksOf(bar.meter);
    const isShort = durationTicks < beatTicks;
    const isPush = (startTicks - (bar?.startTicks ?? 0)) % beatTicks !== 0;
    const startSeconds = clock(startTicks);
    const written = clock(startTicks + durationTicks) - startSeconds;
    const sounding = isShort ? Math.min(SHORT_CHORD_SECONDS, written * SOUNDING.chord) : written * SOUNDING.chord;
    const apart = random.integer((isShort ? ROLL_MOST.short : ROLL_MOST.long) + 1) / 1e6;
    return pitches.map((pitch, key): Meant => ({
      startTicks,
      startSeconds: startSeconds + key * apart,
      // all are left together
      durationSeconds: sounding - key * apart,
      midi: midiOf(pitch),
      velocity: chordVelocity(isShort, isPush),
    }));
  });
}

function drumNotes({ drums }: TrioParts, clock: Clock): Meant[] {
  return drums.map((stroke) => ({
    startTicks: stroke.startTicks,
    startSeconds: clock(stroke.startTicks),
    durationSeconds: DRUM_SECONDS,
    midi: keyOfDrum(stroke.drum),
    velocity: drumVelocity(stroke),
  }));
}

/**
 * Plays one chorus of a trio. Swing follows the tempo; each player strays in time and touch within bounds, every note not far
 * from the one before; loudness follows phrase and beat and grows from chorus to chorus. The same seed plays the same.
 * @throws RangeError where the tempo is not positive
 */
export function performTrio(parts: TrioParts, options: TrioOptions): TrioPerformance {
  const { setUp, tempoBpm, swing, seed, chorus } = options;
  if (!(tempoBpm > 0)) throw new RangeError(`tempoBpm must be positive, not ${tempoBpm}`);
  const meter = parts.bars[0]?.meter ?? { count: 4, unit: 4 };
  const beatSeconds = 60 / tempoBpm;
  const tickSeconds = beatSeconds / beatTicksOf(meter);
  const quarterSeconds = tickSeconds * TICKS_PER_QUARTER;
  const swingOf = trioSwing(quarterSeconds, parts.feel, swing);
  const clock = (of: Swing): Clock => clockIn(parts.bars, tickSeconds, of);
  const ghosts = randomSource(seed, 'ghosted notes');
  const walking = (of: Swing): Meant[] =>
    bassNotes(parts, clock(of), quarterSeconds, drift(randomSource(seed, 'bass length'), LENGTH_DRIFT));
  const meant: Readonly<Record<TrioPlayer, readonly Meant[]>> = {
    'right hand': lineNotes(parts, clock(swingOf.soloist), () => ghosts.integer(100) < GHOSTED_PERCENT),
    'left hand':
      setUp === 'solo'
        ? walking(swingOf.drums)
        : chordNotes(parts, clock(swingOf.drums), randomSource(seed, 'chord roll')),
    bass: setUp === 'solo' ? [] : walking(swingOf.bass),
    drums: drumNotes(parts, clock(swingOf.drums)),
  };
  const limit = Math.floor((beatSeconds * 1e6) / DRIFT_SHARE_OF_BEAT);
  return {
    parts: TRIO_PLAYERS.map((player) => ({
      player,
      notes: played(
        meant[player],
        drift(randomSource(seed, `${player} time`), TIME_DRIFT[player]),
        drift(randomSource(seed, `${player} touch`), VELOCITY_DRIFT),
        limit,
        growthOf(chorus),
      ),
    })),
    endSeconds: parts.endTicks * tickSeconds,
  };
}
