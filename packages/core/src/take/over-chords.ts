/** The right hand's notes over the chords: avoid notes left hanging, guide tones where chords change, where phrases land. */
import { sounds, type CourseSlot } from './course.ts';
import { chanceOfAtMost } from './figures.ts';
import type { PlacedNote } from './heard-line.ts';
import type { SlotVerdict } from './positions.ts';

/** A note this long, or followed by a rest, is heard for itself; a shorter one passes. In pulses. */
const HEARD_PULSES = 0.9;

/** Within this much of an avoid note's end its resolution must come. */
const AT_ONCE_PULSES = 0.6;

/** The top notes of the strokes: the line that is heard. */
export function topLine(notes: readonly PlacedNote[]): PlacedNote[] {
  const line: PlacedNote[] = [];
  for (const note of notes) {
    const last = line.at(-1);
    if (last === undefined || note.startSeconds - last.startSeconds > 0.035) line.push(note);
    else if (note.key > last.key) line[line.length - 1] = note;
  }
  return line;
}

/** Whether a chord-scale's avoid note is left where it is: not passing, not by step to another note at once, not held into a chord that has it. */
function hangs(
  note: PlacedNote,
  next: PlacedNote | undefined,
  after: CourseSlot | undefined,
  pulseTicks: number,
): boolean {
  const length = Math.min(note.lengthPulses, note.toNextPulses);
  const end = note.ticks + length * pulseTicks;
  const takesIn = after !== undefined && sounds(after.chordTones, note.key);
  if (takesIn && end > note.slot.endTicks + 0.08 * pulseTicks) return false;
  // on the last off-beat it is the coming chord's already
  if (takesIn && note.slot.endTicks - note.ticks <= pulseTicks / 2) return false;
  if (next === undefined) return length >= 0.4;
  const step = Math.abs(next.key - note.key);
  const rest = note.toNextPulses - length;
  if (takesIn && next.slot === after && step === 0 && rest <= AT_ONCE_PULSES) return false;
  if (step >= 1 && step <= 2 && rest <= AT_ONCE_PULSES) return false;
  if (step === 0 && rest <= AT_ONCE_PULSES && length < HEARD_PULSES) return false;
  if (note.toNextPulses >= HEARD_PULSES) return true;
  return note.part === 'beat' && step >= 3 && length >= 0.35;
}

/** The avoid notes of a line, and those of them that hang. */
export function avoidNotes(
  line: readonly PlacedNote[],
  verdicts: readonly SlotVerdict[],
  slots: readonly CourseSlot[],
  pulseTicks: number,
): { readonly all: readonly PlacedNote[]; readonly hanging: readonly PlacedNote[] } {
  const verdictOf = new Map(verdicts.map((each) => [each.slot, each]));
  const placeOf = new Map(slots.map((slot, index) => [slot, index]));
  const all: PlacedNote[] = [];
  const hanging: PlacedNote[] = [];
  for (const [index, note] of line.entries()) {
    const { slot } = note;
    const verdict = verdictOf.get(slot);
    // over another move the lesson's avoid notes may be none
    if (!sounds(slot.avoid, note.key) || verdict === undefined || verdict.kind !== 'family') continue;
    all.push(note);
    const after = slots[(placeOf.get(slot) ?? -2) + 1];
    if (hangs(note, line[index + 1], after, pulseTicks)) hanging.push(note);
  }
  return { all, hanging };
}

/** How guide tones are met where chords change. */
export interface GuideTones {
  /** Changes the line plays over. */
  readonly changes: number;
  /** Those whose first note is a third or seventh, and those over which one is heard at all. */
  readonly first: number;
  readonly heard: number;
  /** Bars whose chord has none of its guide tones. */
  readonly without: readonly number[];
  /** How unlikely so few are in a line that just stays in the family, 0 to 1; small is telling. */
  readonly chance: number;
}

/** How often a line that goes anywhere in the family would do so, at the least. Measured on free lines (docs/takes.md). */
const BY_CHANCE = { first: 0.24, heard: 0.42, any: 0.16 } as const;

export function guideTones(line: readonly PlacedNote[], pulseTicks: number): GuideTones {
  const bySlot = new Map<CourseSlot, PlacedNote[]>();
  for (const note of line) {
    const own = bySlot.get(note.slot);
    if (own === undefined) bySlot.set(note.slot, [note]);
    else own.push(note);
  }
  let [changes, first, heard, full, all, guides] = [0, 0, 0, 0, 0, 0];
  const without: number[] = [];
  for (const [slot, notes] of bySlot) {
    const [opening] = notes;
    if (slot.guideTones !== 0) {
      all += notes.length;
      guides += notes.filter(({ key }) => sounds(slot.guideTones, key)).length;
    }
    if (!slot.changes || slot.chord === null || slot.guideTones === 0 || opening === undefined) continue;
    const isAny = notes.some(({ key }) => sounds(slot.guideTones, key));
    if (notes.length >= 2) {
      full++;
      if (isAny) heard++;
    }
    if (!isAny) without.push(slot.bar.number);
    if (opening.ticks - slot.startTicks > pulseTicks) continue;
    changes++;
    if (sounds(slot.guideTones, opening.key)) first++;
  }
  const chance = Math.min(
    changes < 6 ? 1 : chanceOfAtMost(first, changes, BY_CHANCE.first),
    full < 5 ? 1 : chanceOfAtMost(heard, full, BY_CHANCE.heard),
    changes < 4 || all < 20 ? 1 : chanceOfAtMost(guides, all, BY_CHANCE.any),
  );
  return { changes, first, heard, without, chance };
}
