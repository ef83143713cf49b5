/** The worker's side of playing a drill: notes, and what is to be seen in each key. */
import {
  DRILLS,
  LONGEST_PROGRAMME_MINUTES,
  makeDrill,
  messageOf,
  midi,
  midiOf,
  NO_AIDS,
  pitchClassOf,
  playDrill,
  programmeMinutes,
  programmeOfDrill,
  remedyOf,
  type Chart,
  type Choices,
  type DrillInKey,
  type DrillOrder,
  type PlayedProgramme,
} from '@fivespan/core';
import type { Job } from '../../platform/workers/index.ts';
import { TOO_LONG } from './too-long.ts';
import { formViewOf, type FormSlot, type FormView } from './form-view.ts';

/** The hand's way through a chord, note by note: a drill may move it within one. */
function placesIn(slot: FormSlot, { lesson }: DrillInKey, index: number): FormSlot[] {
  const slots: FormSlot[] = [];
  for (const note of lesson.chorus.filter(({ slotIndex }) => slotIndex === index)) {
    const { position, finger, pitch, startTicks } = note;
    // a teacher's own note may lie beside the position: the hand stays where it is
    if (pitchClassOf(position.notes[finger - 1] ?? pitch.name) !== pitchClassOf(pitch.name)) continue;
    const thumbMidi = midi(midiOf(pitch) - (position.shape.steps[finger - 1] as number));
    const last = slots.at(-1);
    if (last?.hand?.thumbMidi === thumbMidi && last.hand.position.shape.id === position.shape.id) continue;
    const from = last === undefined ? slot.startTicks : startTicks;
    if (last !== undefined) slots[slots.length - 1] = { ...last, endTicks: from };
    slots.push({ ...slot, startTicks: from, hand: { position, thumbMidi, mark: slot.hand?.mark ?? '' } });
  }
  return slots.length === 0 ? [slot] : slots;
}

/** What play view shows of a drill in one key: where the hand lies as its notes have it. */
export function drillFormOf(inKey: DrillInKey, inPositions: boolean): FormView {
  const form = formViewOf(inKey.lesson);
  const slots = inPositions
    ? form.slots.flatMap((slot, index) => placesIn(slot, inKey, index))
    : form.slots.map((slot) => ({ ...slot, hand: null, families: [] }));
  return { ...form, slots };
}

/** Rest and metronome as the lesson's programme has them; a drill is not answered. */
function aidsOfDrill({ programme }: Choices): typeof NO_AIDS {
  return programme === null ? NO_AIDS : { ...programme.aids, answers: 'none' };
}

/** A drill as it is played, and what is shown for each of its segments. */
export interface PlayedDrill {
  readonly played: PlayedProgramme;
  readonly forms: readonly FormView[];
}

/**
 * Makes a drill and plays it: right hand, bass and drums.
 * @returns undefined where it was cancelled
 * @throws Error where it cannot be made, or lasts too long, in words
 */
export function playedDrill(
  chart: Chart,
  choices: Choices,
  order: DrillOrder,
  watch: Parameters<Job<unknown, unknown>>[1],
): PlayedDrill | undefined {
  const made = makeDrill(chart, choices, order);
  if (!made.ok) throw new Error(made.issues.map((issue) => `${messageOf(issue)}; ${remedyOf(issue)}`).join('. '));
  const drill = made.value;
  const programme = programmeOfDrill(drill, ['right hand', 'bass', 'drums'], aidsOfDrill(choices));
  const [first] = drill.keys;
  const minutes = first === undefined ? 0 : programmeMinutes(first.lesson.chart, first.lesson.analysis.form, programme);
  if (minutes > LONGEST_PROGRAMME_MINUTES) throw new Error(TOO_LONG);
  const played = playDrill(drill, programme, watch);
  if (played === undefined) return undefined;
  const { inPositions } = DRILLS[order.kind];
  const forms = new Map(drill.keys.map((each) => [each.key.tonic, drillFormOf(each, inPositions)]));
  return { played, forms: played.segments.map(({ key }) => forms.get(key.tonic) as FormView) };
}
