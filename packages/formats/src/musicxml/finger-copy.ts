import { cutText, type Finger, type Issue, type Result } from '@fivespan/core';
import { encodingOf, scoreSource, unpackAll, type ScoreSource } from './container.ts';
import type { HandNote } from './hand-line.ts';
import { handStaff, type StaffChoice } from './hand-staff.ts';
import type { WrittenNote } from './part-reading.ts';
import type { FingerPlace } from './placed-node.ts';
import { zipOf } from './packing.ts';
import { insertBytes, type Insertion } from './splice.ts';
import { readWrittenNotes } from './written-notes.ts';

/** Notes closer than this, a 384th, are written at one place: tuplets do not always add up. */
const ONE_PLACE_TICKS = 10;

/** One hand of a score, ready to be fingered. */
export interface ScoreHand {
  readonly notes: readonly HandNote[];
  readonly side: StaffChoice['side'];
  readonly source: ScoreSource;
  /** Everything in a packed file, by name, in its order; null where it is not packed. */
  readonly packed: ReadonlyMap<string, Uint8Array> | null;
  /** For each note where its finger goes; null where the file already has something there. */
  readonly places: readonly (FingerPlace | null)[];
}

/** A struck note with its ties joined on. */
interface Struck {
  readonly written: WrittenNote;
  endTicks: number;
  tiesOn: boolean;
}

/** Joins ties: only what is struck is left, as long as it sounds. A tie that comes from nowhere is struck. */
function withoutTies(notes: readonly WrittenNote[]): Struck[] {
  const inTime = [...notes].sort((a, b) => a.ticks - b.ticks || Number(b.isGrace) - Number(a.isGrace));
  const lastOfKey = new Map<number, Struck>();
  const struck: Struck[] = [];
  for (const written of inTime) {
    const before = lastOfKey.get(written.midi);
    const endTicks = written.ticks + written.durationTicks;
    const reaches = before?.tiesOn === true && Math.abs(before.endTicks - written.ticks) < ONE_PLACE_TICKS;
    if (written.tieStop && before !== undefined && reaches) {
      before.endTicks = endTicks;
      before.tiesOn = written.tieStart;
      continue;
    }
    const each = { written, endTicks, tiesOn: written.tieStart };
    lastOfKey.set(written.midi, each);
    struck.push(each);
  }
  return struck;
}

/** Numbers what is struck at once: chords and voices by where they stand, grace notes before what they lead to. */
function strikesOf(struck: readonly Struck[]): number[] {
  let strike = -1;
  let start = Number.NEGATIVE_INFINITY;
  let wasGrace = false;
  return struck.map(({ written: { ticks, isGrace, inChord } }) => {
    const isTogether = isGrace ? wasGrace && inChord : !wasGrace && ticks - start < ONE_PLACE_TICKS;
    if (!isTogether) {
      strike++;
      start = ticks;
    }
    wasGrace = isGrace;
    return strike;
  });
}

/** The finger a note already has; of a chord whose fingers all stand on one note, lowest first, its own of them. */
function fixedFingers(notes: readonly WrittenNote[]): Map<WrittenNote, string> {
  const fixed = new Map<WrittenNote, string>();
  let from = 0;
  while (from < notes.length) {
    let to = from + 1;
    while (notes[to]?.inChord === true && notes[to]?.ticks === notes[from]?.ticks) to++;
    const chord = notes.slice(from, to);
    const all = chord.flatMap((note) => note.fingerings);
    const bearers = chord.filter((note) => note.fingerings.length > 0);
    if (bearers.length === 1 && all.length === chord.length) {
      const upwards = [...chord].sort((a, b) => a.midi - b.midi);
      for (const [index, note] of upwards.entries()) fixed.set(note, all[index] as string);
    } else for (const note of bearers) fixed.set(note, note.fingerings.join(' '));
    from = to;
  }
  return fixed;
}

function readFinger(text: string | undefined): Finger | null {
  return text !== undefined && /^[1-5]$/u.test(text) ? (Number(text) as Finger) : null;
}

/**
 * Reads the notes of one hand out of MusicXML, plain or packed. Ties are one note; grace notes are struck one after the
 * other before the note they lead to; cue notes, hidden notes and rests are left out; repeats are not played out.
 * @returns the hand, or what is wrong; with several staves to choose from, a list of them.
 * @example readScoreHand(bytes, { side: 'left' })
 */
export function readScoreHand(file: Uint8Array, choice: StaffChoice): Result<ScoreHand> {
  const source = scoreSource(file);
  if (!source.ok) return source;
  const parts = readWrittenNotes(source.value.text);
  if (!parts.ok) return parts;
  const staff = handStaff(parts.value, choice);
  if (!staff.ok) return staff;
  const { part, notes: written } = staff.value;
  const fixed = fixedFingers(written);
  const struck = withoutTies(written);
  const strikes = strikesOf(struck);
  const warnings: Issue[] = [];
  const notes = struck.map(({ written: note, endTicks }, index): HandNote => {
    const text = fixed.get(note);
    const finger = readFinger(text);
    if (text !== undefined && finger === null) {
      warnings.push({ code: 'fingering.not-understood', args: { text: cutText(text, 40) }, place: { bar: note.bar } });
    }
    const { bar, beatTicks, name, midi } = note;
    const startTicks = note.ticks - part.firstBarTicks;
    const strike = strikes[index] as number;
    return { bar, startTicks, durationTicks: endTicks - note.ticks, beatTicks, name, midi, fixed: finger, strike };
  });
  const places = struck.map(({ written: note }) => (fixed.has(note) ? null : note.place));
  const packed = source.value.entry === null ? null : unpackAll(file);
  if (packed?.ok === false) return packed;
  const hand = { notes, side: choice.side, source: source.value, packed: packed?.value ?? null, places };
  return { ok: true, value: hand, warnings: [...staff.warnings, ...warnings] };
}

/** Places in a text as places in its bytes, for places that rise. */
function byteOffsets({ bytes, text }: ScoreSource, places: readonly number[]): number[] {
  const encoding = encodingOf(bytes);
  const isWide = encoding === 'utf-16le' || encoding === 'utf-16be';
  const [first, second] = bytes;
  if (isWide) {
    const mark = (first === 0xff && second === 0xfe) || (first === 0xfe && second === 0xff) ? 2 : 0;
    return places.map((at) => mark + 2 * at);
  }
  if (encoding !== 'utf-8') return [...places];
  const encoder = new TextEncoder();
  let from = 0;
  let offset = first === 0xef && second === 0xbb && bytes[2] === 0xbf ? 3 : 0;
  return places.map((at) => {
    offset += encoder.encode(text.slice(from, at)).length;
    from = at;
    return offset;
  });
}

/** ASCII text in the encoding of the bytes it goes into. */
function encodeLike(bytes: Uint8Array, text: string): Uint8Array {
  const codes = Array.from(text, (each) => each.charCodeAt(0));
  const encoding = encodingOf(bytes);
  if (encoding === 'utf-16le') return Uint8Array.from(codes.flatMap((code) => [code, 0]));
  if (encoding === 'utf-16be') return Uint8Array.from(codes.flatMap((code) => [0, code]));
  return Uint8Array.from(codes);
}

/** The packed file with another score in it; everything else it holds stays, in its order. */
function repack(packed: ReadonlyMap<string, Uint8Array>, entry: string, score: Uint8Array): Uint8Array {
  const entries = [...packed].map(([name, bytes]) => [name, name === entry ? score : bytes] as const);
  // the container's standard wants the mimetype first and stored as it is
  return zipOf(entries, (name) => name === 'mimetype');
}

/**
 * A copy of the file with a `<fingering>` on each note that has none. The XML stays as it is byte for byte, in its
 * encoding, but for what is put in: above the right hand's notes, below the left hand's. Unisons of two voices get one
 * finger, on the first. A packed score comes out packed, with the other files it holds, unless it is wanted plain.
 * @param fingers for each note of the hand, in order.
 * @param form `as it came`, or `plain` for the XML alone.
 * @throws RangeError where fingers and notes differ in number.
 */
export function writeScoreFingers(
  hand: ScoreHand,
  fingers: readonly Finger[],
  form: 'as it came' | 'plain' = 'as it came',
): Uint8Array {
  const { notes, packed, places, side, source } = hand;
  if (fingers.length !== notes.length) throw new RangeError(`fingers must be ${notes.length}, not ${fingers.length}`);
  const placement = side === 'right' ? 'above' : 'below';
  const done = new Set<string>();
  for (const [index, note] of notes.entries()) if (places[index] === null) done.add(`${note.strike} ${note.midi}`);
  const added: { readonly at: number; readonly text: string }[] = [];
  for (const [index, note] of notes.entries()) {
    const place = places[index];
    const id = `${note.strike} ${note.midi}`;
    if (place === null || place === undefined || done.has(id)) continue;
    done.add(id);
    const fingering = `<fingering placement="${placement}">${fingers[index]}</fingering>`;
    added.push({ at: place.at, text: place.before + fingering + place.after });
  }
  added.sort((a, b) => a.at - b.at);
  const offsets = byteOffsets(
    source,
    added.map(({ at }) => at),
  );
  const insertions = added.map(({ text }, index): Insertion => ({
    at: offsets[index] as number,
    bytes: encodeLike(source.bytes, text),
  }));
  const score = insertBytes(source.bytes, insertions);
  if (form === 'plain' || packed === null || source.entry === null) return score;
  return repack(packed, source.entry, score);
}
