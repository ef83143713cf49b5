/** The fastest tempi at which a hand comes in time through what is not written out for it: its own notes, and a bass. */
import { beatTicksOf } from '../../chart/index.ts';
import { isPracticalStep, moveHundredths } from '../../hand/index.ts';
import { midi, midiOf } from '../../theory/index.ts';
import type { Lesson } from '../lesson.ts';
import { FASTEST_BPM, SLOWEST_BPM } from '../programme/programme.ts';

const within = (bpm: number): number => Math.max(SLOWEST_BPM, Math.min(FASTEST_BPM, bpm));

/** Beats a minute at which a way that takes so long is gone in so many ticks. */
const tempoOf = (ticks: number, beatTicks: number, hundredths: number): number =>
  hundredths === 0 ? FASTEST_BPM : Math.floor((ticks * 6000) / (beatTicks * hundredths));

/** Who plays notes of their own may give up half a chord for the way to the next, two beats at most. Our own judgement. */
const MOST_BEATS_UNDER_WAY = 2;

/**
 * The fastest tempo, beats a minute, at which a hand that plays its own notes comes from each position of the route to the next in time.
 * How long a way takes: moveHundredths.
 */
export function ownNotesLimitBpm({ plan, chart }: Lesson): number {
  const beatTicks = beatTicksOf(chart.meter);
  const ways = plan.slots.map(({ thumbMidi, analysed: { played } }, index) => {
    const before = plan.slots[index - 1];
    if (thumbMidi === null || before === undefined || before.thumbMidi === null) return FASTEST_BPM;
    const lasts = before.analysed.played.endTicks - before.analysed.played.startTicks;
    if (played.startTicks !== before.analysed.played.endTicks) return FASTEST_BPM;
    return tempoOf(
      Math.min(MOST_BEATS_UNDER_WAY * beatTicks, lasts / 2),
      beatTicks,
      moveHundredths(before.thumbMidi, thumbMidi),
    );
  });
  return within(Math.min(FASTEST_BPM, ...ways));
}

/**
 * The fastest tempo, beats a minute, at which a left hand comes from each note of the bass to the next: what it reaches with thumb and
 * little finger it has at once (isPracticalStep), to what lies farther it moves.
 */
export function leftHandLimitBpm({ bass, chart, choices }: Lesson): number {
  const beatTicks = beatTicksOf(chart.meter);
  const ways = bass.map((note, index) => {
    const before = bass[index - 1];
    const [from, to] = [midiOf((before ?? note).pitch), midiOf(note.pitch)];
    const ticks = note.startTicks - (before ?? note).startTicks;
    const [low, high] = [Math.min(from, to), Math.max(from, to)];
    // the left hand mirrors the right
    const isInReach =
      low === high || isPracticalStep({ key: midi(low), finger: 1 }, { key: midi(high), finger: 5 }, choices.hand);
    return ticks <= 0 || isInReach ? FASTEST_BPM : tempoOf(ticks, beatTicks, moveHundredths(from, to));
  });
  return within(Math.min(FASTEST_BPM, ...ways));
}
