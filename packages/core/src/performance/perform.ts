import { beatsOf, beatTicksOf, TICKS_PER_QUARTER } from '../chart/index.ts';
import { partOnStaff, type PartRow } from '../parts/index.ts';
import type { Score, ScoreBar, ScoreNote, ScoreStaff } from '../score/index.ts';
import { midiOf } from '../theory/index.ts';
import { barAt, clockIn, type Clock } from './bar-clock.ts';
import type { Performance, PlayedNote, PlayedPart } from './performance.ts';
import { accompanimentSwing, EVEN, soloistSwing, type Swing } from './swing.ts';

/** Off-beats of a swinging line are played a little louder than its downbeats, phrase ends softer. From memory. */
const ACCENT = { offBeat: 6, phraseStart: 4, phraseEnd: -10, beat: 5 } as const;

/** Shortest sounding of any note, so that none vanishes. */
const SHORTEST_SECONDS = 0.03;

/** Seconds of a quarter note: the tempo counts beats of the opening metre. */
function quarterSecondsOf(score: Score): number {
  return (60 / score.tempoBpm / beatTicksOf(score.meter)) * TICKS_PER_QUARTER;
}

/** A clock in one player's swing; time 0 is the first bar's start, the pickup included. */
function clockOf(score: Score, swing: Swing): Clock {
  const tickSeconds = quarterSecondsOf(score) / TICKS_PER_QUARTER;
  const origin = (score.bars[0]?.startTicks ?? 0) * tickSeconds;
  const clock = clockIn(score.bars, tickSeconds, swing);
  return (ticks) => clock(ticks) - origin;
}

/** Where phrases begin and end, in ticks. */
interface PhraseEdges {
  readonly starts: ReadonlySet<number>;
  readonly ends: ReadonlySet<number>;
}

/** Beats 2 and 4 where beats come in pairs, beat 1 elsewhere. Common practice. */
function isAccentedBeat(beat: number, beats: number): boolean {
  return beats % 2 === 0 ? beat % 2 === 1 : beat === 0;
}

function velocityOf(note: ScoreNote, part: PartRow, bar: ScoreBar | undefined, edges: PhraseEdges): number {
  const accents: number[] = [];
  const beatTicks = bar === undefined ? TICKS_PER_QUARTER : beatTicksOf(bar.meter);
  const inBarTicks = note.startTicks - (bar?.startTicks ?? 0);
  if (part.accents === 'beats') {
    const beat = Math.floor(inBarTicks / beatTicks);
    if (isAccentedBeat(beat, bar === undefined ? 1 : beatsOf(bar.meter))) accents.push(ACCENT.beat);
  } else {
    if (inBarTicks % beatTicks !== 0) accents.push(ACCENT.offBeat);
    if (edges.starts.has(note.startTicks)) accents.push(ACCENT.phraseStart);
    if (edges.ends.has(note.startTicks + note.durationTicks)) accents.push(ACCENT.phraseEnd);
  }
  return Math.max(
    1,
    Math.min(
      127,
      accents.reduce((sum, accent) => sum + accent, part.velocity),
    ),
  );
}

/** The swing of whose time a part keeps. */
function swingOf({ feel }: Score, part: PartRow, quarterSeconds: number): Swing {
  if (feel === 'even') return EVEN;
  return part.swing === 'soloist' ? soloistSwing(quarterSeconds) : accompanimentSwing(quarterSeconds);
}

function playStaff(score: Score, { role, notes }: ScoreStaff, endSeconds: number): PlayedPart {
  const part = partOnStaff(role);
  const clock = clockOf(score, swingOf(score, part, quarterSecondsOf(score)));
  const edges = {
    starts: new Set(score.phrases.map((phrase) => phrase.startTicks)),
    ends: new Set(score.phrases.map((phrase) => phrase.endTicks)),
  };
  const played = notes.map((note): PlayedNote => {
    const bar = barAt(score.bars, note.startTicks);
    const startSeconds = clock(note.startTicks);
    const sounding = (clock(note.startTicks + note.durationTicks) - startSeconds) * part.sounding;
    return {
      startSeconds,
      durationSeconds: Math.min(Math.max(SHORTEST_SECONDS, sounding), endSeconds - startSeconds),
      midi: midiOf(note.pitch),
      velocity: velocityOf(note, part, bar, edges),
      writtenStartTicks: note.startTicks,
    };
  });
  return { player: role, notes: played };
}

/**
 * Plays a score: swing and lateness belong to the performance, never to the page. The right hand swings as a soloist, the
 * left as the accompaniment; an even feel is straight. It ends exactly where the chart does.
 * @example perform(score).endSeconds // 16 bars of 4/4 at 132 → 29.09…
 */
export function perform(score: Score): Performance {
  const endSeconds = clockOf(score, EVEN)(score.endTicks);
  return { parts: score.staves.map((staff) => playStaff(score, staff, endSeconds)), endSeconds };
}
