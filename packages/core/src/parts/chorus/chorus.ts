import type { PlayedBar } from '../../chart/index.ts';
import type { Plan } from '../../plan/index.ts';
import type { RandomSource } from '../../random.ts';
import { pitchAt } from '../../theory/index.ts';
import type { HandNote } from '../note.ts';
import { reasonOf } from './reason.ts';
import { keyPlacesOf, positionOfSlot } from './key-place.ts';
import { linePhrase, slotAt, SHORTEST_PHRASE_NOTES, type LineGround, type LineNote } from './phrase-line.ts';
import { phraseRhythms, type ChorusLevel, type Onset } from './phrase-rhythm.ts';

export interface ChorusOptions {
  readonly level: ChorusLevel;
  /** Its own named source: the same gives the same chorus. */
  readonly random: RandomSource;
}

/** The form's bars, in order. */
function barsOfPlan({ slots }: Plan): PlayedBar[] {
  const bars: PlayedBar[] = [];
  for (const { analysed } of slots) {
    const { playedBar } = analysed.played;
    if (bars.at(-1)?.index !== playedBar.index) bars.push(playedBar);
  }
  return bars;
}

/** A rhythm parted where the hand has no position; what is left too short rests. */
function playableParts(ground: LineGround, onsets: readonly Onset[]): Onset[][] {
  const parts: Onset[][] = [[]];
  for (const onset of onsets) {
    const isPlayable = (ground.places[slotAt(ground.plan, onset.startTicks)] ?? []).length > 0;
    if (isPlayable) parts.at(-1)?.push(onset);
    else if (parts.at(-1)?.length !== 0) parts.push([]);
  }
  return parts.filter((part) => part.length >= SHORTEST_PHRASE_NOTES);
}

function handNoteOf(ground: LineGround, line: readonly LineNote[], index: number): HandNote {
  const { place, startTicks, endTicks } = line[index] as LineNote;
  return {
    startTicks,
    durationTicks: endTicks - startTicks,
    pitch: pitchAt(place.name, place.midi),
    slotIndex: place.slotIndex,
    why: reasonOf(ground.plan, line, index),
    finger: place.finger,
    position: positionOfSlot(ground.plan, place.slotIndex),
  };
}

/**
 * A demonstration chorus for the right hand, in eighths with rests, out of the route's positions alone. A note on the last
 * off-beat before a change may belong to the coming chord. Phrases span two to four bars, breathe, and end on chord tones;
 * whatever silence follows is a chord tone. Every avoid note goes by step into a chord tone of its chord, or is held until
 * the chord changes and takes it in. Each phrase is the cheapest line through its rhythm (line-cost.ts), found exactly;
 * the random source decides rhythm, contour and whims. Over N.C., in a pickup and where no shape serves the hand rests.
 * `chorusFaults` proves the rules.
 * @example improviseChorus(plan, { level: 1, random: randomSource(1, 'chorus') })
 */
export function improviseChorus(plan: Plan, { level, random }: ChorusOptions): HandNote[] {
  const ground: LineGround = { plan, places: keyPlacesOf(plan), level };
  const notes: HandNote[] = [];
  let last: readonly LineNote[] = [];
  for (const { onsets, answering } of phraseRhythms(barsOfPlan(plan), level, random)) {
    const moves = last.slice(1).map(({ place }, index) => place.finger - (last[index] as LineNote).place.finger);
    for (const [index, part] of playableParts(ground, onsets).entries()) {
      const lastMidi = last.at(-1)?.place.midi ?? null;
      const line = linePhrase(ground, part, { lastMidi, moves, answering: index === 0 ? answering : 0 }, random);
      if (line.length === 0) continue;
      notes.push(...line.map((_, place) => handNoteOf(ground, line, place)));
      last = line;
    }
  }
  return notes;
}
