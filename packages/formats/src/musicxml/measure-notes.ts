import {
  accidentalsOf,
  formatPitch,
  letterOf,
  midiOf,
  stepOf,
  degreeAbove,
  type ScoreBar,
  type ScoreNote,
} from '@fivespan/core';
import type { AccidentalMemory, WrittenAccidental } from './accidental.ts';
import { beamsOf, type Beams } from './beam.ts';
import { metricalGrid } from './metrical-grid.ts';
import { segmentsOf, tripletBeatsOf, writtenPlace, type Segment } from './notated-value.ts';
import { element, type XmlElement } from './xml.ts';

/** Notes that sound together, or a rest: what one stem or rest stands for before bar lines and metre cut it. */
interface Event {
  readonly startTicks: number;
  readonly endTicks: number;
  /** Empty for a rest; ascending. */
  readonly notes: readonly ScoreNote[];
}

/** One written chord, note or rest of a bar. Ticks of the score. */
export interface WrittenEvent {
  readonly startTicks: number;
  readonly endTicks: number;
  readonly elements: readonly XmlElement[];
}

/** How the notes of a staff are written. */
export interface StaffStyle {
  readonly voice: number;
  /** Staff of its part, from 1; undefined where the part has one staff. */
  readonly staff: number | undefined;
  readonly fingers: 'above' | 'below' | 'none';
  /** The id of a note's element, by the note and which of its tied pieces it is, from 0; notes have none where left out. */
  readonly idOf?: (note: ScoreNote, piece: number) => string;
}

/** Counts the tied pieces a note is written in. */
export interface PieceCount {
  /** How many pieces of this note have been written before. */
  next(note: ScoreNote): number;
}

export function pieceCount(): PieceCount {
  const written = new Map<ScoreNote, number>();
  return {
    next: (note) => {
      const before = written.get(note) ?? 0;
      written.set(note, before + 1);
      return before;
    },
  };
}

function describeNote(note: ScoreNote): string {
  return `${formatPitch(note.pitch)} at ${note.startTicks}`;
}

/**
 * Groups a staff's notes into chords, in time order.
 * @throws RangeError where notes overlap or a chord's notes differ in length: one staff holds one voice.
 */
export function chordsOf(notes: readonly ScoreNote[]): readonly Event[] {
  const chords: { startTicks: number; endTicks: number; notes: ScoreNote[] }[] = [];
  for (const note of notes) {
    const last = chords.at(-1);
    if (!Number.isInteger(note.startTicks) || !Number.isInteger(note.durationTicks) || note.durationTicks <= 0) {
      throw new RangeError(`notes must last whole ticks, at least one: ${describeNote(note)}`);
    }
    const endTicks = note.startTicks + note.durationTicks;
    if (last !== undefined && note.startTicks === last.startTicks && endTicks === last.endTicks) {
      last.notes.push(note);
    } else if (last !== undefined && note.startTicks < last.endTicks) {
      throw new RangeError(`notes of a staff must ascend and not overlap: ${describeNote(note)}`);
    } else {
      chords.push({ startTicks: note.startTicks, endTicks, notes: [note] });
    }
  }
  for (const chord of chords) chord.notes.sort((a, b) => midiOf(a.pitch) - midiOf(b.pitch));
  return chords;
}

/** The bar's chords and the rests between them, cut at its bar lines. */
function eventsOfBar(chords: readonly Event[], bar: ScoreBar): Event[] {
  const events: Event[] = [];
  const barEnd = bar.startTicks + bar.durationTicks;
  let from = bar.startTicks;
  for (const chord of chords) {
    if (chord.endTicks <= bar.startTicks || chord.startTicks >= barEnd) continue;
    const startTicks = Math.max(chord.startTicks, bar.startTicks);
    const endTicks = Math.min(chord.endTicks, barEnd);
    if (startTicks > from) events.push({ startTicks: from, endTicks: startTicks, notes: [] });
    events.push({ startTicks, endTicks, notes: chord.notes });
    from = endTicks;
  }
  if (from < barEnd) events.push({ startTicks: from, endTicks: barEnd, notes: [] });
  return events;
}

/** A chord whose notes lie a second apart needs its fingers in one stack: the engraver sets digits by note. */
function holdsSecond(notes: readonly ScoreNote[]): boolean {
  return notes.some((note, index) => {
    const below = notes[index - 1];
    return below !== undefined && stepOf(degreeAbove(below.pitch.name, note.pitch.name)) === 1;
  });
}

function fingersOf(notes: readonly ScoreNote[], index: number): number[] {
  const own = notes[index]?.finger ?? null;
  if (!holdsSecond(notes)) return own === null ? [] : [own];
  return index === notes.length - 1 ? notes.map((note) => note.finger).filter((finger) => finger !== null) : [];
}

interface Marks {
  readonly tieFrom: boolean;
  readonly tieTo: boolean;
  readonly tuplet: 'start' | 'stop' | undefined;
  readonly beams: Beams;
}

function notationsOf(
  marks: Marks,
  isFirst: boolean,
  fingers: readonly number[],
  style: StaffStyle,
): XmlElement | false {
  const children = [
    marks.tieFrom && element('tied', { type: 'stop' }),
    marks.tieTo && element('tied', { type: 'start' }),
    isFirst && marks.tuplet !== undefined && element('tuplet', { type: marks.tuplet, number: 1, bracket: 'yes' }),
    fingers.length > 0 &&
      style.fingers !== 'none' &&
      element(
        'technical',
        {},
        fingers.map((finger) => element('fingering', { placement: style.fingers }, finger)),
      ),
  ].filter((child) => child !== false);
  return children.length > 0 && element('notations', {}, children);
}

function noteElement(
  id: string | undefined,
  content: XmlElement,
  inChord: boolean,
  segment: Segment,
  accidental: WrittenAccidental | undefined,
  fingers: readonly number[],
  marks: Marks,
  style: StaffStyle,
): XmlElement {
  return element(
    'note',
    { id },
    inChord && element('chord', {}),
    content,
    element('duration', {}, segment.endTicks - segment.startTicks),
    marks.tieFrom && element('tie', { type: 'stop' }),
    marks.tieTo && element('tie', { type: 'start' }),
    element('voice', {}, style.voice),
    element('type', {}, segment.type),
    segment.dots === 1 && element('dot', {}),
    accidental !== undefined &&
      element('accidental', { cautionary: accidental.isCautionary ? 'yes' : undefined }, accidental.name),
    segment.isTriplet &&
      element('time-modification', {}, element('actual-notes', {}, 3), element('normal-notes', {}, 2)),
    style.staff !== undefined && element('staff', {}, style.staff),
    !inChord && marks.beams.map((beam, index) => element('beam', { number: index + 1 }, beam)),
    notationsOf(marks, !inChord, fingers, style),
  );
}

function pitchElement(note: ScoreNote): XmlElement {
  const alter = accidentalsOf(note.pitch.name);
  return element(
    'pitch',
    {},
    element('step', {}, letterOf(note.pitch.name)),
    alter !== 0 && element('alter', {}, alter),
    element('octave', {}, note.pitch.octave),
  );
}

function wholeBarRest(bar: ScoreBar, style: StaffStyle): WrittenEvent {
  const rest = element(
    'note',
    {},
    element('rest', { measure: 'yes' }),
    element('duration', {}, bar.durationTicks),
    element('voice', {}, style.voice),
    style.staff !== undefined && element('staff', {}, style.staff),
  );
  return { startTicks: bar.startTicks, endTicks: bar.startTicks + bar.durationTicks, elements: [rest] };
}

/** Where the first and last segment of each triplet beat are. */
function tupletEdges(segments: readonly Segment[]): Map<number, 'start' | 'stop'> {
  const edges = new Map<number, 'start' | 'stop'>();
  const beatOf = (segment: Segment): number => Math.floor(segment.startTicks / 960);
  for (const [index, segment] of segments.entries()) {
    if (!segment.isTriplet) continue;
    const before = segments[index - 1];
    const after = segments[index + 1];
    if (before === undefined || !before.isTriplet || beatOf(before) !== beatOf(segment)) edges.set(index, 'start');
    if (after === undefined || !after.isTriplet || beatOf(after) !== beatOf(segment)) edges.set(index, 'stop');
  }
  return edges;
}

/**
 * The notes and rests of a staff in one bar, cut so that the metre shows, tied, beamed, with accidentals and fingers.
 * @param chords the whole staff's (see chordsOf)
 * @param accidentals this staff's memory, given every bar in order
 * @param pieces this staff's count of tied pieces, given every bar in order
 */
export function writeBarNotes(
  chords: readonly Event[],
  bar: ScoreBar,
  accidentals: AccidentalMemory,
  pieces: PieceCount,
  style: StaffStyle,
): WrittenEvent[] {
  accidentals.startBar(bar.key);
  const events = eventsOfBar(chords, bar);
  const grid = metricalGrid(bar.meter);
  if (events.length === 1 && events[0]?.notes.length === 0 && bar.durationTicks === grid.barTicks) {
    return [wholeBarRest(bar, style)];
  }
  // a pickup is the end of a bar
  const shift = bar.startTicks - (bar.isPickup ? grid.barTicks - bar.durationTicks : 0);
  const triplets = tripletBeatsOf(
    grid,
    events.flatMap((event) => [event.startTicks - shift, event.endTicks - shift]),
  );
  const written = events.flatMap((event) => {
    const kind = event.notes.length === 0 ? 'rest' : 'note';
    const from = writtenPlace(event.startTicks - shift, triplets);
    const to = writtenPlace(event.endTicks - shift, triplets);
    const segments = from < to ? segmentsOf(grid, from, to, kind, triplets) : [];
    return segments.map((segment, place) => ({
      event,
      ...segment,
      isRest: kind === 'rest',
      isFirst: place === 0,
      isLast: place === segments.length - 1,
    }));
  });
  const beams = beamsOf(grid, written);
  const tuplets = tupletEdges(written);
  const barEnd = bar.startTicks + bar.durationTicks;
  return written.map((segment, index) => {
    const { notes } = segment.event;
    const startTicks = segment.startTicks + shift;
    const endTicks = segment.endTicks + shift;
    const marks = (note: ScoreNote | undefined): Marks => ({
      tieFrom: note !== undefined && (!segment.isFirst || note.startTicks < bar.startTicks),
      tieTo: note !== undefined && (!segment.isLast || note.startTicks + note.durationTicks > barEnd),
      tuplet: tuplets.get(index),
      beams: beams[index] ?? [],
    });
    const elements =
      notes.length === 0
        ? [noteElement(undefined, element('rest', {}), false, segment, undefined, [], marks(undefined), style)]
        : notes.map((note, place) => {
            const each = marks(note);
            const accidental = accidentals.next(note.pitch, each.tieFrom);
            const fingers = each.tieFrom ? [] : fingersOf(notes, place);
            const id = style.idOf?.(note, pieces.next(note));
            return noteElement(id, pitchElement(note), place > 0, segment, accidental, fingers, each, style);
          });
    return { startTicks, endTicks, elements };
  });
}
