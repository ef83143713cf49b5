import {
  beatTicksOf,
  TICKS_PER_QUARTER,
  type Bar,
  type BarId,
  type Chart,
  type Issue,
  type Result,
  type Section,
  type SlotId,
} from '@fivespan/core';
import { readBars, type ReadBar } from './bar-reading.ts';
import { LARGEST_FILE_BYTES, scoreText } from './container.ts';
import { failure } from './failure.ts';
import { formOfBars, type BarForm } from './form-of-bars.ts';
import type { ReadHarmony, ReadPart, ReadScore } from './read-part.ts';
import { readScore } from './score-reading.ts';
import { readSlots, type ReadSlot } from './slot-reading.ts';

/** Tempi a chart can have; a file's mistake is brought to the nearest. */
const SLOWEST_BPM = 20;
const FASTEST_BPM = 400;

/** Where the file says nothing: lead sheets of this music swing. */
const USUAL_FEEL: Chart['feel'] = 'swing';

function symbolsOf(part: ReadPart): ReadHarmony[] {
  return part.measures.flatMap((measure) => measure.harmonies).filter((harmony) => !harmony.isNumeral);
}

/** The part with the most chord symbols, the first of several. */
function chordPart(score: ReadScore): ReadPart | undefined {
  let best: ReadPart | undefined;
  for (const part of score.parts)
    if (best === undefined || symbolsOf(part).length > symbolsOf(best).length) best = part;
  return best;
}

/** What a part's chords come to, to tell whether another part says the same. */
function chordsText(part: ReadPart): string {
  const step = (each: ReadHarmony['root']): string => (each === null ? '' : `${each.step}${each.alter}`);
  return part.measures
    .map((measure) =>
      measure.harmonies
        .filter((each) => !each.isNumeral)
        .map((each) => `${each.ticks} ${step(each.root)} ${each.kind} ${step(each.bass)}`)
        .join(),
    )
    .join('|');
}

function nameOf(part: ReadPart): string {
  return part.name === '' ? `part ${part.id}` : part.name;
}

/** What is left out of the whole score, reported once, with the first bar it concerns. */
function warningsOfScore(score: ReadScore, part: ReadPart, bars: readonly ReadBar[]): Issue[] {
  const warnings: Issue[] = [];
  const firstWith = (test: (bar: ReadBar) => boolean): number => bars.find(test)?.number ?? 1;
  const transposing = bars.find((bar) => bar.transposeFifths !== 0);
  if (transposing !== undefined) {
    const place = { bar: transposing.number };
    warnings.push({ code: 'musicxml.transposed', args: { part: nameOf(part) }, place });
  }
  const own = chordsText(part);
  for (const other of score.parts) {
    if (other === part || symbolsOf(other).length === 0 || chordsText(other) === own) continue;
    const bar = other.measures.findIndex((measure) => measure.harmonies.some((each) => !each.isNumeral));
    const args = { part: nameOf(part), other: nameOf(other) };
    warnings.push({ code: 'musicxml.other-part', args, place: { bar: bars[bar]?.number ?? 1 } });
  }
  const numerals = bars.flatMap((bar) => bar.harmonies).filter((each) => each.isNumeral).length;
  if (numerals > 0) {
    const bar = firstWith((each) => each.harmonies.some((harmony) => harmony.isNumeral));
    warnings.push({ code: 'musicxml.numerals-left-out', args: { count: numerals }, place: { bar } });
  }
  const notes = score.parts.flatMap((each) => each.measures).reduce((sum, measure) => sum + measure.noteCount, 0);
  if (notes > 0) {
    const bar = firstWith((each) => each.noteCount > 0);
    warnings.push({ code: 'musicxml.notes-left-out', args: { notes }, place: { bar } });
  }
  return warnings;
}

function barOf(bar: ReadBar, form: BarForm, slots: readonly ReadSlot[], index: number): Bar {
  return {
    id: `b${index + 1}` as BarId,
    number: bar.number,
    meter: bar.meter,
    keyChange: bar.keyChange,
    durationTicks: bar.durationTicks,
    slots: slots.map((slot, place) => ({ id: `b${index + 1}.${place + 1}` as SlotId, ...slot })),
    ...form,
  };
}

/** A mark as a section's name: a chart's text keeps `:`, `|` and a leading `#` for itself. Null where nothing is left. */
function sectionName(mark: string): string | null {
  const name = mark
    .replaceAll(/[:|]+/gu, ' ')
    .replace(/^[#\s]+/u, '')
    .replaceAll(/\s+/gu, ' ')
    .trim();
  return name === '' ? null : name;
}

/** Sections by rehearsal marks; what stands before the first has no name. */
function sectionsOf(bars: readonly ReadBar[], written: readonly Bar[]): Section[] {
  const sections: { id: string; name: string | null; bars: Bar[] }[] = [];
  for (const [index, bar] of written.entries()) {
    const mark = sectionName(bars[index]?.form.rehearsal ?? '');
    if (sections.length === 0 || mark !== null) {
      sections.push({ id: `s${sections.length + 1}`, name: mark, bars: [] });
    }
    sections.at(-1)?.bars.push(bar);
  }
  // a mark on the first full bar names the pickup's section too
  const [pickup, first, ...rest] = sections;
  const isPickupAlone = pickup?.name === null && pickup.bars.length === 1 && pickup.bars[0]?.number === 0;
  if (!isPickupAlone || first === undefined) return sections;
  return [{ ...first, bars: [...pickup.bars, ...first.bars] }, ...rest];
}

function tempoOf(score: ReadScore, chart: Pick<Chart, 'meter'>): number | null {
  if (score.quartersAMinute === null) return null;
  const tempoBpm = Math.round((score.quartersAMinute * TICKS_PER_QUARTER) / beatTicksOf(chart.meter));
  return Math.min(Math.max(tempoBpm, SLOWEST_BPM), FASTEST_BPM);
}

function boundedText(text: string): Result<string> {
  if (text.length > LARGEST_FILE_BYTES) return failure('musicxml.too-large', { limit: LARGEST_FILE_BYTES });
  return { ok: true, value: text, warnings: [] };
}

function compareByBar(a: Issue, b: Issue): number {
  return (a.place.bar ?? 0) - (b.place.bar ?? 0);
}

/**
 * Reads a lead sheet: MusicXML as text or bytes, plain (.musicxml, .xml) or packed (.mxl), partwise, valid or not. The
 * chart has the chords of the part with most of them, at concert pitch, with keys, metres, pickup, repeats, endings,
 * jumps and sections. What could not be carried over comes as warnings with bar numbers, in order. A score without
 * chord symbols gives an empty chart and says so. Chords keep their place to a twelfth of a beat. Entities are not expanded, sizes are checked before unpacking;
 * a damaged or hostile file is an error, never an exception.
 * @example const result = readMusicXml(await readFile('lead-sheet.mxl'))
 */
export function readMusicXml(file: Uint8Array | string): Result<Chart> {
  const text = typeof file === 'string' ? boundedText(file) : scoreText(file);
  if (!text.ok) return text;
  const read = readScore(text.value);
  if (!read.ok) return read;
  const score = read.value;
  const part = chordPart(score);
  const { bars, key, meter, warnings } = readBars(part ?? { id: '', name: '', transposeFifths: 0, measures: [] });
  const head = { title: score.title, key, meter, tempoBpm: tempoOf(score, { meter }), feel: score.feel ?? USUAL_FEEL };
  if (part === undefined || symbolsOf(part).length === 0) {
    const warning: Issue = { code: 'musicxml.no-chords', args: { bars: bars.length }, place: {} };
    return { ok: true, value: { ...head, sections: [] }, warnings: [warning] };
  }
  const { slots, warnings: chordWarnings } = readSlots(bars);
  const forms = formOfBars(bars);
  if (!forms.ok) return forms;
  const written = bars.map((bar, index) => barOf(bar, forms.value[index] as BarForm, slots[index] ?? [], index));
  const all = [...warningsOfScore(score, part, bars), ...warnings, ...chordWarnings, ...forms.warnings];
  return { ok: true, value: { ...head, sections: sectionsOf(bars, written) }, warnings: all.sort(compareByBar) };
}
