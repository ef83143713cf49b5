import {
  editVoicing,
  keyByStep,
  ownVoicingFaults,
  ownVoicingTold,
  voicingLineFaults,
  voicingsOfLesson,
  type PlannedSlot,
  type VoicingEdit,
  type VoicingFault,
  type VoicingLineFault,
} from '@fivespan/core';
import { changePins } from './pins.ts';
import { sound } from './sounding.ts';
import { $spot, $written, slotIndexAt, type Spot, type WritingOrder } from './spot.ts';
import { isSameSlot, nameOf, type Study } from './study.ts';
import { voicingHeard } from './voicing.ts';

/** A chord's keys as they are now, whether or not the lesson is made of them yet. */
interface KeysNow {
  readonly keys: readonly number[];
  readonly left: number;
}

function keysNow({ lesson, choices }: Study, slotIndex: number, planned: PlannedSlot): KeysNow | undefined {
  const name = nameOf(planned);
  const used = voicingsOfLesson(lesson)[slotIndex];
  const pin = choices.pins.parts.voicings.findLast((each) => isSameSlot(each, name));
  const isOver = pin?.own?.over === planned.analysed.played.slot.chord.symbol;
  if (pin?.own !== undefined && isOver) return { keys: pin.keys, left: pin.own.left };
  return used === undefined ? undefined : { keys: used.keys, left: used.left };
}

/** The edit an order is for a key; undefined for what a chord that is held does not know. */
function editOf(order: WritingOrder, planned: PlannedSlot, key: number, place: number): VoicingEdit | undefined {
  switch (order.kind) {
    case 'step':
      return { kind: 'move', key: keyByStep(planned, key, order.steps) };
    case 'half steps':
      return { kind: 'move', key: key + order.semitones };
    case 'played':
      return { kind: place < 0 ? 'add' : 'move', key: order.key };
    case 'take out':
      return { kind: 'take out' };
    case 'add':
      return { kind: 'add', key: keyByStep(planned, key, 1) };
    // held as long as its chord
    case 'last':
    case 'dotted':
    case 'shift':
      return undefined;
  }
}

/** A step that would meet another key of the chord goes past it. */
function passing(edit: VoicingEdit, order: WritingOrder, planned: PlannedSlot, keys: readonly number[]): VoicingEdit {
  if (edit.kind === 'take out' || (order.kind !== 'step' && order.kind !== 'half steps' && order.kind !== 'add'))
    return edit;
  const way = order.kind === 'step' ? Math.sign(order.steps) : order.kind === 'add' ? 1 : Math.sign(order.semitones);
  let { key } = edit;
  while (keys.includes(key)) {
    const next = order.kind === 'half steps' ? key + way : keyByStep(planned, key, way);
    if (next === key) break;
    key = next;
  }
  return { ...edit, key };
}

/**
 * Does something to the key of a voicing at the spot: heard and told at once, kept as the teacher's own voicing of that chord.
 * @returns whether anything could be done
 */
export function writeVoicing(study: Study, spot: Spot, order: WritingOrder): boolean {
  const slotIndex = slotIndexAt(study, spot.startTicks);
  const planned = study.lesson.plan.slots[slotIndex];
  const now = planned === undefined ? undefined : keysNow(study, slotIndex, planned);
  if (planned === undefined || now === undefined) return false;
  const { keys, left } = now;
  const place = Math.min(spot.place ?? 0, keys.length - 1);
  const edit = editOf(order, planned, keys[place] ?? 0, place);
  const edited = edit === undefined ? undefined : editVoicing(keys, left, place, passing(edit, order, planned, keys));
  if (edited === undefined) return false;
  const name = nameOf(planned);
  const over = planned.analysed.played.slot.chord.symbol;
  const pin = { ...name, keys: edited.keys, own: { over, left: edited.left } };
  const told = ownVoicingTold(planned, edited.keys)[edited.place];
  if (told !== undefined) $written.set({ ...told, startTicks: spot.startTicks, part: 'voicings' });
  void sound(voicingHeard({ keys: edited.keys }));
  changePins(({ parts, ...others }) => ({
    ...others,
    parts: { ...parts, voicings: [...parts.voicings.filter((each) => !isSameSlot(each, name)), pin] },
  }));
  // a chord that is played in goes on from key to key
  const next = order.kind === 'played' ? Math.min(edited.place + 1, edited.keys.length - 1) : edited.place;
  $spot.set({ part: 'voicings', startTicks: spot.startTicks, place: next });
  return true;
}

/** What a hand or an ear has against the chord at a spot, as it is now: alone, and with the right hand's line over it. */
export function voicingFaultsAt(study: Study, spot: Spot): readonly (VoicingFault | VoicingLineFault)[] {
  const slotIndex = slotIndexAt(study, spot.startTicks);
  const planned = study.lesson.plan.slots[slotIndex];
  const now = planned === undefined ? undefined : keysNow(study, slotIndex, planned);
  if (planned === undefined || now === undefined) return [];
  const pitches = ownVoicingTold(planned, now.keys).map(({ pitch }) => pitch);
  const { startTicks, endTicks } = planned.analysed.played;
  const line = study.lesson.chorus.filter(
    (note) => note.startTicks < endTicks && note.startTicks + note.durationTicks > startTicks,
  );
  const { hand } = study.choices;
  return [...ownVoicingFaults(pitches, now.left, hand), ...voicingLineFaults(pitches, now.left, line, hand)];
}
