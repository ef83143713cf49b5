import type { Reason } from '../../analysis/index.ts';
import { beatTicksOf } from '../../chart/index.ts';
import type { PlannedSlot, Plan } from '../../plan/index.ts';
import type { RandomSource } from '../../random.ts';
import { formatNoteName, pitchAt } from '../../theory/index.ts';
import type { HandNote } from '../note.ts';
import { contourOf } from './contour.ts';
import { cheapestLine, notesOfSlot, type LineNote, type PlacedOnset, type SlotNotes } from './line-search.ts';
import { EIGHTH_TICKS, phraseRhythms, SHORTEST_PHRASE_NOTES, type ChorusLevel, type Onset } from './phrase-rhythm.ts';

export interface ChorusOptions {
  /** 1 plain to 3 free: how busy, how often ahead of the chord, how many tensions on the beat. */
  readonly level: ChorusLevel;
  /** Its own named source: the same gives the same chorus. */
  readonly random: RandomSource;
}

/** Of four off-beats right before a change, how many bring the coming chord early, by level. Our own. */
const ANTICIPATIONS_OF_FOUR = { 1: 0, 2: 1, 3: 2 } as const;

/** The slot that sounds at a tick, or −1. Slots ascend and have no gaps. */
function slotAt(slots: readonly PlannedSlot[], ticks: number): number {
  let low = 0;
  let high = slots.length - 1;
  while (low <= high) {
    const middle = (low + high) >> 1;
    const { startTicks, endTicks } = (slots[middle] as PlannedSlot).analysed.played;
    if (ticks < startTicks) high = middle - 1;
    else if (ticks >= endTicks) low = middle + 1;
    else return middle;
  }
  return -1;
}

/**
 * Gives each onset its slot. A note right before a change that is tied into it brings the coming chord; so do some others,
 * by level. Every other note ends with its slot at the latest; one where the hand has no position becomes a rest.
 */
function place(onsets: readonly Onset[], slots: readonly PlannedSlot[], options: ChorusOptions): PlacedOnset[] {
  const placed: PlacedOnset[] = [];
  for (const onset of onsets) {
    const here = slotAt(slots, onset.startTicks);
    const slot = slots[here];
    if (slot === undefined) continue;
    const { endTicks, playedBar } = slot.analysed.played;
    const end = onset.startTicks + onset.durationTicks;
    const offBeat = (onset.startTicks - playedBar.startTicks) % beatTicksOf(playedBar.bar.meter) !== 0;
    const beforeChange = offBeat && endTicks - onset.startTicks === EIGHTH_TICKS && slots[here + 1]?.position != null;
    const early = random4(options) < ANTICIPATIONS_OF_FOUR[options.level];
    const anticipates = beforeChange && (end > endTicks || early);
    const slotIndex = anticipates ? here + 1 : here;
    const owner = slots[slotIndex] as PlannedSlot;
    if (owner.position === null) continue;
    placed.push({
      startTicks: onset.startTicks,
      durationTicks: Math.min(end, owner.analysed.played.endTicks) - onset.startTicks,
      slotIndex,
      anticipates,
      onBeat: !offBeat,
      opensSlot: placed.at(-1)?.slotIndex !== slotIndex,
    });
  }
  return placed;
}

/** One draw whether it is used or not, so that a chord more in the chart does not shift every later choice. */
function random4({ random }: ChorusOptions): number {
  return random.integer(4);
}

function reasonOf(note: LineNote, onset: PlacedOnset, slot: PlannedSlot, next: LineNote | undefined): Reason {
  const args = { note: formatNoteName(note.name), chord: slot.analysed.chord?.symbol ?? '' };
  if (next === undefined) return { code: 'chorus.phrase-end', args };
  if (note.isAvoid) return { code: 'chorus.avoid-resolved', args: { ...args, to: formatNoteName(next.name) } };
  if (onset.anticipates) return { code: 'chorus.anticipation', args };
  if (note.isGuideTone) return { code: 'chorus.guide-tone', args };
  if (note.isChordTone) return { code: 'chorus.chord-tone', args };
  return { code: onset.onBeat ? 'chorus.tension' : 'chorus.passing', args };
}

/** A phrase with pitches; notes fall away from its end until the rules leave a line, and a phrase too short is silence. */
function playPhrase(onsets: readonly PlacedOnset[], plan: Plan, options: ChorusOptions): HandNote[] {
  const notesAt = onsets.map((onset) => notesOfSlot(plan.slots[onset.slotIndex] as PlannedSlot) as SlotNotes);
  const keys = notesAt.map(({ notes }) => notes.map((note) => note.midi));
  const contour = contourOf(
    keys.map((each) => Math.min(...each)),
    keys.map((each) => Math.max(...each)),
    options.random,
  );
  for (let length = onsets.length; length >= SHORTEST_PHRASE_NOTES; length--) {
    const used = onsets.slice(0, length);
    const line = cheapestLine(used, notesAt, contour, options.level, options.random);
    if (line === null) continue;
    return line.map((note, index): HandNote => {
      const onset = used[index] as PlacedOnset;
      const slot = plan.slots[onset.slotIndex] as PlannedSlot;
      return {
        startTicks: onset.startTicks,
        durationTicks: onset.durationTicks,
        slotIndex: onset.slotIndex,
        pitch: pitchAt(note.name, note.midi),
        finger: note.finger,
        position: slot.position as NonNullable<PlannedSlot['position']>,
        why: reasonOf(note, onset, slot, line[index + 1]),
      };
    });
  }
  return [];
}

/**
 * A demonstration chorus: eighths with rests, only notes of the route's positions under their fingers. Rhythm first, then
 * for each phrase the cheapest line, exactly; the hard rules are forbidden ways, so that no chorus breaks them:
 * phrases end on chord tones, an avoid note goes at once by step to a chord tone, an anticipation has the coming chord's
 * position. `chorusFaults` states the same rules for checking.
 * @example improviseChorus(plan, { level: 1, random: randomSource(1, 'chorus') })
 */
export function improviseChorus(plan: Plan, options: ChorusOptions): HandNote[] {
  const bars = [
    ...new Map(plan.slots.map(({ analysed: { played } }) => [played.playedBar.index, played.playedBar])).values(),
  ];
  return phraseRhythms(bars, options.level, options.random).flatMap((onsets) => {
    const placed = place(onsets, plan.slots, options);
    return placed.length < SHORTEST_PHRASE_NOTES ? [] : playPhrase(placed, plan, options);
  });
}
