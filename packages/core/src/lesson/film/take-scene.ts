import { beatsOf, beatTicksOf } from '../../chart/index.ts';
import {
  clockOf,
  clockTime,
  EMPTY_PICTURE,
  type ClockMark,
  type HandPlace,
  type KeyboardShown,
  type Picture,
  type PressedKey,
  type Still,
  type TempoPlace,
} from '../../film/index.ts';
import { keysOf, thumbKeysOn } from '../../hand/index.ts';
import { judgeTake, type HeardNote, type JudgedTake } from '../../take/index.ts';
import { midi, type Midi } from '../../theory/index.ts';
import type { Lesson } from '../lesson.ts';
import type { ProgrammeEvent } from '../programme/index.ts';
import { cleanStretch, keyboardOf } from './held-slot.ts';
import { lineBars } from './line-bars.ts';
import { playCues, sameHand } from './play-cues.ts';
import { PLAYED_PIANO, type ScenePart, type SceneSources } from './scene-part.ts';

/** What was played, for a film to follow. Seconds are the record's. */
export interface FilmTake {
  /** In order of time, each with its hand. */
  readonly notes: readonly HeardNote[];
  /** Beats a minute of the chart's metre, as it was played to. */
  readonly tempoBpm: number;
  /** Where bar 1 begins. */
  readonly barOneSeconds: number;
  /** Where its seconds part from the clock's; see TempoPlace. */
  readonly clock: readonly TempoPlace[];
  /** Moments known in the record, by the clock, and in the film: a clap, a note of the count-in. None: the film begins a little before the music. */
  readonly marks: readonly ClockMark[];
  /** How much later everything is seen, in ms. */
  readonly offsetMs: number;
  /** Who played, where somebody typed it. */
  readonly player: string | null;
}

/** What is seen before the first note where nothing says when the film begins. */
const LEAD_SECONDS = 1;
/** A key that is let go and struck again is seen to rise between: for so long, and no more than half of the note. */
const RISE_SECONDS = 0.07;
/** So long a struck key is seen at least: two frames of a slow film. */
const SEEN_SECONDS = 0.085;
/** What comes before bar 1, its pickup and this share of a beat is a count or a clap, and no music. */
const BEFORE_FIRST = 0.5;
/** What is seen of the last note when it has been let go. */
const STAYS_SECONDS = 2;

/** A key while it is down, in film time. */
interface Press extends PressedKey {
  readonly startSeconds: number;
  readonly endSeconds: number;
}

type Verdict = JudgedTake['bars'][number]['slots'][number];
type Slot = JudgedTake['course']['slots'][number];

/** Where the hand lay over a chord: the position that held most of its notes, on the thumb that lies nearest to them. */
function heldIn({ positions, notes }: Verdict): HandPlace | null {
  const position = positions.find((each) => each.position !== null)?.position ?? null;
  if (position === null || notes.length === 0) return null;
  const fits = (thumb: Midi): number => {
    const keys = keysOf(position, thumb);
    const [low = thumb, high = thumb] = [keys[0], keys.at(-1)];
    return notes.reduce((sum, { key }) => sum + Math.max(0, low - key, key - high), 0);
  };
  const thumbs = thumbKeysOn(position, { lowest: midi(21), highest: midi(108) });
  const thumbMidi = thumbs.toSorted((a, b) => fits(a) - fits(b) || a - b)[0];
  return thumbMidi === undefined ? null : { position, thumbMidi };
}

/** When each key is down, as it is seen. */
function pressesOf(
  notes: readonly HeardNote[],
  insideOf: (note: HeardNote) => boolean,
  filmTime: (seconds: number) => number,
): Press[] {
  const byKey = new Map<number, Press[]>();
  for (const note of notes) {
    const { startSeconds: struck, durationSeconds, key, hand } = note;
    const startSeconds = filmTime(struck);
    const endSeconds = Math.max(filmTime(struck + durationSeconds), startSeconds + SEEN_SECONDS);
    const own = byKey.get(key) ?? [];
    byKey.set(key, own);
    const before = own.at(-1);
    if (before !== undefined && before.endSeconds > startSeconds - RISE_SECONDS) {
      const middle = (before.startSeconds + startSeconds) / 2;
      own[own.length - 1] = {
        ...before,
        endSeconds: Math.min(before.endSeconds, Math.max(startSeconds - RISE_SECONDS, middle)),
      };
    }
    own.push({ midi: midi(key), hand, isInside: insideOf(note), startSeconds, endSeconds });
  }
  return [...byKey.values()].flat().filter(({ endSeconds }) => endSeconds > 0);
}

/** What sounds: the piano as it was played. */
function soundOf(notes: readonly HeardNote[], filmTime: (seconds: number) => number): ProgrammeEvent[] {
  return notes.flatMap(({ startSeconds, durationSeconds, key, velocity }) => {
    const start = filmTime(startSeconds);
    const end = filmTime(startSeconds + durationSeconds);
    return start < 0
      ? []
      : [{ startSeconds: start, durationSeconds: Math.max(0.03, end - start), midi: key, velocity, player: 0 }];
  });
}

/** The stretch of keyboard that holds all that is struck and every hand. */
function stretchOf(lesson: Lesson, presses: readonly Press[], held: readonly (HandPlace | null)[]) {
  const keys = [
    ...presses.map((each) => each.midi),
    ...held.flatMap((each) => (each === null ? [] : keysOf(each.position, each.thumbMidi))),
  ];
  return keys.length === 0 ? keyboardOf(lesson) : cleanStretch(keys);
}

/**
 * A performance as it was played: keys that are down, the positions found, chord, bar and line where its time says that they are.
 * @param take the record, and how its time is in the film's
 */
export function takeScene({ lesson, lessonIndex, heading: about }: SceneSources, take: FilmTake): ScenePart {
  const { score } = lesson;
  const { barOneSeconds, tempoBpm } = take;
  const heading = {
    ...about,
    tempoBpm: Math.round(tempoBpm),
    ...(take.player === null ? {} : { player: take.player }),
  };
  const beatTicks = beatTicksOf(score.meter);
  const tickSeconds = 60 / tempoBpm / beatTicks;
  const firstTicks = Math.min(0, score.bars[0]?.startTicks ?? 0) - BEFORE_FIRST * beatTicks;
  const played = take.notes
    .map((note) => ({ ...note, startSeconds: note.startSeconds - barOneSeconds }))
    .filter(({ startSeconds }) => startSeconds >= firstTicks * tickSeconds);
  const judged = judgeTake(lesson, played, tempoBpm);
  const { course } = judged;

  const begins = Math.min(firstTicks * tickSeconds, played[0]?.startSeconds ?? 0) - LEAD_SECONDS;
  const marks =
    take.marks.length > 0
      ? take.marks
      : [{ takeSeconds: clockTime(take.clock, barOneSeconds + begins), filmSeconds: 0 }];
  const ofRecord = clockOf(marks, take.offsetMs);
  const filmTime = (fromBarOne: number): number => ofRecord(clockTime(take.clock, fromBarOne + barOneSeconds));
  const at = (ticks: number): number => filmTime(ticks * tickSeconds);

  const verdicts = new Map(judged.bars.flatMap(({ slots }) => slots.map((each) => [each.slot, each] as const)));
  const slotOfNote = new Map<number, Slot>();
  for (const { slot, notes } of verdicts.values())
    for (const { startSeconds, key } of notes) slotOfNote.set(startSeconds * 256 + key, slot);
  const slotAt = (seconds: number): Slot | undefined =>
    course.slots.findLast(({ startTicks }) => startTicks * tickSeconds <= seconds) ?? course.slots[0];
  const insideOf = ({ startSeconds, key, hand }: HeardNote): boolean => {
    if (hand === 'left') return true;
    const slot = slotOfNote.get(startSeconds * 256 + key) ?? slotAt(startSeconds);
    return slot === undefined || (slot.scale & (1 << (key % 12))) !== 0;
  };
  const presses = pressesOf(played, insideOf, filmTime);
  const held: (HandPlace | null)[] = [];
  for (const slot of course.slots) {
    const verdict = verdicts.get(slot);
    // a hand that rests stays where it lay
    held.push(
      (verdict === undefined ? null : heldIn(verdict)) ?? (verdict === undefined ? (held.at(-1) ?? null) : null),
    );
  }
  const stretch = stretchOf(lesson, presses, held);
  const lines = lineBars(score.bars);
  const spoken = playCues(
    course.slots.map((slot, index) => ({
      symbol: slot.planned.analysed.played.slot.chord,
      chord: slot.chord,
      chordScale: slot.planned.chordScale,
      hand: verdicts.has(slot) ? (held[index] ?? null) : null,
      startSeconds: at(slot.startTicks),
      endSeconds: at(slot.endTicks),
    })),
    lessonIndex,
  );

  const lastPress = Math.max(0, ...presses.map(({ endSeconds }) => endSeconds));
  const endSeconds = Math.max(1, lastPress + STAYS_SECONDS);
  const keyboardAt = (hand: HandPlace | null, next: HandPlace | null): KeyboardShown => ({
    lesson: lessonIndex,
    ...stretch,
    hand: hand === null ? null : { ...hand, fingers: 5 },
    next,
    degrees: null,
  });
  const lineAt = (bar: number) => lines.find(({ from, to }) => bar >= from && bar < to) ?? lines[0];

  // what is seen without the keys, from the beginning of each beat and chord on
  const grounds: Still[] = [];
  const [opening] = course.slots;
  const firstHeld = held.find((each) => each !== null) ?? null;
  const openingLine = lineAt(0);
  grounds.push({
    startSeconds: 0,
    picture: {
      ...EMPTY_PICTURE,
      heading,
      line: openingLine === undefined ? null : { lesson: lessonIndex, ...openingLine },
      next: opening?.planned.analysed.played.slot.chord ?? null,
      keyboard: keyboardAt(null, firstHeld),
    },
  });
  const symbolOf = (slot: Slot | undefined) => slot?.planned.analysed.played.slot.chord;
  for (const bar of course.bars) {
    const own = bar.startTicks - (bar.chorus - 1) * course.chorusTicks;
    const place = score.bars.findIndex(({ startTicks }) => startTicks === own);
    const meter = score.bars[place]?.meter ?? score.meter;
    const line = lineAt(place);
    const starts = new Set<number>();
    for (let ticks = bar.startTicks; ticks < bar.endTicks; ticks += beatTicksOf(meter)) starts.add(ticks);
    for (const { startTicks } of bar.slots) starts.add(startTicks);
    for (const ticks of [...starts].sort((a, b) => a - b)) {
      const startSeconds = at(ticks);
      const index = course.slots.findLastIndex((slot) => slot.startTicks <= ticks);
      const slot = course.slots[index];
      if (slot === undefined || startSeconds >= lastPress) continue;
      const later = course.slots.slice(index + 1).filter((each) => at(each.startTicks) < lastPress);
      const hand = held[index] ?? null;
      const nextHand = held.slice(index + 1).find((each) => each !== null && !sameHand(each, hand)) ?? null;
      grounds.push({
        startSeconds,
        picture: {
          ...EMPTY_PICTURE,
          heading,
          line: line === undefined ? null : { lesson: lessonIndex, ...line },
          bar: place < 0 ? null : place,
          now: {
            chord: symbolOf(slot) ?? null,
            beat: Math.floor((ticks - bar.startTicks) / beatTicksOf(meter)),
            beats: beatsOf(meter),
          },
          next: symbolOf(later.find((each) => symbolOf(each)?.symbol !== symbolOf(slot)?.symbol)) ?? null,
          keyboard: keyboardAt(hand, nextHand),
          caption: spoken.findLast((cue) => cue.startSeconds <= startSeconds + 1e-6)?.said ?? null,
        },
      });
    }
  }
  const lastGround = grounds.at(-1)?.picture ?? EMPTY_PICTURE;
  grounds.push({ startSeconds: lastPress, picture: restOf(lastGround) });

  return {
    stills: withPresses(grounds, presses, endSeconds),
    cues: spoken
      .map((cue) => ({
        ...cue,
        startSeconds: Math.max(0, cue.startSeconds),
        endSeconds: Math.min(cue.endSeconds, endSeconds),
      }))
      .filter((cue) => cue.startSeconds < lastPress && cue.endSeconds > cue.startSeconds + 1e-3),
    players: [PLAYED_PIANO],
    events: soundOf(played, filmTime),
    endSeconds,
  };
}

/** The hand stays where it ended; nothing comes after it. */
function restOf(picture: Picture): Picture {
  const { keyboard } = picture;
  return {
    ...picture,
    bar: null,
    now: null,
    next: null,
    caption: null,
    keyboard: keyboard === null ? null : { ...keyboard, next: null },
  };
}

/** The grounds with the keys that are down, a still for every change of either. */
function withPresses(grounds: readonly Still[], presses: readonly Press[], endSeconds: number): Still[] {
  const begun = grounds.filter(({ startSeconds }) => startSeconds < endSeconds);
  const times = new Set<number>([0]);
  for (const { startSeconds } of begun) if (startSeconds > 0) times.add(startSeconds);
  for (const { startSeconds, endSeconds: end } of presses) {
    if (startSeconds > 0) times.add(startSeconds);
    if (end < endSeconds) times.add(end);
  }
  const ordered = [...times].sort((a, b) => a - b);
  const byStart = presses.toSorted((a, b) => a.startSeconds - b.startSeconds);
  let [ground, next] = [0, 0];
  let down: Press[] = [];
  return ordered.map((startSeconds) => {
    while (ground + 1 < begun.length && (begun[ground + 1] as Still).startSeconds <= startSeconds) ground++;
    while (next < byStart.length && (byStart[next] as Press).startSeconds <= startSeconds)
      down.push(byStart[next++] as Press);
    down = down.filter((each) => each.endSeconds > startSeconds);
    const { picture } = begun[ground] as Still;
    const pressed = down
      .map(({ midi: key, hand, isInside }): PressedKey => ({ midi: key, hand, isInside }))
      .sort((a, b) => a.midi - b.midi);
    return {
      startSeconds,
      picture: picture.keyboard === null ? picture : { ...picture, keyboard: { ...picture.keyboard, pressed } },
    };
  });
}
