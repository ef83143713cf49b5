import { cutText } from '../plain-text.ts';
import { formatKey } from '../theory/index.ts';
import { formatJump } from './bar-directions.ts';
import { LONGEST_NAME } from './chart-heading.ts';
import { isHeaderName } from './chart-line.ts';
import { barsOf, type Bar, type Chart, type Slot } from './chart.ts';
import { barTicksOf, beatTicksOf, formatMeter, type Meter } from './meter.ts';

const BARS_IN_LINE = 4;

/** Into how many parts a beat may be cut; the first that fits is written. */
const PARTS_OF_BEAT = [1, 2, 3, 4, 6, 8, 12];

/** One line of text, without what would end a name or open a bar. */
function plainName(text: string): string {
  return cutText(text.replaceAll(/[\s:|]+/gu, ' ').trim(), LONGEST_NAME).trim();
}

/** A section's name as the text can say it: not empty, and no heading's. */
export function sectionName(name: string): string {
  const plain = plainName(name).replace(/^#+\s*/u, '');
  return plain === '' || isHeaderName(plain.toLowerCase()) ? `${plain} part`.trim() : plain;
}

/** One beat: the chords that begin in it, `/` where one goes on. */
function beatText(slots: readonly Slot[], startTicks: number, beatTicks: number): string {
  const within = slots.filter((slot) => slot.startTicks >= startTicks && slot.startTicks < startTicks + beatTicks);
  const parts = PARTS_OF_BEAT.find(
    (each) =>
      beatTicks % each === 0 && within.every((slot) => (slot.startTicks - startTicks) % (beatTicks / each) === 0),
  );
  if (parts === undefined) throw new RangeError('slots must begin on a half, third, quarter … twelfth of a beat');
  return Array.from({ length: parts }, (_, part) => {
    const at = startTicks + (part * beatTicks) / parts;
    return within.find((slot) => slot.startTicks === at)?.chord.symbol ?? '/';
  }).join('&');
}

/** What a bar holds, as it is written: `Fm7 / / Bb7`. */
export function chordsText(bar: Bar): string {
  const beatTicks = beatTicksOf(bar.meter);
  const [first] = bar.slots;
  const isShared =
    first !== undefined &&
    first.durationTicks % beatTicks === 0 &&
    bar.slots.every((slot) => slot.durationTicks === first.durationTicks);
  if (isShared) return bar.slots.map((slot) => slot.chord.symbol).join(' ');
  const beats: string[] = [];
  for (let at = 0; at < bar.durationTicks; at += beatTicks) beats.push(beatText(bar.slots, at, beatTicks));
  return beats.join(' ');
}

const sameMeter = (a: Meter, b: Meter): boolean => a.count === b.count && a.unit === b.unit;

function hasSameChords(a: Bar, b: Bar): boolean {
  return (
    a.durationTicks === b.durationTicks &&
    a.slots.length === b.slots.length &&
    a.slots.every((slot, index) => {
      const other = b.slots[index] as Slot;
      return slot.startTicks === other.startTicks && slot.chord.symbol === other.chord.symbol;
    })
  );
}

function barText(bar: Bar, before: Bar | undefined, meter: Meter): string {
  const words: string[] = [];
  if (bar.startsEnding) words.push(`${bar.endings.join('.')}.`);
  if (!sameMeter(bar.meter, before?.meter ?? meter)) words.push(formatMeter(bar.meter));
  if (bar.marks.segno) words.push('segno');
  if (bar.marks.coda) words.push('coda');
  words.push(before !== undefined && hasSameChords(bar, before) ? '%' : chordsText(bar));
  if (bar.marks.toCoda) words.push('to coda');
  if (bar.marks.fine) words.push('fine');
  if (bar.jump !== null) words.push(formatJump(bar.jump));
  return words.join(' ');
}

/** The bar line after a bar. */
function closingLine(bar: Bar, next: Bar | undefined): string {
  if (bar.endsRepeatTimes > 0) {
    const isCounted = bar.endings.length === 0 && bar.endsRepeatTimes !== 2;
    return isCounted ? `:|x${bar.endsRepeatTimes}` : ':|';
  }
  const closesEnding = bar.endings.length > 0 && next !== undefined && next.endings.length === 0;
  return closesEnding && !next.startsRepeat ? '||' : '|';
}

/**
 * A chart as text, one way: headings, sections, four bars a line. Reading it gives the same chart again.
 * @throws RangeError where a slot begins on no half, third, quarter … twelfth of a beat, or a bar is no whole number of
 * beats long; readChart gives no such chart.
 * @example writeChart(chart) // → 'title: …\nkey: Eb major\nmeter: 4/4\n…'
 */
export function writeChart(chart: Chart): string {
  const bars = barsOf(chart);
  const [first] = bars;
  const heading: string[] = [];
  const title = cutText(chart.title.replaceAll(/\s+/gu, ' ').trim(), LONGEST_NAME).trim();
  if (title !== '') heading.push(`title: ${title}`);
  // a key written at the first bar is the chart's
  const key = chart.key ?? first?.keyChange ?? null;
  if (key !== null) heading.push(`key: ${formatKey(key)}`);
  heading.push(`meter: ${formatMeter(chart.meter)}`);
  if (chart.tempoBpm !== null) heading.push(`tempo: ${chart.tempoBpm}`);
  heading.push(`feel: ${chart.feel}`);
  if (first?.number === 0) heading.push(`pickup: ${first.durationTicks / beatTicksOf(first.meter)}`);

  const blocks = [heading.join('\n')];
  let index = 0;
  for (const section of chart.sections) {
    const lines: string[] = section.name === null ? [] : [`${sectionName(section.name)}:`];
    let line = '';
    let inLine = 0;
    const endLine = (): void => {
      if (line !== '') lines.push(line);
      line = '';
      inLine = 0;
    };
    for (const bar of section.bars) {
      const before = bars[index - 1];
      const isWhole = bar.durationTicks % beatTicksOf(bar.meter) === 0;
      if (!isWhole || bar.durationTicks > barTicksOf(bar.meter)) {
        throw new RangeError(`bar ${bar.number} must last a whole number of beats, at most its metre's`);
      }
      if (bar.keyChange !== null && before !== undefined) {
        endLine();
        lines.push(`key: ${formatKey(bar.keyChange)}`);
      } else if (inLine >= BARS_IN_LINE) {
        endLine();
      }
      if (line === '') line = bar.startsRepeat ? '|:' : '|';
      else if (bar.startsRepeat) line = line.endsWith(' |') ? `${line}:` : `${line} |:`;
      line += ` ${barText(bar, before, chart.meter)} ${closingLine(bar, bars[index + 1])}`;
      inLine++;
      index++;
    }
    endLine();
    blocks.push(lines.join('\n'));
  }
  return `${blocks.join('\n\n')}\n`;
}
