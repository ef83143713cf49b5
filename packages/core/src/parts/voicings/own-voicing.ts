import type { AnalysedSlot, ChordScale, Reason } from '../../analysis/index.ts';
import { isPracticalStep, type HandSize } from '../../hand/index.ts';
import type { PlannedSlot } from '../../plan/index.ts';
import { formatPitch, midi, midiOf, pitchAt, type Midi, type Pitch } from '../../theory/index.ts';
import { nameInPlace } from '../own/own-name.ts';
import { isRubbing, reasonOfHeld } from '../own/own-reason.ts';
import { isSameChord } from '../own/own-stretch.ts';
import type { Voicing } from './lead-voicings.ts';
import { LOWEST_KEY_OF_INTERVAL } from './low-interval.ts';
import { coloursOf } from './voicing-form.ts';

/** A piano's lowest and highest key. */
const LOWEST = 21;
const HIGHEST = 108;
const FINGERS = 5;

/** What is kept with keys that a teacher wrote. */
export interface OwnKeys {
  /** The chord they were written over, by its symbol. */
  readonly over: string;
  /** How many of them, from the lowest, the left hand plays. */
  readonly left: number;
}

/** Keys named over a chord. */
function pitchesOver(slot: AnalysedSlot, scale: ChordScale | null, keys: readonly Midi[]): Pitch[] {
  return keys.map((key) => pitchAt(nameInPlace({ analysed: slot, scale, underHand: [] }, key, undefined), key));
}

/**
 * The voicing of a teacher's own keys.
 * @returns undefined where they leave the keyboard, or the chord has become another that they rub over
 */
export function ownVoicing(
  slot: AnalysedSlot,
  { slotIndex, keys, own }: { readonly slotIndex: number; readonly keys: readonly number[]; readonly own: OwnKeys },
  played: ChordScale | null,
): Voicing | undefined {
  const { chord } = slot;
  const isOrdered = keys.every((key, place) => key > (keys[place - 1] ?? LOWEST - 1) && key <= HIGHEST);
  if (chord === null || keys.length === 0 || !isOrdered) return undefined;
  const scale = coloursOf(slot, chord, played) ?? null;
  const pitches = pitchesOver(slot, scale, keys.map(midi));
  if (!isSameChord(own.over, slot.played.slot.chord)) {
    if (pitches.some(({ name }) => isRubbing(reasonOfHeld(chord, scale, name)))) return undefined;
  }
  const left = Math.min(own.left, keys.length);
  return { slotIndex, form: 'own', triad: null, pitches, keys: keys.map(midi), left };
}

/** A key of a voicing, named, with what it does over its chord. */
export interface ToldKey {
  readonly pitch: Pitch;
  readonly why: Reason;
}

/**
 * What a teacher's keys over a chord are called and do, as they are written; none where no chord is.
 * @param keys ascending
 */
export function ownVoicingTold({ analysed, chordScale }: PlannedSlot, keys: readonly number[]): readonly ToldKey[] {
  const { chord } = analysed;
  if (chord === null) return [];
  const scale = coloursOf(analysed, chord, chordScale) ?? null;
  return pitchesOver(analysed, scale, keys.map(midi)).map((pitch) => ({
    pitch,
    why: reasonOfHeld(chord, scale, pitch.name),
  }));
}

/** What can be done to the keys of a voicing. */
export type VoicingEdit =
  | { readonly kind: 'move'; readonly key: number }
  | { readonly kind: 'take out' }
  | { readonly kind: 'add'; readonly key: number };

/** Keys after an edit, and the place of the one to go on with. */
export interface EditedVoicing {
  readonly keys: readonly number[];
  readonly left: number;
  readonly place: number;
}

/**
 * A voicing's keys with one of them changed; they stay in order, each once.
 * @param place which of them, from the lowest; a key that is added goes to that one's hand
 * @returns undefined where nothing can be done: the key is struck already, is none, or would be the last or the eleventh
 * @example editVoicing([53, 57, 60], 3, 0, { kind: 'move', key: 52 })?.keys // → [52, 57, 60]
 */
export function editVoicing(
  keys: readonly number[],
  left: number,
  place: number,
  edit: VoicingEdit,
): EditedVoicing | undefined {
  const isLeft = place < left;
  if (edit.kind === 'take out') {
    if (keys.length < 2 || keys[place] === undefined) return undefined;
    return { keys: keys.toSpliced(place, 1), left: isLeft ? left - 1 : left, place: Math.max(0, place - 1) };
  }
  const { key } = edit;
  if (key < LOWEST || key > HIGHEST || keys.includes(key)) return undefined;
  if (edit.kind === 'move' && keys[place] === undefined) return undefined;
  if (edit.kind === 'add' && keys.length >= 2 * FINGERS) return undefined;
  const now = edit.kind === 'move' ? keys.with(place, key) : [...keys, key];
  const sorted = now.toSorted((a, b) => a - b);
  return { keys: sorted, left: edit.kind === 'add' && isLeft ? left + 1 : left, place: sorted.indexOf(key) };
}

/** What is wrong with a chord for a hand or an ear, in the order it is told. */
export type VoicingFault =
  | { readonly kind: 'fingers'; readonly hand: 'left' | 'right'; readonly keys: number }
  | { readonly kind: 'reach'; readonly hand: 'left' | 'right'; readonly low: string; readonly high: string }
  | { readonly kind: 'mud'; readonly low: string; readonly high: string };

/**
 * What a teacher is told of keys as they are written: more than a hand has fingers, farther apart than thumb and little finger reach in
 * practice (Balliauw and others 2017, for the hand's size; the left hand mirrors the right), and intervals too low to sound clear.
 */
export function ownVoicingFaults(pitches: readonly Pitch[], left: number, hand: HandSize): VoicingFault[] {
  const keys = pitches.map(midiOf);
  const named = (place: number): string => formatPitch(pitches[place] as Pitch);
  const hands = [
    { hand: 'left', from: 0, to: Math.min(left, keys.length) },
    { hand: 'right', from: left, to: keys.length },
  ] as const;
  const ofHands = hands.flatMap(({ hand: side, from, to }): VoicingFault[] => {
    if (to - from > FINGERS) return [{ kind: 'fingers', hand: side, keys: to - from }];
    const [low, high] = [keys[from], keys[to - 1]];
    if (low === undefined || high === undefined || to - from < 2) return [];
    // a hand as wide on the keys either way round: the right hand's thumb is where the left's little finger is
    const reaches = isPracticalStep({ key: low, finger: 1 }, { key: high, finger: 5 }, hand);
    return reaches ? [] : [{ kind: 'reach', hand: side, low: named(from), high: named(to - 1) }];
  });
  const mud = keys.flatMap((key, place): VoicingFault[] => {
    const next = keys[place + 1];
    if (next === undefined || key >= (LOWEST_KEY_OF_INTERVAL[next - key] ?? 0)) return [];
    return [{ kind: 'mud', low: named(place), high: named(place + 1) }];
  });
  return [...ofHands, ...mud.slice(0, 1)];
}
