import type { PlayedBar } from '../../chart/index.ts';
import type { Plan } from '../../plan/index.ts';
import type { RandomSource } from '../../random.ts';
import { pitchAt, type Midi } from '../../theory/index.ts';
import type { HandNote } from '../note.ts';
import { reasonOf } from './reason.ts';
import { isChordTone, keyPlacesOf, positionOfSlot } from './key-place.ts';
import { linePhrase, slotAt, type LineGround, type LineNote, type PhraseBefore } from './phrase-line.ts';
import { PHRASE_GAP_TICKS, SHORTEST_PHRASE_NOTES } from './phrase.ts';
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

/** A line parted where a note that was left out leaves a breath; what is left too short rests. */
function wholePhrases(line: readonly LineNote[]): LineNote[][] {
  const phrases: LineNote[][] = [];
  for (const [index, note] of line.entries()) {
    const before = line[index - 1];
    if (before === undefined || note.startTicks - before.endTicks >= PHRASE_GAP_TICKS) phrases.push([]);
    phrases.at(-1)?.push(note);
  }
  return phrases.filter((phrase) => phrase.length >= SHORTEST_PHRASE_NOTES);
}

/** The finger moves of a line. */
function movesOf(line: readonly LineNote[]): number[] {
  return line.slice(1).map(({ place }, index) => place.finger - (line[index] as LineNote).place.finger);
}

/**
 * A demonstration chorus for the right hand, in eighths with rests, out of the route's positions alone. A note on the last
 * off-beat before a change may belong to the coming chord. Phrases span two to four bars, breathe, take up each other's
 * motifs, and end on chord tones; whatever silence follows is a chord tone. Every avoid note goes by step into a chord tone of its chord, or is held until
 * the chord changes and takes it in. Each phrase is the cheapest line through its rhythm (line-cost.ts), found exactly;
 * the random source decides rhythm, contour and whims. Over N.C., in a pickup and where no shape serves the hand rests.
 * `chorusFaults` proves the rules.
 * @example improviseChorus(plan, { level: 1, random: randomSource(1, 'chorus') })
 */
export function improviseChorus(plan: Plan, { level, random }: ChorusOptions): HandNote[] {
  const ground: LineGround = { plan, places: keyPlacesOf(plan), level };
  const notes: HandNote[] = [];
  /** The lines played, by the place of their rhythm, for later phrases to answer. */
  const lines: (readonly LineNote[])[] = [];
  let lastMidi: Midi | null = null;
  const canRest = (ticks: number): boolean => (ground.places[slotAt(plan, ticks)] ?? []).some(isChordTone);
  const rhythms = phraseRhythms(barsOfPlan(plan), level, canRest, random);
  for (const [place, { onsets, answers, answering }] of rhythms.entries()) {
    const moves = answers === null ? [] : movesOf(lines[answers] ?? []);
    for (const [index, part] of playableParts(ground, onsets).entries()) {
      const before: PhraseBefore = {
        lastMidi,
        moves,
        answering: index === 0 ? answering : 0,
        isAnswer: answers !== null,
      };
      for (const line of wholePhrases(linePhrase(ground, part, before, random))) {
        notes.push(...line.map((_, at) => handNoteOf(ground, line, at)));
        lines[place] ??= line;
        lastMidi = line.at(-1)?.place.midi ?? null;
      }
    }
  }
  return notes;
}
