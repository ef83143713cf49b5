import {
  formatNoteName,
  isCompound,
  partOnStaff,
  signatureOf,
  stavesOf,
  TICKS_PER_QUARTER,
  typeset,
  type Key,
  type Meter,
  type PartGroup,
  type Score,
  type ScoreBar,
  type ScoreNote,
  type ScoreStaff,
} from '@fivespan/core';
import { accidentalMemory } from './accidental.ts';
import { harmonyElement, numeralElement, type Purpose } from './harmony.ts';
import { chordsOf, pieceCount, writeBarNotes, type StaffStyle, type WrittenEvent } from './measure-notes.ts';
import { NOTE_TYPES } from './notated-value.ts';
import { scoreNoteId } from './note-id.ts';
import { octaveShift, octaveShifts } from './octave-shift.ts';
import { element, serialise, type XmlElement } from './xml.ts';

/** What of the score is written; everything unless said otherwise. */
export interface MusicXmlOptions {
  /** Staves by role. */
  readonly parts?: readonly ScoreStaff['role'][];
  readonly chords?: boolean;
  readonly numerals?: boolean;
  readonly fingers?: boolean;
  readonly thumbs?: boolean;
  /** A sign after each of the score's thumbs, in their order, that tells shapes apart (tabMarksOf); none unless given. */
  readonly thumbMarks?: readonly string[];
  /** 'Swing' and the metronome mark; left out for engraving unless asked for, where the page's head says it. */
  readonly tempo?: boolean;
  /** A stretch of the score's bars by index, `to` exclusive; all of them otherwise. */
  readonly bars?: { readonly from: number; readonly to: number };
  /** Whether note elements have ids (scoreNoteId), so that an engraved note can be traced to the score's; false by default. */
  readonly noteIds?: boolean;
  /** 'engraving' writes symbols as our engraver prints them and no part names; 'exchange' is for other programs. */
  readonly purpose?: Purpose;
}

/** Public identifier of MusicXML 4.0, as the standard's document type gives it. */
export const MUSICXML_DOCTYPE =
  '<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" "http://www.musicxml.org/dtds/partwise.dtd">';

/** Something that stands at a time over or under a staff. */
interface Attachment {
  readonly ticks: number;
  /** Whether it stands after the note that ends there, not before the one that begins. */
  readonly isAfter?: true;
  /** The element, at an offset from where it stands in the measure. */
  readonly at: (offsetTicks: number) => XmlElement | undefined;
}

/** A staff in its part. */
interface PartStaff {
  readonly staff: ScoreStaff;
  readonly style: StaffStyle;
  readonly attachments: readonly Attachment[];
}

/** A part of the file. */
interface Part {
  readonly id: string;
  readonly name: string;
  readonly staves: readonly PartStaff[];
}

/** A group's name in the file; the groups come in this order. */
const GROUP_NAMES: Readonly<Record<PartGroup, string>> = {
  piano: 'Piano',
  study: 'Arpeggio study',
  voicings: 'Voicings',
};

function offsetElement(offsetTicks: number): XmlElement | false {
  return offsetTicks !== 0 && element('offset', {}, offsetTicks);
}

function direction(
  placement: 'above' | 'below',
  types: readonly XmlElement[],
  offsetTicks: number,
  staff: number,
  sound?: XmlElement,
): XmlElement {
  return element(
    'direction',
    { placement },
    types.map((each) => element('direction-type', {}, each)),
    offsetElement(offsetTicks),
    element('staff', {}, staff),
    sound,
  );
}

/** The metre's beat as a note: a plain or dotted one. */
export function beatUnit(meter: Meter): XmlElement[] {
  const plain = (TICKS_PER_QUARTER * 4 * (isCompound(meter) ? 2 : 1)) / meter.unit;
  const type = NOTE_TYPES.find(([, ticks]) => ticks === plain)?.[0] ?? 'quarter';
  return [element('beat-unit', {}, type), ...(isCompound(meter) ? [element('beat-unit-dot', {})] : [])];
}

function quartersAMinute(score: Score): number {
  const beatQuarters = (4 / score.meter.unit) * (isCompound(score.meter) ? 3 : 1);
  return Math.round(score.tempoBpm * beatQuarters * 100) / 100;
}

function tempoDirection(score: Score): XmlElement {
  const metronome = element('metronome', {}, ...beatUnit(score.meter), element('per-minute', {}, score.tempoBpm));
  // the usual reading of 'Swing' on paper is two to one; the MIDI file carries the ratio that is played
  const swing = element(
    'swing',
    {},
    element('first', {}, 2),
    element('second', {}, 1),
    element('swing-type', {}, 'eighth'),
  );
  return direction(
    'above',
    score.feel === 'swing' ? [element('words', { 'font-weight': 'bold' }, 'Swing'), metronome] : [metronome],
    0,
    1,
    element('sound', { tempo: quartersAMinute(score) }, score.feel === 'swing' && swing),
  );
}

function attachmentsAbove(score: Score, bars: readonly ScoreBar[], options: MusicXmlOptions): Attachment[] {
  const purpose = options.purpose ?? 'exchange';
  const attachments: Attachment[] = [];
  const first = bars[0];
  const isTempoWanted = options.tempo ?? purpose === 'exchange';
  if (isTempoWanted && first !== undefined && first === score.bars[0]) {
    attachments.push({ ticks: first.startTicks, at: () => tempoDirection(score) });
  }
  for (const bar of bars) {
    const { section } = bar;
    if (section === null) continue;
    const mark = element('rehearsal', { enclosure: 'square', halign: 'left' }, section);
    attachments.push({ ticks: bar.startTicks, at: (offset) => direction('above', [mark], offset, 1) });
  }
  if (options.chords !== false) {
    for (const { startTicks, chord } of score.chords) {
      attachments.push({ ticks: startTicks, at: (offset) => harmonyElement(chord, offset, 1, purpose) });
    }
  }
  return attachments;
}

function thumbAttachments(score: Score, staff: number, marks: readonly string[]): Attachment[] {
  return score.thumbs.map(({ startTicks, thumb }, index) => {
    const name = typeset(formatNoteName(thumb)) + (marks[index] ?? '');
    const words = element('words', { enclosure: 'rectangle', 'font-style': 'normal' }, name);
    return { ticks: startTicks, at: (offset) => direction('below', [words], offset, staff) };
  });
}

/** 8va over what is on many ledger lines. */
function shiftAttachments(staff: ScoreStaff, number: number): Attachment[] {
  if (staff.clef !== 'treble') return [];
  return octaveShifts(staff.notes).flatMap(({ startTicks, endTicks }): Attachment[] => [
    { ticks: startTicks, at: (offset) => direction('above', [octaveShift('down')], offset, number) },
    { ticks: endTicks, isAfter: true, at: (offset) => direction('above', [octaveShift('stop')], offset, number) },
  ]);
}

function numeralAttachments(score: Score, staff: number): Attachment[] {
  return score.chords
    .filter((each) => each.numeral !== '')
    .map(({ startTicks, numeral }) => ({ ticks: startTicks, at: (offset) => numeralElement(numeral, offset, staff) }));
}

/** Ids of a staff's notes, by their place in the score. */
function noteIdsOf(score: Score, staff: ScoreStaff): (note: ScoreNote, piece: number) => string {
  const staffIndex = score.staves.indexOf(staff);
  const places = new Map(staff.notes.map((note, index) => [note, index]));
  return (note, piece) => scoreNoteId(staffIndex, places.get(note) ?? 0, piece);
}

/** The file's parts: piano first, with the symbols on its upper staff and the numerals under its lower. */
function partsOf(score: Score, bars: readonly ScoreBar[], options: MusicXmlOptions): Part[] {
  const wanted = score.staves.filter((staff) => options.parts?.includes(staff.role) ?? true);
  const groups = (Object.keys(GROUP_NAMES) as PartGroup[])
    .map((group) => ({
      name: GROUP_NAMES[group],
      staves: stavesOf(group).flatMap((role) => wanted.filter((staff) => staff.role === role)),
    }))
    .filter((group) => group.staves.length > 0);
  if (groups.length === 0) throw new RangeError('parts must name at least one staff of the score');
  return groups.map(({ name, staves }, partIndex) => ({
    id: `P${partIndex + 1}`,
    name,
    staves: staves.map((staff, index) => {
      const { hasThumbs, hand } = partOnStaff(staff.role);
      const number = index + 1;
      const attachments: Attachment[] = shiftAttachments(staff, number);
      if (partIndex === 0 && index === 0) attachments.push(...attachmentsAbove(score, bars, options));
      if (hasThumbs && options.thumbs !== false)
        attachments.push(...thumbAttachments(score, number, options.thumbMarks ?? []));
      if (partIndex === 0 && index === staves.length - 1 && options.numerals !== false) {
        attachments.push(...numeralAttachments(score, number));
      }
      return {
        staff,
        style: {
          voice: index * 4 + 1,
          staff: staves.length > 1 ? number : undefined,
          fingers: options.fingers === false ? 'none' : hand === 'left' ? 'below' : 'above',
          ...(options.noteIds === true ? { idOf: noteIdsOf(score, staff) } : {}),
        },
        attachments: attachments.sort((a, b) => a.ticks - b.ticks),
      };
    }),
  }));
}

/** A staff's notes with what stands over and under them, each before the note it stands at. */
function joined(events: readonly WrittenEvent[], attachments: readonly Attachment[]): XmlElement[] {
  return events.flatMap(({ startTicks, endTicks, elements }) => [
    ...attachments
      .filter(({ ticks, isAfter }) => isAfter !== true && ticks >= startTicks && ticks < endTicks)
      .map(({ ticks, at }) => at(ticks - startTicks))
      .filter((each) => each !== undefined),
    ...elements,
    ...attachments
      .filter(({ ticks, isAfter }) => isAfter === true && ticks > startTicks && ticks <= endTicks)
      .map(({ at }) => at(0))
      .filter((each) => each !== undefined),
  ]);
}

export function keyElement(key: Key): XmlElement {
  return element('key', {}, element('fifths', {}, signatureOf(key)), element('mode', {}, key.mode));
}

export function timeElement(meter: Meter): XmlElement {
  return element('time', {}, element('beats', {}, meter.count), element('beat-type', {}, meter.unit));
}

const CLEFS = { treble: ['G', 2], bass: ['F', 4] } as const;

function attributesOf(part: Part, bar: ScoreBar, before: ScoreBar | undefined): XmlElement | false {
  const keyIsNew =
    before === undefined || signatureOf(before.key) !== signatureOf(bar.key) || before.key.mode !== bar.key.mode;
  const meterIsNew =
    before === undefined || before.meter.count !== bar.meter.count || before.meter.unit !== bar.meter.unit;
  if (!keyIsNew && !meterIsNew) return false;
  const opening = before === undefined;
  return element(
    'attributes',
    {},
    opening && element('divisions', {}, TICKS_PER_QUARTER),
    keyIsNew && keyElement(bar.key),
    meterIsNew && timeElement(bar.meter),
    opening && part.staves.length > 1 && element('staves', {}, part.staves.length),
    opening &&
      part.staves.map(({ staff }, index) => {
        const [sign, line] = CLEFS[staff.clef];
        const number = part.staves.length > 1 ? index + 1 : undefined;
        return element('clef', { number }, element('sign', {}, sign), element('line', {}, line));
      }),
  );
}

function barlineAfter(score: Score, bar: ScoreBar): XmlElement | false {
  const next = score.bars[score.bars.indexOf(bar) + 1];
  const style = next === undefined ? 'light-heavy' : next.section !== null && !bar.isPickup ? 'light-light' : undefined;
  return style !== undefined && element('barline', { location: 'right' }, element('bar-style', {}, style));
}

function partElement(score: Score, bars: readonly ScoreBar[], part: Part): XmlElement {
  const staves = part.staves.map((each) => ({
    ...each,
    chords: chordsOf(each.staff.notes),
    memory: accidentalMemory(),
    pieces: pieceCount(),
  }));
  const measures = bars.map((bar, index) =>
    element(
      'measure',
      { number: bar.number, implicit: bar.isPickup ? 'yes' : undefined },
      attributesOf(part, bar, bars[index - 1]),
      ...staves.flatMap(({ chords, memory, pieces, style, attachments }, place) => [
        place > 0 && element('backup', {}, element('duration', {}, bar.durationTicks)),
        joined(writeBarNotes(chords, bar, memory, pieces, style), attachments),
      ]),
      barlineAfter(score, bar),
    ),
  );
  return element('part', { id: part.id }, measures);
}

function partListElement(parts: readonly Part[], purpose: Purpose): XmlElement {
  return element(
    'part-list',
    {},
    parts.map(({ id, name }) =>
      element(
        'score-part',
        { id },
        element(
          'part-name',
          { 'print-object': purpose === 'engraving' ? 'no' : undefined },
          purpose === 'engraving' ? '' : name,
        ),
        element('score-instrument', { id: `${id}-I1` }, element('instrument-name', {}, 'Piano')),
        element('midi-instrument', { id: `${id}-I1` }, element('midi-channel', {}, 1), element('midi-program', {}, 1)),
      ),
    ),
  );
}

/**
 * The score as MusicXML 4.0, partwise, uncompressed: 'Piano' (right hand, left hand), and 'Arpeggio study' and
 * 'Voicings' where the score has them. Divisions are 960 to the quarter. The same score and options give the same bytes.
 * @throws RangeError where `parts` or `bars` name nothing, or where a staff holds notes that cannot be written
 *   (overlapping, or finer than a 64th or a triplet sixteenth).
 * @example writeMusicXml(lesson.score, { parts: ['right hand', 'left hand'], numerals: false, purpose: 'engraving' })
 */
export function writeMusicXml(score: Score, options: MusicXmlOptions = {}): string {
  const { from, to } = options.bars ?? { from: 0, to: score.bars.length };
  const bars = score.bars.slice(from, to);
  if (!(from >= 0 && bars.length > 0)) throw new RangeError(`bars must name bars of the score, not ${from} to ${to}`);
  const purpose = options.purpose ?? 'exchange';
  const parts = partsOf(score, bars, options);
  const root = element(
    'score-partwise',
    { version: '4.0' },
    score.title !== '' && element('work', {}, element('work-title', {}, score.title)),
    element(
      'identification',
      {},
      element(
        'encoding',
        {},
        element('software', {}, 'Fivespan'),
        element('supports', { element: 'accidental', type: 'yes' }),
        element('supports', { element: 'beam', type: 'yes' }),
      ),
    ),
    partListElement(parts, purpose),
    parts.map((part) => partElement(score, bars, part)),
  );
  return serialise(root, MUSICXML_DOCTYPE);
}
