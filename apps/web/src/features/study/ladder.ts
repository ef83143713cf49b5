import type { Chord, ChordScale, Family, Lesson, Midi, Position } from '@fivespan/core';
import { midi, pitchClassOf, thumbKeysOn } from '@fivespan/core';
import { atom, computed } from 'nanostores';
import { runJob } from '../../platform/workers/index.ts';
import type { LadderOrder, StudiedRung } from './ladder-job.ts';
import { $deskView } from './desk-view.ts';
import { $study, type SlotName, type Study } from './study.ts';

export type { StudiedRung } from './ladder-job.ts';

/** The studied ladder of one chord of one lesson. */
interface Ladder {
  readonly lesson: Lesson;
  readonly slotIndex: number;
  readonly rungs: readonly StudiedRung[];
}

const $ladder = atom<Ladder | null>(null);

/** Whether the chosen chord's ladder could not be studied: what is known without it is shown all the same. */
export const $isLadderFaulty = atom(false);

let asking: AbortController | undefined;

/**
 * Has the ladder of the chosen chord studied where it is seen, from now until the answer is called. Where notes are written the
 * worker is left to them.
 */
export function watchLadder(): () => void {
  const stop = computed([$study, $deskView], (study, view) => (view === 'notes' ? null : study)).subscribe((study) => {
    if (study !== null) void studyChosen(study);
  });
  return () => {
    stop();
    asking?.abort(new DOMException('the screen is left', 'AbortError'));
    asking = undefined;
    $isLadderFaulty.set(false);
  };
}

/** Has a ladder studied again that could not be. */
export async function studyAgain(): Promise<void> {
  const study = $study.get();
  if (study !== null) await studyChosen(study);
}

async function studyChosen({ lesson, slotIndex }: Study): Promise<void> {
  const known = $ladder.get();
  if (known?.lesson === lesson && known.slotIndex === slotIndex) return;
  asking?.abort(new DOMException('another chord', 'AbortError'));
  const own = (asking = new AbortController());
  $isLadderFaulty.set(false);
  const order: LadderOrder = { analysis: lesson.analysis, slotIndex, hand: lesson.choices.hand };
  try {
    const rungs = await runJob<LadderOrder, readonly StudiedRung[]>('study ladder', order, {
      urgency: 'now',
      signal: own.signal,
    });
    if (asking === own) $ladder.set({ lesson, slotIndex, rungs });
  } catch (error) {
    // where it was aborted, another chord has been chosen meanwhile
    if (own.signal.aborted) return;
    reportError(error);
    $isLadderFaulty.set(true);
  }
}

/** A rung or a position that is looked at without being chosen. */
interface Glance {
  readonly name: SlotName;
  readonly rung: string;
  readonly place: { readonly thumb: number; readonly midi: number | null } | null;
}

const $glance = atom<Glance | null>(null);

/** A rung of the chosen chord's ladder. */
export interface Rung {
  readonly chordScale: ChordScale;
  /** Undefined until it has been studied. */
  readonly studied: StudiedRung | undefined;
  readonly isUsed: boolean;
  readonly isLookedAt: boolean;
}

/** What the hand does in the rung that is looked at. */
export interface LookedAt {
  readonly chord: Chord;
  readonly chordScale: ChordScale;
  readonly family: Family | null;
  readonly position: Position | null;
  readonly thumbMidi: Midi | null;
  /** Keys on which the thumb can take the position, ascending. */
  readonly thumbKeys: readonly Midi[];
  /** Whether this is the route's own chord-scale, position and octave. */
  readonly isUsed: boolean;
  readonly isScaleUsed: boolean;
}

export interface LadderView {
  readonly rungs: readonly Rung[];
  readonly lookedAt: LookedAt;
}

/** The stretch of keyboard in which positions can be chosen: the route's own (plan: register), F3 to F6. */
const CHOSEN_FROM = { lowest: midi(53), highest: midi(89) };

/** The key nearest to where the hand is. */
function nearestKey(keys: readonly Midi[], to: number): Midi | null {
  let best: Midi | null = null;
  for (const key of keys) if (best === null || Math.abs(key - to) < Math.abs(best - to)) best = key;
  return best;
}

/** Where a hand begins that is nowhere yet: middle C. */
const MIDDLE = 60;

function lookedAtIn(study: Study, ladder: Ladder | null, glance: Glance | null): LookedAt | null {
  const { planned } = study;
  const { chord } = planned.analysed;
  const { chordScales } = planned.analysed;
  const chordScale =
    chordScales.find((each) => each.id === glance?.rung) ?? planned.chordScale ?? chordScales[0] ?? null;
  if (chord === null || chordScale === null) return null;
  const isScaleUsed = chordScale.id === planned.chordScale?.id;
  const family = isScaleUsed
    ? planned.family
    : (ladder?.rungs.find((each) => each.id === chordScale.id)?.family ?? null);
  const wanted = glance?.place?.thumb ?? null;
  const own = isScaleUsed ? planned.position : null;
  const near = planned.thumbMidi ?? MIDDLE;
  const byThumb = (thumb: number): Position | undefined =>
    family?.positions.find((each) => pitchClassOf(each.thumb) === thumb);
  const nearest = (): Position | undefined =>
    family?.positions.toSorted((a, b) => {
      const away = (each: Position): number =>
        Math.abs((nearestKey(thumbKeysOn(each, CHOSEN_FROM), near) ?? Number.POSITIVE_INFINITY) - near);
      return away(a) - away(b);
    })[0];
  const position =
    wanted === null
      ? (own ?? nearest() ?? null)
      : own !== null && pitchClassOf(own.thumb) === wanted
        ? own
        : (byThumb(wanted) ?? own ?? null);
  if (position === null) {
    return { chord, chordScale, family, position, thumbMidi: null, thumbKeys: [], isUsed: isScaleUsed, isScaleUsed };
  }
  const isOwn = position === own;
  const keys = thumbKeysOn(position, CHOSEN_FROM);
  const asked = glance?.place?.midi;
  const thumbMidi =
    asked !== null && asked !== undefined && asked % 12 === pitchClassOf(position.thumb)
      ? midi(asked)
      : isOwn
        ? planned.thumbMidi
        : nearestKey(keys, near);
  return {
    chord,
    chordScale,
    family,
    position,
    thumbMidi,
    thumbKeys: keys,
    isUsed: isOwn && thumbMidi === planned.thumbMidi,
    isScaleUsed,
  };
}

/** The chosen chord's ladder and what is looked at in it; null over N.C. */
export const $ladderView = computed([$study, $ladder, $glance], (study, ladder, glance): LadderView | null => {
  if (study === null) return null;
  const known = ladder?.lesson === study.lesson && ladder.slotIndex === study.slotIndex ? ladder : null;
  const own = glance !== null && glance.name.slot === study.name.slot && glance.name.pass === study.name.pass;
  const lookedAt = lookedAtIn(study, known, own ? glance : null);
  if (lookedAt === null) return null;
  return {
    lookedAt,
    rungs: study.planned.analysed.chordScales.map((chordScale) => ({
      chordScale,
      studied: known?.rungs.find((each) => each.id === chordScale.id),
      isUsed: chordScale.id === study.planned.chordScale?.id,
      isLookedAt: chordScale.id === lookedAt.chordScale.id,
    })),
  };
});

/** Looks at a rung of the chosen chord's ladder. */
export function lookAtRung(rung: string): void {
  const study = $study.get();
  if (study !== null) $glance.set({ name: study.name, rung, place: null });
}

/**
 * Looks at a position of the family that is looked at.
 * @param thumb its pitch class
 * @param key the thumb's key; null for the one nearest to where the hand is
 */
export function lookAtPosition(thumb: number, key: number | null): void {
  const study = $study.get();
  const view = $ladderView.get();
  if (study === null || view === null) return;
  $glance.set({ name: study.name, rung: view.lookedAt.chordScale.id, place: { thumb, midi: key } });
}

/** Looks at what the route does again. */
export function lookAtRoute(): void {
  $glance.set(null);
}
