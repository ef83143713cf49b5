import { barTicksOf, type Chart, type Meter } from '../../chart/index.ts';
import { kitAt, type DrumKit } from '../../parts/index.ts';
import { performTrio, TRIO_PLAYERS, type TrioParts, type TrioPlayer } from '../../performance/index.ts';
import { UNWATCHED, type Progress } from '../../progress.ts';
import { formatKey, midiOf, type Key, type Midi } from '../../theory/index.ts';
import type { Choices, Lesson } from '../lesson.ts';
import { makeLesson } from '../make-lesson.ts';
import { traded, type Trade } from './answers.ts';
import { endingOf, landingOn, partsOfChorus } from './chorus-parts.ts';
import { countIn } from './count-in.ts';
import { CLICK_SECONDS, clicksOf } from './metronome.ts';
import type { Programme, ProgrammeChorus } from './programme.ts';
import { barsBetween, leadInBars } from './usual-programme.ts';

/** A note to be sounded, as @fivespan/sound takes it. */
export interface ProgrammeEvent {
  readonly startSeconds: number;
  readonly durationSeconds: number;
  readonly midi: number;
  readonly velocity: number;
  /** Index into the players. */
  readonly player: number;
}

/** Who is heard in a programme: the trio, and a metronome beside it. */
export const HEARD_PLAYERS = [...TRIO_PLAYERS, 'metronome'] as const;
export type HeardPlayer = (typeof HEARD_PLAYERS)[number];

/** One who is heard, with an instrument. Sticks and brushes are two, so that a ladder of tempi can change. */
export interface ProgrammePlayer {
  readonly name: string;
  readonly plays: HeardPlayer;
  readonly instrument: 'grand' | 'acoustic bass' | 'jazz kit' | 'brush kit';
  /** −1 left to 1 right. */
  readonly pan: number;
  /** Linear. */
  readonly level: number;
}

/** A stretch at one tempo: a count-in, a chorus, a rest after one, or the ending. Segments follow each other without gaps. */
export interface ProgrammeSegment {
  readonly kind: 'count-in' | 'chorus' | 'rest' | 'ending';
  readonly startSeconds: number;
  readonly durationTicks: number;
  /** Bars from the segment's start, for a writer of bar lines. */
  readonly bars: readonly { readonly startTicks: number; readonly meter: Meter }[];
  readonly tempoBpm: number;
  readonly meter: Meter;
  readonly key: Key;
  /** Which time through in this key and tempo, from 1; 0 for all but choruses. */
  readonly time: number;
  /** Whose turn it is where the demonstration leaves time to answer; empty elsewhere. */
  readonly trades: readonly Trade[];
}

/** Everything a programme sounds like: a schedule for @fivespan/sound, with its segments. */
export interface PlayedProgramme {
  readonly players: readonly ProgrammePlayer[];
  /** In order of time. */
  readonly events: readonly ProgrammeEvent[];
  readonly segments: readonly ProgrammeSegment[];
  /** Where the last bar ends; notes may ring on. */
  readonly endSeconds: number;
}

/** Where each sits and how loud: little to the side, so that mono loses nothing. Set by measuring each player's
 * loudness in the demo: comping 6 dB under the line, bass and drums near it. */
const SEATS: Readonly<Record<HeardPlayer, { readonly pan: number; readonly level: number }>> = {
  'right hand': { pan: 0.05, level: 1 },
  'left hand': { pan: -0.1, level: 0.8 },
  bass: { pan: 0, level: 0.85 },
  drums: { pan: 0.1, level: 0.8 },
  metronome: { pan: 0, level: 0.7 },
};
/** Brushes are so much softer than sticks that the mix helps. */
const BRUSHES_LEVEL = 1.2;

/** What each plays; the drummer whatever the tempo asks for. */
const INSTRUMENTS = {
  'right hand': () => 'grand',
  'left hand': () => 'grand',
  bass: () => 'acoustic bass',
  drums: (kit: DrumKit) => (kit === 'brushes' ? 'brush kit' : 'jazz kit'),
  metronome: () => 'jazz kit',
} as const satisfies Readonly<Record<HeardPlayer, (kit: DrumKit) => ProgrammePlayer['instrument']>>;

interface Heard {
  readonly plays: HeardPlayer;
  readonly instrument: ProgrammePlayer['instrument'];
}

function instrumentOf(player: HeardPlayer, kit: DrumKit): ProgrammePlayer['instrument'] {
  return INSTRUMENTS[player](kit);
}

/** Choruses in one key and at one tempo count on; another key or tempo counts from the first again. */
function timesOf(choruses: readonly ProgrammeChorus[]): number[] {
  let time = -1;
  return choruses.map(({ key, tempoBpm }, index) => {
    const before = choruses[index - 1];
    const goesOn = before !== undefined && formatKey(before.key) === formatKey(key) && before.tempoBpm === tempoBpm;
    time = goesOn ? time + 1 : 0;
    return time;
  });
}

/**
 * Plays a programme of a chart: count-in, choruses one after the other in their keys and tempi, one bar that ends it.
 * The same chart, choices and programme sound the same.
 * @param progress counts choruses
 * @returns undefined where it was cancelled
 * @throws RangeError where the programme has no chorus, a tempo is not 20 to 400, or countInBars is no whole number from 0 to 8
 * @example playProgramme(chart, DEFAULT_CHOICES, { setUp: 'trio', swing: 'measured', voicings: 'rootless', countInBars: 2, choruses: [{ key: parseKey('F major')!, tempoBpm: 90, players: ['bass'] }] })
 */
export function playProgramme(
  chart: Chart,
  choices: Choices,
  programme: Programme,
  progress: Progress = UNWATCHED,
): PlayedProgramme | undefined {
  return playLessons((key) => makeLesson(chart, choices, key), choices.seed, programme, progress);
}

/**
 * Plays a programme of whatever lessons there are in its keys: a tune's, or a drill's (see playProgramme).
 * @param make the lesson in a key; asked once for each
 * @throws RangeError as playProgramme does
 */
export function playLessons(
  make: (key: Key) => Lesson,
  seed: number,
  programme: Programme,
  progress: Progress = UNWATCHED,
): PlayedProgramme | undefined {
  checkProgramme(programme);
  const { setUp, swing, voicings, countInBars, aids, choruses } = programme;
  const heard: Heard[] = [];
  const events: ProgrammeEvent[] = [];
  const segments: ProgrammeSegment[] = [];
  const lessons = new Map<string, Lesson>();
  let now = 0;

  const lessonIn = (key: Key): Lesson => {
    const lesson = lessons.get(formatKey(key)) ?? make(key);
    lessons.set(formatKey(key), lesson);
    return lesson;
  };

  const playerOf = (plays: HeardPlayer, kit: DrumKit): number => {
    const instrument = instrumentOf(plays, kit);
    const known = heard.findIndex((each) => each.plays === plays && each.instrument === instrument);
    return known >= 0 ? known : heard.push({ plays, instrument }) - 1;
  };

  /** Puts a segment down at `now` and moves on past it. */
  const put = (
    segment: Omit<ProgrammeSegment, 'startSeconds' | 'bars' | 'durationTicks'>,
    parts: TrioParts,
    players: readonly TrioPlayer[],
    ownSeed: number,
    chorus: number,
  ): void => {
    const { tempoBpm } = segment;
    const kit = kitAt(tempoBpm);
    const before = segments.at(-1);
    const roomTicks = before === undefined || before.kind === 'chorus' ? 0 : before.durationTicks;
    const { parts: played, endSeconds } = performTrio(parts, { setUp, tempoBpm, swing, seed: ownSeed, chorus });
    for (const { player, notes } of played) {
      if (!players.includes(player)) continue;
      for (const { startSeconds, durationSeconds, midi, velocity, writtenStartTicks } of notes) {
        // a pickup leads in where there is room; between choruses the last bar stands in its place
        if (writtenStartTicks < -roomTicks) continue;
        // the very first note may be early; before the start there is nothing
        const start = Math.max(0, now + startSeconds);
        events.push({ startSeconds: start, durationSeconds, midi, velocity, player: playerOf(player, kit) });
      }
    }
    const tickSeconds = endSeconds / parts.endTicks;
    const full = parts.bars.filter((bar) => bar.startTicks >= 0);
    if (segment.kind === 'chorus' || segment.kind === 'rest') {
      for (const { ticks, midi, velocity } of clicksOf(aids.metronome, full)) {
        const startSeconds = now + ticks * tickSeconds;
        events.push({
          startSeconds,
          durationSeconds: CLICK_SECONDS,
          midi,
          velocity,
          player: playerOf('metronome', kit),
        });
      }
    }
    segments.push({
      ...segment,
      startSeconds: now,
      durationTicks: parts.endTicks,
      bars: full.map(({ startTicks, meter }) => ({ startTicks, meter })),
    });
    now += endSeconds;
  };

  const times = timesOf(choruses);
  const ahead = new Map<number, TrioParts>();
  const lastBassKeys = new Map<number, Midi>();
  /** The parts of a chorus, made once; undefined past the last. */
  const partsAt = (index: number): TrioParts | undefined => {
    const chorus = choruses[index];
    if (chorus === undefined) return undefined;
    const after = choruses[index + 1];
    const { key, tempoBpm } = chorus;
    const parts =
      ahead.get(index) ??
      partsOfChorus(lessonIn(key), {
        time: times[index] as number,
        tempoBpm,
        kit: kitAt(tempoBpm),
        voicings,
        next: after === undefined ? null : lessonIn(after.key),
        after: lastBassKeys.get(index - 1) ?? null,
      });
    ahead.set(index, parts);
    const last = parts.bass.at(-1);
    if (last !== undefined) lastBassKeys.set(index, midiOf(last.pitch));
    return parts;
  };

  for (const [index, { key, tempoBpm, players }] of choruses.entries()) {
    if (progress.cancelled()) return undefined;
    const lesson = lessonIn(key);
    const time = times[index] as number;
    const kit = kitAt(tempoBpm);
    const before = choruses[index - 1];
    const { meter } = lesson.chart;
    const about = { tempoBpm, meter, key, time: 0, trades: [] };
    const { bars, counted } =
      before === undefined
        ? { bars: leadInBars(lesson.chart, lesson.analysis.form, countInBars), counted: countInBars }
        : barsBetween(programme, before.tempoBpm !== tempoBpm);
    if (bars > 0) {
      const isRest = before !== undefined && counted === 0;
      // a rest is counted as a count-in is, unless a metronome goes on in it
      const sticks = isRest && aids.metronome === 'none' ? bars : counted;
      put({ ...about, kind: isRest ? 'rest' : 'count-in' }, countInParts(lesson, bars, sticks), ['drums'], seed, 0);
    }
    const own = partsAt(index) as TrioParts;
    const next = partsAt(index + 1);
    const whole = next === undefined ? own : landingOn(own, next, time === 0);
    ahead.delete(index);
    const isShown = players.includes('right hand');
    const { line, trades } = traded(whole, isShown ? aids.answers : 'none', time);
    const parts = trades.length === 0 ? whole : { ...whole, line };
    put({ ...about, kind: 'chorus', time: time + 1, trades }, parts, players, seedOf(seed, index), time);
    progress.report(index + 1, choruses.length);
    if (index === choruses.length - 1) {
      const ending = endingOf(lesson, kit, voicings);
      put({ ...about, kind: 'ending' }, ending, players, seedOf(seed, index + 1), time);
    }
  }
  // a pickup lies before its chorus, a drift before its beat: time order again, equals as they were put
  const ordered = events.toSorted((a, b) => a.startSeconds - b.startSeconds);
  return { players: heard.map(playerSetting), events: withoutOverlaps(ordered), segments, endSeconds: now };
}

/** Shortest a note is cut to, and the gap before its key is struck again. */
const SHORTEST_CUT_SECONDS = 0.001;

/** Ends each note before its player strikes the same key again, from chorus to chorus too. Events ascend. */
function withoutOverlaps(events: readonly ProgrammeEvent[]): ProgrammeEvent[] {
  const next = new Map<number, number>();
  return events
    .toReversed()
    .map((event) => {
      const place = event.player * 128 + event.midi;
      const again = next.get(place) ?? Number.POSITIVE_INFINITY;
      next.set(place, event.startSeconds);
      const room = again - event.startSeconds - SHORTEST_CUT_SECONDS;
      return room < event.durationSeconds ? { ...event, durationSeconds: Math.max(SHORTEST_CUT_SECONDS, room) } : event;
    })
    .reverse();
}

/** Each chorus strays in its own way. */
function seedOf(seed: number, chorus: number): number {
  return (seed + chorus * 7919) % 0x1_0000_0000;
}

function playerSetting({ plays, instrument }: Heard): ProgrammePlayer {
  const seat = SEATS[plays];
  return instrument === 'brush kit'
    ? { name: 'drums, brushes', plays, instrument, pan: seat.pan, level: BRUSHES_LEVEL }
    : { name: plays, plays, instrument, ...seat };
}

/** Empty bars with the sticks in the last of them. */
function countInParts({ chart: { meter, feel } }: Lesson, bars: number, counted: number): TrioParts {
  const barTicks = barTicksOf(meter);
  const late = (bars - counted) * barTicks;
  return {
    bars: Array.from({ length: bars }, (_, bar) => ({ startTicks: bar * barTicks, durationTicks: barTicks, meter })),
    feel,
    endTicks: bars * barTicks,
    line: [],
    bass: [],
    comping: [],
    drums:
      counted === 0 ? [] : countIn(meter, counted).map((each) => ({ ...each, startTicks: each.startTicks + late })),
  };
}

function checkProgramme({ countInBars, choruses }: Programme): void {
  if (choruses.length === 0) throw new RangeError('choruses must hold at least one');
  if (!Number.isInteger(countInBars) || countInBars < 0 || countInBars > 8) {
    throw new RangeError(`countInBars must be a whole number from 0 to 8, not ${countInBars}`);
  }
  for (const { tempoBpm } of choruses) {
    if (!(tempoBpm >= 20 && tempoBpm <= 400)) throw new RangeError(`tempoBpm must be 20 to 400, not ${tempoBpm}`);
  }
}
