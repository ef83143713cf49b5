import type { Role } from '../../analysis/index.ts';
import type { Plan, PlannedSlot } from '../../plan/index.ts';
import { degree, pitchClassOf, type Chord } from '../../theory/index.ts';
import { isChordTone, type KeyPlace } from './key-place.ts';
import { slotAt } from './slot-at.ts';

/** A stretch of the form that no silence may swallow, in ticks: it is heard from `byTicks` on at the latest. */
export interface ColouredStretch {
  readonly startTicks: number;
  readonly byTicks: number;
}

/** What the changes ask of the places where phrases begin and end. */
export interface PhraseGround {
  /** Whether the hand holds a note to end a phrase on at this tick. */
  readonly canRest: (ticks: number) => boolean;
  /** Whether a line that goes outside has still to come home here: a phrase goes on to where it does. */
  readonly isAway: (ticks: number) => boolean;
  /** In time order. */
  readonly coloured: readonly ColouredStretch[];
}

/** Roles that borrow a colour from elsewhere, or lead to another degree than home: what a listener waits to hear. Common practice. */
const COLOURED_ROLES: ReadonlySet<Role> = new Set<Role>([
  'applied predominant',
  'applied dominant',
  'substitute dominant',
  'backdoor predominant',
  'backdoor dominant',
  'passing diminished',
  'auxiliary diminished',
  'borrowed',
]);

/** Where chords come faster than this, a breath may well pass over one: a half bar of four. Our own. */
const SHORTEST_STRETCH_TICKS = 1920;

/**
 * Whether a chord-scale leaves the chord: on another root, or a dominant's own that leaves the key. A Lydian tonic or the blues scale
 * is a colour one may rest in.
 */
export function leavesChord({ analysed: { chord }, chordScale }: PlannedSlot): boolean {
  if (chord === null || chordScale === null || chordScale.inside) return false;
  const { root, kind } = chordScale.scale;
  return kind.family !== 'blues' && (chord.quality === 'dominant' || pitchClassOf(root) !== pitchClassOf(chord.root));
}

const ALTERATIONS = ['b9', '#9', 'b13', '#5'].map(degree);

/** Whether a dominant's symbol writes an altered 9, 13 or fifth. */
function isAltered(chord: Chord | null): boolean {
  return chord?.quality === 'dominant' && ALTERATIONS.some((each) => chord.degrees.includes(each));
}

/**
 * What a plan asks of its phrases. A borrowed, secondary or altered change, or a stretch outside, is heard from its middle at the latest. What
 * goes outside comes home in the same phrase, unless the form ends or the hand rests before.
 * @param places the keys under the hand in every slot
 */
export function phraseGroundOf(plan: Plan, places: readonly (readonly KeyPlace[])[]): PhraseGround {
  const away = plan.slots.map((slot, index) => {
    const isFollowed = (places[index + 1] ?? []).length > 0;
    return isFollowed && leavesChord(slot);
  });
  const coloured = plan.slots.flatMap(({ analysed }, index): ColouredStretch[] => {
    const { startTicks, endTicks } = analysed.played;
    const isPlayed = (places[index] ?? []).length > 0 && startTicks >= 0;
    const isColoured = COLOURED_ROLES.has(analysed.reading.role) || away[index] === true || isAltered(analysed.chord);
    if (!isPlayed || !isColoured || endTicks - startTicks < SHORTEST_STRETCH_TICKS) return [];
    return [{ startTicks, byTicks: startTicks + Math.floor((endTicks - startTicks) / 2) }];
  });
  return {
    canRest: (ticks) => (places[slotAt(plan, ticks)] ?? []).some(isChordTone),
    isAway: (ticks) => away[slotAt(plan, ticks)] === true,
    coloured,
  };
}
