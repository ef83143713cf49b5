/** In which key a take was played: a student who was asked for one and plays the tune in another has not played wrong notes. */
import type { Course, CourseSlot, TakeGround } from './course.ts';
import { courseOf, indexAt } from './course.ts';
import { sureOf } from './figures.ts';
import type { HeardNote } from './take.ts';

/** How many half steps above the lesson's key, −5 to 6 and not 0, and how sure. */
export interface HeardKey {
  readonly semitones: number;
  readonly sure: number;
}

/** Notes from which a key is told, the share of them that must be at home in it, and by how much more than in the lesson's own. */
const FEWEST_NOTES = 24;
const AT_HOME = 0.8;
const CLEARLY = 0.15;

/** A bass note on a change counts as so many notes of the line: it is the chord's root or it is not. */
const BASS_WEIGHT = 2;

interface Place {
  readonly key: number;
  readonly slot: CourseSlot;
  readonly isBass: boolean;
}

/** Notes with their chords by the click; the left hand's only where a chord begins. */
function placesOf(notes: readonly HeardNote[], course: Course): Place[] {
  const { slots, pulseTicks, pulseSeconds } = course;
  return notes.flatMap(({ startSeconds, key, hand }): Place[] => {
    const ticks = (startSeconds / pulseSeconds) * pulseTicks;
    // a stroke just before the change is meant for it
    const slot = slots[indexAt(slots, ticks + pulseTicks / 4)] as CourseSlot;
    if (slot.chord === null) return [];
    const isBass = hand === 'left';
    if (isBass && Math.abs(ticks - slot.startTicks) > pulseTicks / 3) return [];
    return [{ key, slot, isBass }];
  });
}

/** The share of notes at home, were the lesson moved up by so much. */
function homeShare(places: readonly Place[], semitones: number): number {
  let [home, all] = [0, 0];
  for (const { key, slot, isBass } of places) {
    const weight = isBass ? BASS_WEIGHT : 1;
    all += weight;
    const set = isBass ? slot.grounds : slot.scale;
    if ((set & (1 << ((key - semitones + 144) % 12))) !== 0) home += weight;
  }
  return home / Math.max(1, all);
}

/**
 * The key a take was played in, where it is clearly another than the lesson's; null where it is not, or too little to say.
 * @param notes in order of time, seconds from bar 1
 * @example heardKey(lesson, [], 132) // → null
 */
export function heardKey(ground: TakeGround, notes: readonly HeardNote[], tempoBpm: number): HeardKey | null {
  if (notes.length < FEWEST_NOTES) return null;
  const places = placesOf(notes, courseOf(ground, tempoBpm, notes.at(-1)?.startSeconds ?? 0));
  if (places.length < FEWEST_NOTES) return null;
  const own = homeShare(places, 0);
  const ranked = [-5, -4, -3, -2, -1, 1, 2, 3, 4, 5, 6]
    .map((semitones) => ({ semitones, share: homeShare(places, semitones) }))
    .sort((a, b) => b.share - a.share);
  const [best, second] = ranked;
  if (best === undefined || best.share < AT_HOME || best.share - own < CLEARLY) return null;
  const ahead = best.share - Math.max(own, second?.share ?? 0);
  return { semitones: best.semitones, sure: sureOf(ahead * Math.sqrt(places.length) * 2) };
}
