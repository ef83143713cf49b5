import { beatTicksOf, type PlayedBar } from '../../chart/index.ts';
import type { Plan } from '../../plan/index.ts';
import type { RandomSource } from '../../random.ts';
import { midiOf, pitchAt, type Midi } from '../../theory/index.ts';
import type { HandNote } from '../note.ts';
import type { Sung } from './circled.ts';
import { growthOfLine } from './growth.ts';
import { inOctave, keyPlacesOf, positionOfSlot } from './key-place.ts';
import type { ChorusLevel } from './level.ts';
import type { MotivePin } from './motive-pin.ts';
import { namedInLine } from './neighbour.ts';
import { octavesOf, withAnOctave } from './octave.ts';
import type { LineGround, LineNote } from './candidate.ts';
import { intervalsAsOne, type PhraseBefore } from './following.ts';
import { linePhrase } from './phrase-line.ts';
import { planPhrases, type MotiveMark, type Onset } from './phrase-plan.ts';
import { phraseGroundOf } from './phrase-ground.ts';
import { PHRASE_GAP_TICKS, SHORTEST_PHRASE_NOTES } from './phrase.ts';
import { encloses, reasonOf } from './reason.ts';
import { slotAt } from './slot-at.ts';

export interface ChorusOptions {
  readonly level: ChorusLevel;
  /** Its own named source: the same gives the same chorus. */
  readonly random: RandomSource;
  /** The finger motives it is made of; its own where there are none. */
  readonly motives?: readonly MotivePin[];
  /** Which time through, from 0, the one on paper: later ones say more (growth.ts). */
  readonly chorus?: number;
}

/** A note of a chorus. */
export interface ChorusNote extends HandNote {
  /** How many octaves the hand is above the route's place. */
  readonly octaves: number;
  /** A key between two fingers that leads by half step into the next note; null where the key is the position's own. */
  readonly neighbour: 'approach' | 'enclosure' | null;
  /** The finger motive it belongs to. */
  readonly motive: MotiveMark | null;
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

function chorusNoteOf(ground: LineGround, line: readonly LineNote[], index: number, octaves: number): ChorusNote {
  const { place, startTicks, endTicks, motive } = line[index] as LineNote;
  const isNeighbour = place.standing === 'neighbour';
  return {
    startTicks,
    durationTicks: endTicks - startTicks,
    pitch: pitchAt(place.name, place.midi),
    slotIndex: place.slotIndex,
    why: reasonOf(ground.plan, line, index),
    finger: place.finger,
    position: positionOfSlot(ground.plan, place.slotIndex),
    octaves,
    neighbour: isNeighbour ? (encloses(line, index) ? 'enclosure' : 'approach') : null,
    motive,
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

/** Which beat of its bar a tick is on. */
function beatOf(plan: Plan, ticks: number): number {
  const { playedBar } = (plan.slots[slotAt(plan, ticks)] as Plan['slots'][number]).analysed.played;
  return Math.floor((ticks - playedBar.startTicks) / beatTicksOf(playedBar.bar.meter));
}

/** More notes than two bars have. */
const LATEST = 40;

const sungOf = ({ startTicks, pitch }: ChorusNote): Sung => ({ startTicks, midi: midiOf(pitch) });

/** A line that does not begin on the beat of the two before it: its first notes are left to silence, all of them where too few would remain. */
function onAnotherBeat(plan: Plan, line: readonly LineNote[], beats: readonly number[]): readonly LineNote[] {
  const [second, first] = [beats.at(-2), beats.at(-1)];
  if (first === undefined || first !== second) return line;
  const from = line.findIndex(({ startTicks }) => beatOf(plan, startTicks) !== first);
  if (from === 0) return line;
  return from > 0 && line.length - from >= SHORTEST_PHRASE_NOTES ? line.slice(from) : [];
}

/**
 * A demonstration chorus for the right hand, out of the route's positions. Its unit is the finger motive (motive.ts): phrases
 * state it, take it to other positions, turn it over, change its rhythm, run on from it. They begin and end in different places of
 * the bar, breathe, and end on chord tones; whatever silence follows is a chord tone. A note on the last off-beat before a change may belong to the coming
 * chord. Every avoid note goes by step into a chord tone of its chord, or is held until the chord changes and takes it in. At
 * levels 3 and 4 an off-beat may be a chromatic neighbour of the note it leads into. One phrase or more is an octave from the
 * route's place. Each phrase is the cheapest line through its rhythm (line-cost.ts), found exactly; the random source decides
 * rhythm, motives, contour and whims. Over N.C., in a pickup and where no shape serves the hand rests.
 * `chorusFaults` proves the rules.
 * @example improviseChorus(plan, { level: 1, random: randomSource(1, 'chorus') })
 */
export function improviseChorus(plan: Plan, { level, random, motives = [], chorus = 0 }: ChorusOptions): ChorusNote[] {
  const growth = growthOfLine(chorus);
  const home = keyPlacesOf(plan);
  const notes: ChorusNote[] = [];
  let lastMidi: Midi | null = null;
  const phrases = planPhrases(barsOfPlan(plan), level, phraseGroundOf(plan, home), growth, motives, random);
  const octaves = octavesOf(plan, phrases, growth, random);
  const heard = new Set<number>();
  const beats: number[] = [];
  for (const [index, { onsets, isAnswer }] of phrases.entries()) {
    const moved = octaves[index] as number;
    const places = home.map((keys) => keys.map((place) => inOctave(place, moved)));
    const ground: LineGround = { plan, places, level, growth, heard };
    for (const part of playableParts(ground, onsets)) {
      const before: PhraseBefore = { lastMidi, isAnswer, sung: notes.slice(-LATEST).map(sungOf) };
      for (const whole of wholePhrases(linePhrase(ground, part, before, random))) {
        const line = onAnotherBeat(plan, whole, beats).map((note, at, all) => ({
          ...note,
          place: namedInLine(plan, note.place, all[at + 1]?.place),
        }));
        if (line.length === 0) continue;
        beats.push(beatOf(plan, (line[0] as LineNote).startTicks));
        notes.push(...line.map((_, at) => chorusNoteOf(ground, line, at, moved)));
        lastMidi = line.at(-1)?.place.midi ?? null;
        const moves = line.slice(1).map(({ place }, at) => place.midi - (line[at] as LineNote).place.midi);
        for (const [at, third] of moves.slice(2).entries()) {
          heard.add(intervalsAsOne(moves[at] as number, moves[at + 1] as number, third));
        }
      }
    }
  }
  return withAnOctave(plan, notes);
}
