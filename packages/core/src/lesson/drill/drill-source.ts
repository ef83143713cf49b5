import type { AnalysedSlot } from '../../analysis/index.ts';
import { playedBarAt } from '../../chart/index.ts';
import { familyIn, positionOver, reachOf, type HandSize } from '../../hand/index.ts';
import { HIGHEST_CHORUS_KEY, LOWEST_CHORUS_KEY, type ChorusNote, type SourceBar } from '../../parts/index.ts';
import { planRoute, type Plan, type PlannedSlot } from '../../plan/index.ts';
import {
  asKept,
  midi,
  midiOf,
  pitchAt,
  pitchClass,
  pitchClassOf,
  simpleName,
  type Key,
  type NoteName,
} from '../../theory/index.ts';
import type { Choices } from '../lesson.ts';
import { routeOptionsOf, type LessonGround } from '../make-lesson.ts';
import { nearestSemitones } from '../pins-in-key.ts';

/** Written bars, both included; numbers as on paper. */
export interface BarRange {
  readonly from: number;
  readonly to: number;
}

/** The bars of a plan that are drilled, each the first time it is played; a pickup is none. */
export function sourceBars(
  { analysis }: LessonGround,
  { slots }: Pick<Plan, 'slots'>,
  range: BarRange | null,
): SourceBar[] {
  return analysis.form.bars
    .filter(({ bar: { number }, pass }) => number > 0 && pass === 1)
    .filter(({ bar: { number } }) => range === null || (number >= range.from && number <= range.to))
    .map((playedBar) => ({
      playedBar,
      slots: slots.filter(({ analysed }) => analysed.played.playedBar.index === playedBar.index),
    }));
}

/** A chart in its own key with the hand's way through it: what a drill is made of. */
export interface Home {
  readonly ground: LessonGround;
  readonly plan: Plan;
}

/** A plan moved to another key as it stands: the same scales, shapes and ways of the hand. */
export interface MovedPlan {
  readonly ground: LessonGround;
  readonly slots: readonly PlannedSlot[];
  /** From home. */
  readonly semitones: number;
}

/**
 * The hand's way at home in another key: the same rungs, the same shapes, every thumb as far up or down as the key is. Where the
 * hand does not reach a position there, the key's own way takes its place.
 */
export function movedPlan(home: Home, ground: LessonGround, choices: Choices): MovedPlan {
  const semitones = nearestSemitones(home.ground.analysis.key, ground.analysis.key);
  if (ground === home.ground) return { ground, slots: home.plan.slots, semitones };
  let own: Plan | undefined;
  const ownSlot = (index: number): PlannedSlot => {
    own ??= planRoute(ground.analysis, routeOptionsOf(ground.analysis, choices, ground.pins));
    return own.slots[index] as PlannedSlot;
  };
  const slots = ground.analysis.slots.map(
    (analysed, index) => movedSlot(home.plan.slots[index], analysed, semitones, choices.hand) ?? ownSlot(index),
  );
  return { ground, slots, semitones };
}

/** A slot's rung, family and position in another key; undefined where they cannot be had there. */
function movedSlot(
  home: PlannedSlot | undefined,
  analysed: AnalysedSlot,
  semitones: number,
  hand: HandSize,
): PlannedSlot | undefined {
  if (home === undefined) return undefined;
  const { chordScale: from, family: homeFamily, position: homePosition, thumbMidi, travelMm } = home;
  if (from === null) return { ...home, analysed };
  const chordScale = analysed.chordScales.find(({ id }) => id === from.id);
  if (chordScale === undefined) return undefined;
  if (homeFamily === null || homePosition === null || thumbMidi === null) return { ...home, analysed, chordScale };
  const thumb = pitchClass(pitchClassOf(homePosition.thumb) + semitones);
  if (reachOf(homePosition.shape, thumb, hand).verdict === 'out of reach') return undefined;
  const family = familyIn(homeFamily.shape, chordScale.notes, chordScale.kept);
  const position =
    family.positions.find((each) => each.shape === homePosition.shape && pitchClassOf(each.thumb) === thumb) ??
    positionOver(homePosition.shape, thumb, chordScale.notes, chordScale.kept);
  return { analysed, chordScale, family, position, thumbMidi: midi(thumbMidi + semitones), travelMm };
}

/** How far a line is moved by octaves so that most of it is where a right hand sings. */
function octavesFor(keys: readonly number[]): number {
  const outside = (octaves: number): number =>
    keys.filter((key) => key + 12 * octaves < LOWEST_CHORUS_KEY || key + 12 * octaves > HIGHEST_CHORUS_KEY).length;
  return [0, 1, -1].toSorted((a, b) => outside(a) - outside(b))[0] as number;
}

/** From one tonic to another on the line of fifths. */
const fifthsBetween = (from: Key, to: Key): number => to.tonic - from.tonic;

/** The notes of a line that lie over some bars and belong to chords in them. */
export function notesOver(
  notes: readonly ChorusNote[],
  { slots }: Pick<Plan, 'slots'>,
  bars: readonly SourceBar[],
): ChorusNote[] {
  const indices = bars.map(({ playedBar }) => playedBar.index);
  return notes.filter(
    ({ startTicks, slotIndex }) =>
      bars.some(
        ({ playedBar: { startTicks: from, bar } }) => startTicks >= from && startTicks < from + bar.durationTicks,
      ) && indices.includes(slots[slotIndex]?.analysed.played.playedBar.index ?? -1),
  );
}

/**
 * A line of home over some bars, moved into another key note for note: the same keys apart, the same fingers; named as the key's own
 * positions are, a chromatic neighbour as it was, moved.
 * @param bars the bars in the key, as sourceBars gives them
 */
export function movedLine(
  notes: readonly ChorusNote[],
  homeKey: Key,
  { ground, slots, semitones }: MovedPlan,
  bars: readonly SourceBar[],
): ChorusNote[] {
  const { form, key } = ground.analysis;
  const indices = bars.map(({ playedBar }) => playedBar.index);
  const own = notesOver(notes, { slots }, bars);
  const octaves = octavesFor(own.map((note) => midiOf(note.pitch) + semitones));
  return own.map((note) => {
    const { chordScale } = slots[note.slotIndex] as PlannedSlot;
    const [scale, kept] = [chordScale?.notes ?? [], chordScale?.kept ?? []];
    const thumb = pitchClass(pitchClassOf(note.position.thumb) + semitones);
    const position = positionOver(note.position.shape, thumb, scale, kept);
    const sound = midi(midiOf(note.pitch) + semitones + 12 * octaves);
    // a teacher's own note may lie beside the position, and has another finger then
    const underHand = position.notes.find((each) => pitchClassOf(each) === sound % 12);
    const name: NoteName =
      note.neighbour === null && underHand !== undefined
        ? underHand
        : asKept(simpleName(note.pitch.name + fifthsBetween(homeKey, key)), kept);
    const bar = playedBarAt(form, note.startTicks);
    const barEnd = bar.startTicks + bar.bar.durationTicks;
    // what is held on over the bar line ends there, unless the bar after it is drilled too
    const goesOn = indices[indices.indexOf(bar.index) + 1] === bar.index + 1;
    const durationTicks = goesOn ? note.durationTicks : Math.min(note.durationTicks, barEnd - note.startTicks);
    return { ...note, position, durationTicks, pitch: pitchAt(name, sound) };
  });
}
