import { beatsOf, beatTicksOf, isCompound, TICKS_PER_QUARTER } from '../chart/index.ts';
import type { Score, ScoreBar, ScoreNote, ScoreStaff } from '../score/index.ts';
import { midiOf } from '../theory/index.ts';
import type { Performance, PlayedNote, PlayedPart } from './performance.ts';
import { accompanimentRatio, soloistDelaySeconds, soloistRatio, swung } from './swing.ts';

/** How loud each hand plays, MIDI velocity. From memory. */
const VELOCITY = { 'right hand': 84, 'left hand': 72, 'arpeggio study': 78 } as const;
/** Off-beats of a swinging line are played a little louder than its downbeats, phrase ends softer. From memory. */
const ACCENT = { offBeat: 6, phraseStart: 4, phraseEnd: -10, beat: 5 } as const;

/** Share of its written length that a note sounds: a bass string rings into the next, a line's notes part a little. From memory. */
const SOUNDING = { 'right hand': 0.92, 'left hand': 0.94, 'arpeggio study': 0.92 } as const;

/** Shortest sounding of any note, so that none vanishes. */
const SHORTEST_SECONDS = 0.03;

/** Turns ticks into seconds with one feel; time 0 is the first bar's start, the pickup included. */
type Clock = (ticks: number) => number;

/** Seconds of a quarter note: the tempo counts beats of the opening metre. */
function quarterSecondsOf(score: Score): number {
  return (60 / score.tempoBpm / beatTicksOf(score.meter)) * TICKS_PER_QUARTER;
}

/** Whether a bar's eighths swing in pairs: whole quarters, and no metre that counts eighths itself. Common practice. */
function swings({ meter, durationTicks }: ScoreBar): boolean {
  return !isCompound(meter) && meter.unit <= 4 && durationTicks % TICKS_PER_QUARTER === 0;
}

/** A clock whose off-beat eighths come late by a swing ratio; an even feel is straight. */
function clockOf(score: Score, ratio: number): Clock {
  const origin = score.bars[0]?.startTicks ?? 0;
  const tickSeconds = quarterSecondsOf(score) / TICKS_PER_QUARTER;
  const played = score.feel === 'swing' ? ratio : 1;
  return (ticks) => {
    const bar = barAt(score.bars, ticks);
    if (bar === undefined || !swings(bar)) return (ticks - origin) * tickSeconds;
    const inBar = ticks - bar.startTicks;
    const beat = Math.floor(inBar / TICKS_PER_QUARTER);
    const share = inBar / TICKS_PER_QUARTER - beat;
    return (bar.startTicks - origin + (beat + swung(share, played)) * TICKS_PER_QUARTER) * tickSeconds;
  };
}

/** The bar a tick lies in; the last one for the end of the form. Bars ascend. */
function barAt(bars: readonly ScoreBar[], ticks: number): ScoreBar | undefined {
  let low = 0;
  let high = bars.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((bars[middle] as ScoreBar).startTicks <= ticks) low = middle;
    else high = middle - 1;
  }
  return bars[low];
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

function velocityOf(note: ScoreNote, role: ScoreStaff['role'], bar: ScoreBar | undefined, edges: PhraseEdges): number {
  const accents: number[] = [];
  const beatTicks = bar === undefined ? TICKS_PER_QUARTER : beatTicksOf(bar.meter);
  const inBarTicks = note.startTicks - (bar?.startTicks ?? 0);
  if (role === 'left hand') {
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
      accents.reduce((sum, accent) => sum + accent, VELOCITY[role]),
    ),
  );
}

function playStaff(score: Score, { role, notes }: ScoreStaff, endSeconds: number): PlayedPart {
  const quarterSeconds = quarterSecondsOf(score);
  const soloist = role === 'right hand';
  const clock = clockOf(score, soloist ? soloistRatio(quarterSeconds) : accompanimentRatio(quarterSeconds));
  const delay = soloist && score.feel === 'swing' ? soloistDelaySeconds(quarterSeconds) : 0;
  const edges = {
    starts: new Set(score.phrases.map((phrase) => phrase.startTicks)),
    ends: new Set(score.phrases.map((phrase) => phrase.endTicks)),
  };
  const played = notes.map((note): PlayedNote => {
    const bar = barAt(score.bars, note.startTicks);
    const isOnBeat = (note.startTicks - (bar?.startTicks ?? 0)) % TICKS_PER_QUARTER === 0;
    const late = isOnBeat && bar !== undefined && swings(bar) ? delay : 0;
    const onTime = clock(note.startTicks);
    const startSeconds = onTime + late;
    const sounding = (clock(note.startTicks + note.durationTicks) - onTime) * SOUNDING[role] - late;
    return {
      startSeconds,
      durationSeconds: Math.min(Math.max(SHORTEST_SECONDS, sounding), endSeconds - startSeconds),
      midi: midiOf(note.pitch),
      velocity: velocityOf(note, role, bar, edges),
      writtenStartTicks: note.startTicks,
    };
  });
  return { player: role, notes: played };
}

/**
 * Plays a score: swing and lateness belong to the performance, never to the page. The right hand swings as a soloist, the
 * left as the accompaniment. It ends exactly where the chart does.
 * @example perform(score).endSeconds // 16 bars of 4/4 at 132 → 29.09…
 */
export function perform(score: Score): Performance {
  const endSeconds = clockOf(score, 1)(score.endTicks);
  return { parts: score.staves.map((staff) => playStaff(score, staff, endSeconds)), endSeconds };
}
