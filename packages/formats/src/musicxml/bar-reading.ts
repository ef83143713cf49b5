import {
  barTicksOf,
  beatTicksOf,
  formatKey,
  formatMeter,
  signatureOf,
  type Issue,
  type IssueArgs,
  type IssueCode,
  type Key,
  type Meter,
  type NoteName,
} from '@fivespan/core';
import type { ReadForm, ReadHarmony, ReadKey, ReadMeasure, ReadMeter, ReadPart } from './read-part.ts';

/** A measure as a bar of a chart: its length and number settled, its chords not yet understood. */
export interface ReadBar {
  readonly number: number;
  readonly meter: Meter;
  readonly durationTicks: number;
  readonly startTicks: number;
  /** A key that begins here; null where the one before goes on, or none is stated. */
  readonly keyChange: Key | null;
  readonly harmonies: readonly ReadHarmony[];
  readonly form: ReadForm;
  readonly noteCount: number;
  /** Written to concert pitch, on the line of fifths, such that the key has at most seven signs. */
  readonly transposeFifths: number;
}

/** The bars of a part and what the file says before the first of them. */
export interface ReadBars {
  readonly bars: readonly ReadBar[];
  /** Null where the file states none, or does not say whether it is major or minor. */
  readonly key: Key | null;
  readonly meter: Meter;
  readonly warnings: readonly Issue[];
}

/** Where the tonic of a mode is from its signature, on the line of fifths, and what a chart calls it. Common practice. */
const MODES: Readonly<Record<string, { readonly fifths: number; readonly mode: Key['mode'] }>> = {
  major: { fifths: 0, mode: 'major' },
  ionian: { fifths: 0, mode: 'major' },
  minor: { fifths: 3, mode: 'minor' },
  aeolian: { fifths: 3, mode: 'minor' },
  dorian: { fifths: 2, mode: 'minor' },
  phrygian: { fifths: 4, mode: 'minor' },
  lydian: { fifths: -1, mode: 'major' },
  mixolydian: { fifths: 1, mode: 'major' },
  locrian: { fifths: 5, mode: 'minor' },
};

/** Modes that a chart calls by their own name. */
const PLAIN_MODES: ReadonlySet<string> = new Set(['major', 'ionian', 'minor', 'aeolian']);

const UNITS: ReadonlySet<number> = new Set([2, 4, 8, 16]);
/** As many as a chart's metre may have. */
const MOST_BEATS = 32;

type Warn = (code: IssueCode, args: IssueArgs, bar: number) => void;

/** A transposition that leads past seven signs is written on the other side of the circle, key and chords alike. */
function writable(transposeFifths: number, writtenFifths: number): number {
  const sounding = writtenFifths + transposeFifths;
  if (sounding < -7) return transposeFifths + 12;
  return sounding > 7 ? transposeFifths - 12 : transposeFifths;
}

function keyOf(read: ReadKey, fifths: number, bar: number, isFirst: boolean, warn: Warn): Key | null {
  if (read.fifths === null || Math.abs(read.fifths) > 7) {
    const key = `${read.fifths ?? '?'} fifths${read.mode === '' ? '' : ` ${read.mode}`}`;
    warn('musicxml.key-not-read', { key, read: 'the one before goes on' }, bar);
    return null;
  }
  const signature = read.fifths + fifths;
  const known = MODES[read.mode];
  if (read.mode === '' || read.mode === 'none' || known === undefined) {
    const signs = `${Math.abs(signature)} ${signature < 0 ? 'flats' : 'sharps'}`;
    warn('musicxml.key-without-mode', { signature: signs }, bar);
    return isFirst ? null : { tonic: signature as NoteName, mode: 'major' };
  }
  const key: Key = { tonic: (signature + known.fifths) as NoteName, mode: known.mode };
  if (!PLAIN_MODES.has(read.mode)) {
    warn('musicxml.key-not-read', { key: read.mode, read: `it is read as ${formatKey(key)}` }, bar);
  }
  return Math.abs(signatureOf(key)) <= 7 ? key : null;
}

function meterOf(read: ReadMeter, before: Meter, bar: number, warn: Warn): Meter {
  const meter = read.unit === 1 ? { count: read.count * 2, unit: 2 } : { count: read.count, unit: read.unit };
  const isUsual =
    Number.isInteger(meter.count) && meter.count >= 1 && meter.count <= MOST_BEATS && UNITS.has(meter.unit);
  if (isUsual) return meter;
  warn('musicxml.meter-not-read', { meter: read.text }, bar);
  return before;
}

/** The metre a bar of this length has: in the metre's own unit, else in a finer one; undefined where none fits. */
function meterOfLength(ticks: number, unit: number): Meter | undefined {
  for (const each of [unit, 8, 16]) {
    const count = (ticks * each) / (960 * 4);
    if (each >= unit && Number.isInteger(count) && count >= 1 && count <= MOST_BEATS) return { count, unit: each };
  }
  return undefined;
}

/** Two measures that are one bar cut in two, as programs write a pickup to a section. */
function areHalves(first: ReadMeasure, second: ReadMeasure | undefined, barTicks: number): boolean {
  if (second === undefined || first.contentTicks === 0 || second.contentTicks === 0) return false;
  if (!first.isImplicit && !second.isImplicit) return false;
  const isWhole = first.contentTicks + second.contentTicks === barTicks;
  const isCut =
    first.form.endsRepeatTimes > 0 ||
    first.form.stopsEnding ||
    second.form.startsRepeat ||
    second.form.startsEnding.length > 0 ||
    second.form.rehearsal !== null ||
    second.meter !== null;
  return isWhole && !isCut;
}

function joined(first: ReadMeasure, second: ReadMeasure): ReadMeasure {
  const a = first.form;
  const b = second.form;
  const shifted = second.harmonies.map((each) => ({ ...each, ticks: each.ticks + first.contentTicks }));
  return {
    ...first,
    contentTicks: first.contentTicks + second.contentTicks,
    key: first.key ?? second.key,
    noteCount: first.noteCount + second.noteCount,
    harmonies: [...first.harmonies, ...shifted],
    form: {
      ...a,
      endsRepeatTimes: b.endsRepeatTimes,
      stopsEnding: b.stopsEnding,
      segno: a.segno || b.segno,
      coda: a.coda || b.coda,
      toCoda: a.toCoda || b.toCoda,
      fine: a.fine || b.fine,
      jump: a.jump ?? b.jump,
      jumpUntil: a.jump === null ? b.jumpUntil : a.jumpUntil,
    },
  };
}

/** Chords moved on by a rest before them; one that the pickup begins with begins with the rest. */
function shifted(harmonies: readonly ReadHarmony[], ticks: number): readonly ReadHarmony[] {
  return harmonies.map((each) => (each.ticks === 0 ? each : { ...each, ticks: each.ticks + ticks }));
}

/**
 * Settles which measures are bars, how long each is and how it counts: a short first measure is a pickup (bar 0),
 * halves of one bar are joined, a bar of another length gets a metre of its own and a warning.
 * @param part the one whose chords are read
 */
export function readBars(part: ReadPart): ReadBars {
  const warnings: Issue[] = [];
  const warn: Warn = (code, args, bar) => warnings.push({ code, args, place: { bar } });
  const bars: ReadBar[] = [];
  let meter: Meter = { count: 4, unit: 4 };
  let firstMeter: Meter | undefined;
  let firstKey: Key | null = null;
  let pickupTicks = 0;
  let startTicks = 0;
  let writtenFifths = 0;
  for (let index = 0; index < part.measures.length; index++) {
    let measure = part.measures[index] as ReadMeasure;
    const isFirst = index === 0;
    const number = bars.length + (pickupTicks > 0 ? 0 : 1);
    if (measure.meter !== null) meter = meterOf(measure.meter, meter, number, warn);
    const barTicks = barTicksOf(meter);
    const following = part.measures[index + 1];
    if (!isFirst && following !== undefined && areHalves(measure, following, barTicks)) {
      measure = joined(measure, following);
      index++;
    }
    const { contentTicks } = measure;
    // a pickup is whole beats long, with a rest before its first note where it has less
    const pickup = Math.ceil(contentTicks / beatTicksOf(meter)) * beatTicksOf(meter);
    const isPickup = isFirst && contentTicks > 0 && pickup < barTicks && following !== undefined;
    if (isPickup) pickupTicks = contentTicks;
    writtenFifths = measure.key?.fifths ?? writtenFifths;
    const transposeFifths = writable(measure.transposeFifths, Math.abs(writtenFifths) > 7 ? 0 : writtenFifths);
    const key = measure.key === null ? null : keyOf(measure.key, transposeFifths, isPickup ? 0 : number, isFirst, warn);
    let ownMeter = meter;
    if (!isPickup && contentTicks > 0 && contentTicks !== barTicks) {
      const other = meterOfLength(contentTicks, meter.unit);
      // the last bar before a repeat, or of the tune, lacks what the pickup has
      const isLast = index === part.measures.length - 1 || measure.form.endsRepeatTimes > 0;
      const isCompletedByPickup = isLast && contentTicks + pickupTicks === barTicks;
      if (other === undefined || isCompletedByPickup) {
        warn('musicxml.bar-rounded', { meter: formatMeter(meter) }, number);
      } else {
        warn('musicxml.bar-length', { beats: formatMeter(other), meter: formatMeter(meter) }, number);
        ownMeter = other;
      }
    }
    firstMeter ??= ownMeter;
    if (isFirst) firstKey = key;
    const durationTicks = isPickup ? pickup : barTicksOf(ownMeter);
    bars.push({
      number: isPickup ? 0 : number,
      meter: ownMeter,
      durationTicks,
      startTicks,
      keyChange: isFirst ? null : key,
      harmonies: isPickup ? shifted(measure.harmonies, pickup - contentTicks) : measure.harmonies,
      form: measure.form,
      noteCount: measure.noteCount,
      transposeFifths,
    });
    startTicks += durationTicks;
  }
  return { bars, key: firstKey, meter: firstMeter ?? meter, warnings };
}
