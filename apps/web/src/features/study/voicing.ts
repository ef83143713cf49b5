import { voicingsOfLesson, waysToVoice, type AnalysedSlot, type Lesson, type Voicing } from '@fivespan/core';
import type { HeardNote } from './sounding.ts';
import type { Study } from './study.ts';

/** How a chord is voiced. */
export interface VoicingView {
  /** The voicing in use; null over N.C. */
  readonly used: Voicing | null;
  /** The one before it in the form, from which its voices move. */
  readonly before: Voicing | null;
  /** Every other way of the same kind, nearest to the one in use first. */
  readonly ways: readonly Voicing[];
}

/** The voicing of the chosen chord, the one it comes from, and the other ways it could lie. */
export function voicingView({ lesson, slotIndex }: Pick<Study, 'lesson' | 'slotIndex'>): VoicingView {
  const voicings = voicingsOfLesson(lesson);
  const used = voicings[slotIndex] ?? null;
  const before = voicings.slice(0, slotIndex).findLast((each) => each !== undefined) ?? null;
  return { used, before, ways: used === null ? [] : waysBeside(lesson, slotIndex, used) };
}

function waysBeside({ analysis, plan, choices }: Lesson, slotIndex: number, used: Voicing): Voicing[] {
  const slot = analysis.slots[slotIndex] as AnalysedSlot;
  const played = plan.slots[slotIndex]?.chordScale ?? null;
  const far = ({ keys }: Voicing): number =>
    Math.abs((keys[0] as number) - (used.keys[0] as number)) +
    Math.abs((keys.at(-1) as number) - (used.keys.at(-1) as number));
  return waysToVoice(slot, slotIndex, choices.voicings, played)
    .filter(({ keys }) => keys.join(' ') !== used.keys.join(' '))
    .toSorted((a, b) => far(a) - far(b));
}

/** Seconds a voicing is held that is heard alone. */
const HELD_SECONDS = 2.4;
const VELOCITY = 66;

/** A voicing struck once. */
export function voicingHeard({ keys }: { readonly keys: readonly number[] }): readonly HeardNote[] {
  return keys.map((midi) => ({ startSeconds: 0, durationSeconds: HELD_SECONDS, midi, velocity: VELOCITY }));
}
