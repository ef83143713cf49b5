import { barTicksOf, beatTicksOf, midi, TICKS_PER_QUARTER, type Meter, type Midi } from '@fivespan/core';
import { failure } from './failure.ts';
import { fingerPlace, type FingerPlace, type PlacedNode } from './placed-node.ts';
import { child, cleanName, numberOf, textOf } from './xml-node.ts';
import { Unreadable } from './xml-reading.ts';

/** A note as the file has it: sounding, printed, pitched. */
export interface WrittenNote {
  readonly bar: number;
  readonly staff: number;
  /** From the beginning of the part. */
  readonly ticks: number;
  /** 0 for a grace note. */
  readonly durationTicks: number;
  readonly beatTicks: number;
  readonly isGrace: boolean;
  /** Struck with the note before it in the file. */
  readonly inChord: boolean;
  readonly name: string;
  readonly midi: Midi;
  readonly tieStart: boolean;
  readonly tieStop: boolean;
  /** Existing fingerings, one after the other, without alternatives and substitutes. */
  readonly fingerings: readonly string[];
  /** Where a fingering would go. */
  readonly place: FingerPlace;
}

/** A part with all its notes, in the order of the file. */
export interface WrittenPart {
  readonly id: string;
  name: string;
  /** The first clef of each staff, `G`, `F` or `C`. */
  readonly clefs: Map<number, string>;
  readonly notes: WrittenNote[];
  /** Where the first full bar begins: the length of a pickup. */
  firstBarTicks: number;
}

/** Semitones of the steps above C. */
const SEMITONES: Readonly<Record<string, number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };

/** More on one note are a slip. */
const MOST_ACCIDENTALS = 3;

const USUAL_METER: Meter = { count: 4, unit: 4 };

function meterOf(node: PlacedNode, before: Meter): Meter {
  const beats = node.children.filter((each) => each.name === 'beats');
  const count = beats.flatMap((each) => each.text.split('+')).reduce((sum, each) => sum + numberOf(each, 0), 0);
  const unit = numberOf(textOf(node, 'beat-type'), 0);
  return count >= 1 && [1, 2, 4, 8, 16, 32, 64].includes(unit) ? { count, unit } : before;
}

/** The fingers already written on a note: the first choice, not alternatives or substitutes. */
function fingeringsOf(note: PlacedNode): string[] {
  return note.children
    .filter((each) => each.name === 'notations')
    .flatMap((each) => each.children)
    .filter((each) => each.name === 'technical')
    .flatMap((each) => each.children)
    .filter(
      (each) =>
        each.name === 'fingering' &&
        each.attributes['substitution'] !== 'yes' &&
        each.attributes['alternate'] !== 'yes',
    )
    .map((each) => cleanName(each.text))
    .filter((text) => text !== '');
}

/** Whether a tie starts or stops here; some programs write the curve alone. */
function hasTie(note: PlacedNode, type: 'start' | 'stop'): boolean {
  const curves = note.children
    .filter((each) => each.name === 'notations')
    .flatMap((each) => each.children.filter((mark) => mark.name === 'tied'));
  const ties = note.children.filter((each) => each.name === 'tie');
  return [...ties, ...curves].some((each) => each.attributes['type'] === type);
}

/** A spelled pitch and its key. */
function pitchOf(
  pitch: PlacedNode,
  transposeSemitones: number,
  bar: number,
): { readonly name: string; readonly midi: Midi } {
  const step = textOf(pitch, 'step').toUpperCase();
  const alter = numberOf(textOf(pitch, 'alter'), 0);
  const octave = numberOf(textOf(pitch, 'octave'), Number.NaN);
  const key = (SEMITONES[step] ?? Number.NaN) + alter + 12 * (octave + 1) + transposeSemitones;
  const isSpelled = Number.isInteger(alter) && Math.abs(alter) <= MOST_ACCIDENTALS;
  if (!isSpelled || !Number.isInteger(key) || key < 0 || key > 127) {
    const where = Number.isInteger(octave) ? `octave ${octave}` : 'in no octave';
    const text = cleanName(`${step}${alter === 0 ? '' : ` altered by ${alter}`}, ${where}`);
    throw new Unreadable(failure('fingering.no-key', { pitch: text }, { bar }));
  }
  return { name: `${step}${(alter < 0 ? 'b' : '#').repeat(Math.abs(alter))}${octave}`, midi: midi(key) };
}

/** Reads one part bar by bar while the file streams past. */
export interface PartReading {
  readonly part: WrittenPart;
  openMeasure(attributes: PlacedNode['attributes']): void;
  /** Takes a whole child of the measure. */
  take(node: PlacedNode): void;
  closeMeasure(): void;
}

export function partReading(xml: string, id: string): PartReading {
  const part: WrittenPart = { id, name: '', clefs: new Map(), notes: [], firstBarTicks: 0 };
  let divisions = 1;
  let meter = USUAL_METER;
  let transposeSemitones = 0;
  let bar = 0;
  let measureCount = 0;
  let isImplicit = false;
  let pickupTicks = 0;
  // where the bar begins, how far it is filled, where the next note stands, where the last one stood; not yet rounded
  let barStart = 0;
  let filledTo = 0;
  let at = 0;
  let lastAt = 0;

  const ticksOf = (node: PlacedNode): number =>
    (Math.max(0, numberOf(textOf(node, 'duration'), 0)) * TICKS_PER_QUARTER) / divisions;
  const moveBy = (ticks: number): void => {
    at = Math.max(barStart, at + ticks);
    filledTo = Math.max(filledTo, at);
  };
  const takeAttributes = (node: PlacedNode): void => {
    const stated = numberOf(textOf(node, 'divisions'), divisions);
    if (stated > 0) divisions = stated;
    const time = node.children.find((each) => each.name === 'time');
    if (time !== undefined) meter = meterOf(time, meter);
    const transpose = child(node, 'transpose');
    if (transpose !== undefined) {
      transposeSemitones =
        numberOf(textOf(transpose, 'chromatic'), 0) + 12 * numberOf(textOf(transpose, 'octave-change'), 0);
    }
    for (const clef of node.children.filter((each) => each.name === 'clef')) {
      const staff = numberOf(clef.attributes['number'], 1);
      if (!part.clefs.has(staff)) part.clefs.set(staff, textOf(clef, 'sign').toUpperCase());
    }
  };
  const takeNote = (node: PlacedNode): void => {
    const isGrace = child(node, 'grace') !== undefined;
    const inChord = child(node, 'chord') !== undefined;
    const durationTicks = isGrace ? 0 : ticksOf(node);
    if (!inChord) {
      lastAt = at;
      moveBy(durationTicks);
    }
    const pitch = node.children.find((each) => each.name === 'pitch');
    if (pitch === undefined || child(node, 'cue') !== undefined || node.attributes['print-object'] === 'no') return;
    part.notes.push({
      ...pitchOf(pitch, transposeSemitones, bar),
      bar,
      staff: numberOf(textOf(node, 'staff'), 1),
      ticks: Math.round(lastAt),
      durationTicks: Math.round(durationTicks),
      beatTicks: beatTicksOf(meter),
      isGrace,
      inChord,
      tieStart: hasTie(node, 'start'),
      tieStop: hasTie(node, 'stop'),
      fingerings: fingeringsOf(node),
      place: fingerPlace(xml, node),
    });
  };
  return {
    part,
    openMeasure: (attributes) => {
      const number = Number(attributes['number'] ?? Number.NaN);
      bar = Number.isInteger(number) && number >= 0 && number < 1e6 ? number : bar;
      isImplicit = attributes['implicit'] === 'yes';
      measureCount++;
      // a short first bar is a pickup where another follows
      if (measureCount === 2) part.firstBarTicks = pickupTicks;
    },
    take: (node) => {
      if (node.name === 'note') takeNote(node);
      else if (node.name === 'backup') moveBy(-ticksOf(node));
      else if (node.name === 'forward') moveBy(ticksOf(node));
      else if (node.name === 'attributes') takeAttributes(node);
    },
    closeMeasure: () => {
      const full = barTicksOf(meter);
      const length = filledTo > barStart ? filledTo - barStart : full;
      if (measureCount === 1 && (isImplicit || length < full)) pickupTicks = Math.round(length);
      barStart += length;
      filledTo = barStart;
      at = barStart;
      lastAt = barStart;
    },
  };
}
