import { beatsOf, beatTicksOf, isCompound, type Chart, type PlayedSlot } from '../chart/index.ts';
import type { BassFeel } from './note.ts';

/** Slower than this the bass has a ballad's feel where nobody chose. Our own. */
const BALLAD_BPM = 66;

/** The feel of a chart where nobody chose: straight eighths where it says even, a ballad's where it is slow, else a note a beat. */
export function usualFeel({ feel, tempoBpm }: Chart): BassFeel {
  if (feel === 'even') return 'even';
  return tempoBpm !== null && tempoBpm <= BALLAD_BPM ? 'ballad' : 'four';
}

/**
 * Beats of a bar that carry a long note: every second one, in fives and sevens two and three after another (3 + 2, 3 + 2 + 2), in three
 * the first and the last (a half and a quarter), in two both halves of the bar together. Common practice.
 */
function longBeats(beats: number): readonly number[] {
  const starts = beats % 2 === 1 && beats > 3 ? [0, 3] : [0, 2];
  for (let at = (starts.at(-1) as number) + 2; at < beats; at += 2) starts.push(at);
  return starts.filter((at) => at < beats);
}

/** The slot's own start, then its bar's lines inside it. */
function linesInside(played: PlayedSlot, lines: readonly number[]): number[] {
  const { startTicks } = played.playedBar;
  const inside = lines.map((line) => startTicks + line).filter((at) => at > played.startTicks && at < played.endTicks);
  return [played.startTicks, ...inside];
}

/**
 * Where the bass strikes inside a slot, in ticks. `four`: on every beat. `two`: on the long beats, and the last one before a
 * change. `ballad`: the same with the last note an eighth before the change. `even`: on the long beats with an eighth before each.
 * `waltz`: on the first beat and the last one. A chord of one beat has its root alone. Common practice.
 * @param changes whether another chord comes
 */
export function pulsesOf(played: PlayedSlot, feel: BassFeel, changes: boolean): number[] {
  const { bar } = played.playedBar;
  const beat = beatTicksOf(bar.meter);
  const beats = beatsOf(bar.meter);
  const everyBeat = linesInside(
    played,
    Array.from({ length: Math.ceil(bar.durationTicks / beat) }, (_, index) => index * beat),
  );
  if (feel === 'four') return everyBeat;
  const ticks = played.endTicks - played.startTicks;
  // what leads on takes no room from a chord of two beats
  const hasRoom = changes && ticks >= 3 * beat;
  const lastBeat = everyBeat.at(-1) as number;
  if (feel === 'waltz') return ticks >= 3 * beat ? [played.startTicks, lastBeat] : everyBeat;
  const long = linesInside(
    played,
    longBeats(beats).map((at) => at * beat),
  );
  const eighth = isCompound(bar.meter) ? beat / 3 : beat / 2;
  if (feel === 'two') return hasRoom && !long.includes(lastBeat) ? [...long, lastBeat] : long;
  if (feel === 'ballad') return hasRoom ? [...long, played.endTicks - eighth] : long;
  const goals = changes && ticks >= 2 * beat ? [...long.slice(1), played.endTicks] : long.slice(1);
  const pickUps = goals.map((at) => at - eighth).filter((at) => at > played.startTicks && !long.includes(at));
  return [...long, ...pickUps].sort((a, b) => a - b);
}
