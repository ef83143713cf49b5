import { severityOf, type Issue } from '../issue/index.ts';
import {
  LONGEST_CHART_CHARACTERS,
  MOST_CHART_BARS,
  MOST_REPEAT_TIMES,
  readText,
  type DraftBar,
  type TextReading,
} from './chart-reading.ts';
import { plainStructureOf, soundStructureOf, structureOf, type BarStructure } from './chart-structure.ts';
import type { Bar, BarId, Chart, Section, SlotId } from './chart.ts';
import { formLengthOf, LONGEST_FORM_BARS } from './form/unfold.ts';

function finishBar(draft: DraftBar, index: number, structure: BarStructure): Bar {
  const id = `b${index + 1}`;
  return {
    id: id as BarId,
    number: draft.number,
    meter: draft.meter,
    keyChange: draft.keyChange,
    durationTicks: draft.durationTicks,
    slots: draft.stretches.map((stretch, slot) => ({ id: `${id}.${slot + 1}` as SlotId, ...stretch })),
    ...structure,
  };
}

function finishChart(reading: TextReading, structure: readonly BarStructure[]): Chart {
  let index = 0;
  const sections: Section[] = reading.sections.map((section, place) => ({
    id: `s${place + 1}`,
    name: section.name,
    bars: section.bars.map((bar) => finishBar(bar, index, structure[index++] as BarStructure)),
  }));
  const { title, key, meter, tempoBpm, feel } = reading.heading;
  return { title, key, meter, tempoBpm, feel, sections };
}

const tooLarge: Issue = { code: 'chart.too-large', args: { limit: LONGEST_CHART_CHARACTERS }, place: {} };
const tooManyBarsAt = (line: number): Issue => ({
  code: 'chart.too-many-bars',
  args: { limit: MOST_CHART_BARS },
  place: { line },
});
const formTooLong: Issue = { code: 'chart.form-too-long', args: { limit: LONGEST_FORM_BARS }, place: {} };

/** A text as far as it can be read, with everything that is wrong with it. */
export interface ChartSoFar {
  /** Null where nothing can be read, or the text is longer than any chart. Bars and slots have the ids they will have once the text is right. */
  readonly chart: Chart | null;
  /** In the text's order: what is wrong; where nothing is, what is odd. */
  readonly issues: readonly Issue[];
}

/**
 * Reads a chart while it is being written: what is wrong is reported, the rest goes on working. Nobody plays where a
 * symbol is not understood; signs of repeats and jumps that do not fit are left out; a heading that is not understood
 * is as if it were not there. The chart can be unfolded, as one from readChart can. Any text gives an answer: a fault
 * of our own is reported at its line, so that nobody's text is lost to it.
 * @example readAround('Fm7 | Bbx | Ebmaj7').chart // → three bars, the second N.C.
 */
export function readAround(text: string): ChartSoFar {
  try {
    return readAsFar(text);
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    return { chart: null, issues: [{ code: 'chart.not-read', args: { reason }, place: { line: lineAtFault(text) } }] };
  }
}

/** The first line with which reading fails, found by halving. */
function lineAtFault(text: string): number {
  const lines = text.split('\n');
  let sound = 0;
  let faulty = lines.length;
  while (faulty - sound > 1) {
    const middle = Math.floor((sound + faulty) / 2);
    try {
      readAsFar(lines.slice(0, middle).join('\n'));
      sound = middle;
    } catch {
      faulty = middle;
    }
  }
  return faulty;
}

function readAsFar(text: string): ChartSoFar {
  if (text.length > LONGEST_CHART_CHARACTERS) return { chart: null, issues: [tooLarge] };
  const reading = readText(text);
  if (reading.bars.length === 0) return { chart: null, issues: reading.issues.sorted() };
  // no chart, and nothing else is said of it
  if (reading.cutAtLine !== null) return { chart: null, issues: [tooManyBarsAt(reading.cutAtLine)] };
  const structure = structureOf(reading.bars, reading.issues);
  const issues = reading.issues.sorted();
  const errors = issues.filter((issue) => severityOf(issue) === 'error');
  const chart = finishChart(
    reading,
    errors.length === 0 ? structure : soundStructureOf(reading.bars, MOST_REPEAT_TIMES),
  );
  if (formLengthOf(chart) > LONGEST_FORM_BARS) {
    return { chart: finishChart(reading, plainStructureOf(reading.bars)), issues: [...errors, formTooLong] };
  }
  // what is odd about a chart is reported once it can be read: until then it may follow from an error
  return { chart, issues: errors.length === 0 ? issues : errors };
}
