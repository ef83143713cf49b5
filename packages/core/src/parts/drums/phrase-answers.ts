import { beatTicksOf, type PlayedBar } from '../../chart/index.ts';
import type { RandomSource } from '../../random.ts';
import { phrasesOf } from '../chorus/phrase.ts';
import type { PartNote } from '../note.ts';
import { skipTicks } from './drum-groups.ts';
import type { DrumKit, DrumStroke } from './drum-kit.ts';

/** A note of the line the drummer listens to. */
export type SoloNote = Pick<PartNote, 'startTicks' | 'durationTicks'>;

/** Chances in a hundred. Our own. */
const CHANCE = {
  /** A phrase that ends off the beat: its last note is struck with it. */
  caught: 70,
  /** A phrase whose silence has room for it: the drummer says its ending again. */
  answered: 60,
} as const;

/** How much of a phrase's ending is said again: its last notes, within two beats. */
const MOST_ANSWERED = 3;
const ANSWERED_BEATS = 2;

const barAt = (bars: readonly PlayedBar[], ticks: number): PlayedBar | undefined =>
  bars.findLast(({ startTicks }) => startTicks <= ticks);

/** The rhythm of a phrase's ending from its first note on, in ticks, on the beats and between them; nothing where it is elsewhere. */
function endingOf(phrase: readonly SoloNote[], beatTicks: number, skip: number): number[] {
  const last = phrase.at(-1)?.startTicks ?? 0;
  const tail = phrase.slice(-MOST_ANSWERED).filter(({ startTicks }) => last - startTicks <= ANSWERED_BEATS * beatTicks);
  const first = tail[0]?.startTicks ?? 0;
  // from the beat the ending begins in, so that what lay between beats does so again
  const fromBeat = first - (((first % beatTicks) + beatTicks) % beatTicks);
  const places = tail.map(({ startTicks }) => startTicks - fromBeat);
  return places.every((place) => place % beatTicks === 0 || place % beatTicks === skip) ? places : [];
}

/**
 * What the drummer plays because of how the line's phrases end: a last note off the beat is struck with it by the bass drum, and
 * in a silence with room the snare says the ending's rhythm again, once, before the next phrase begins. Common practice.
 * @param solo in time order
 */
export function phraseAnswers(
  bars: readonly PlayedBar[],
  solo: readonly SoloNote[],
  kit: DrumKit,
  random: RandomSource,
): DrumStroke[] {
  const phrases = phrasesOf(solo);
  const endOfForm = bars.at(-1);
  const formEnd = endOfForm === undefined ? 0 : endOfForm.startTicks + endOfForm.bar.durationTicks;
  return phrases.flatMap((phrase, index): DrumStroke[] => {
    const last = phrase.at(-1) as SoloNote;
    const catches = random.integer(100) < CHANCE.caught;
    const answers = random.integer(100) < CHANCE.answered;
    const played = barAt(bars, last.startTicks);
    if (played === undefined || played.bar.number === 0) return [];
    const beatTicks = beatTicksOf(played.bar.meter);
    const skip = skipTicks(played.bar.meter);
    if (skip === null) return [];
    const inBar = last.startTicks - played.startTicks;
    const strokes: DrumStroke[] = [];
    if (catches && inBar % beatTicks === skip) {
      strokes.push({ startTicks: last.startTicks, drum: 'bass drum', stress: 'soft', role: 'comping' });
    }
    const silence = last.startTicks + last.durationTicks - played.startTicks;
    const from = played.startTicks + Math.ceil(silence / beatTicks) * beatTicks;
    const until = phrases[index + 1]?.[0]?.startTicks ?? formEnd;
    const placed = endingOf(
      phrase.map((note) => ({ ...note, startTicks: note.startTicks - played.startTicks })),
      beatTicks,
      skip,
    ).map((place) => from + place);
    // a bar of another metre has other beats
    const isAlike = placed.every((at) => barAt(bars, at)?.bar.meter.unit === played.bar.meter.unit);
    if (answers && isAlike && placed.length > 1 && (placed.at(-1) ?? until) < until) {
      const stress = kit === 'sticks' ? 'soft' : 'plain';
      strokes.push(...placed.map((startTicks): DrumStroke => ({ startTicks, drum: 'snare', stress, role: 'comping' })));
    }
    return strokes;
  });
}
