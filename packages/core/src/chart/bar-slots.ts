import type { IssueArgs, IssueCode, Result } from '../issue/index.ts';
import { NO_CHORD, type ChordSymbol } from '../theory/index.ts';
import type { Cell } from './bar-text.ts';

/** A chord's stretch of a bar, before it has an id. */
export interface Stretch {
  readonly startTicks: number;
  durationTicks: number;
  readonly chord: ChordSymbol;
}

/** A fault in a bar: its code, and where it stands in the line. */
export interface CellFault {
  readonly code: IssueCode;
  readonly args: IssueArgs;
  readonly start: number;
}

/** The shortest part a beat is cut into: twelve chords in a beat serve triplets, sixteenths and both at once. */
const MOST_PARTS = 12;

/** A chord to read, or null for `/`: what stands before goes on. */
type Part = Cell | null;

function partsOf(cell: Cell): Part[] {
  let start = cell.start;
  return cell.text.split('&').map((text) => {
    const part: Part = text === '/' ? null : { text, start };
    start += text.length + 1;
    return part;
  });
}

/**
 * Shares a bar among its chords. Without `/` and `&` they share it evenly, on whole beats; with one of them every cell
 * is one beat, and chords of one beat are joined with `&`.
 * @param before the chord that goes on into the bar, null at the chart's start
 * @param readSymbol readChordSymbol, or one that remembers what it has read
 * @returns stretches that fill the bar also where there are faults: nobody plays where a symbol is not understood, and
 * chords that do not share the bar lie as the example of the message has them
 */
export function stretchesOf(
  cells: readonly Cell[],
  bar: { readonly durationTicks: number; readonly beatTicks: number; readonly start: number },
  before: ChordSymbol | null,
  readSymbol: (text: string) => Result<ChordSymbol>,
): { readonly stretches: readonly Stretch[]; readonly faults: readonly CellFault[] } {
  const { durationTicks, beatTicks } = bar;
  const beats = durationTicks / beatTicks;
  const faults: CellFault[] = [];
  const stretches: Stretch[] = [];
  const isByBeat = cells.some((cell) => cell.text === '/' || cell.text.includes('&'));

  const read = (part: Cell): ChordSymbol => {
    const chord = readSymbol(part.text);
    if (chord.ok) return chord.value;
    for (const { code, args, place } of chord.issues) {
      faults.push({ code, args, start: part.start + (place.column ?? 1) - 1 });
    }
    return NO_CHORD;
  };
  const put = (part: Part, startTicks: number, ticks: number, cell: Cell): void => {
    const last = stretches.at(-1);
    if (part !== null) {
      stretches.push({ startTicks, durationTicks: ticks, chord: read(part) });
    } else if (last !== undefined) {
      last.durationTicks += ticks;
    } else if (before !== null) {
      stretches.push({ startTicks, durationTicks: ticks, chord: before });
    } else if (faults.length === 0) {
      faults.push({ code: 'chart.nothing-before', args: { cell: '/' }, start: cell.start });
    }
  };

  if (!isByBeat) {
    const isShared = beats >= cells.length && beats % cells.length === 0;
    const ticks = isShared ? durationTicks / cells.length : beatTicks;
    for (const [index, cell] of cells.entries()) {
      // unevenly, the first has what the others leave: exampleOf
      const late = isShared || index === 0 ? 0 : Math.max(0, beats - cells.length);
      put(cell, (late + index) * ticks, ticks, cell);
    }
    // a symbol that is not understood may be the reason for a wrong count: one fault at a time
    if (faults.length === 0 && !isShared) {
      faults.push({
        code: cells.length > beats ? 'chart.cells' : 'chart.split',
        args: { chords: cells.length, cells: cells.length, beats, example: exampleOf(cells, beats) },
        start: bar.start,
      });
    }
    return { stretches: faults.length > 0 ? filled(stretches, durationTicks) : stretches, faults };
  }

  for (const [index, cell] of cells.entries()) {
    const parts = partsOf(cell);
    const ticks = beatTicks / parts.length;
    const isWhole = Number.isInteger(ticks) && parts.length <= MOST_PARTS;
    if (
      !isWhole ||
      parts.some((part) => part?.text === '') ||
      (parts.length > 1 && parts.every((part) => part === null))
    ) {
      faults.push({ code: 'chart.off-beat', args: { cell: cell.text }, start: cell.start });
      continue;
    }
    for (const [place, part] of parts.entries()) put(part, index * beatTicks + place * ticks, ticks, cell);
  }
  if (faults.length === 0 && cells.length !== beats) {
    faults.push({ code: 'chart.cells', args: { cells: cells.length, beats }, start: bar.start });
  }
  return { stretches: faults.length > 0 ? filled(stretches, durationTicks) : stretches, faults };
}

/** A bar nobody plays in. */
export function emptyStretches(durationTicks: number): Stretch[] {
  return [{ startTicks: 0, durationTicks, chord: NO_CHORD }];
}

/** Stretches that fill a bar: each goes on to the next, nobody plays before the first, none begins after its end. */
function filled(stretches: readonly Stretch[], durationTicks: number): Stretch[] {
  const within = stretches.filter((stretch) => stretch.startTicks < durationTicks);
  if (within[0]?.startTicks !== 0) within.unshift(...emptyStretches(durationTicks));
  return within.map((stretch, index) => ({
    ...stretch,
    durationTicks: (within[index + 1]?.startTicks ?? durationTicks) - stretch.startTicks,
  }));
}

/** The bar by beats, the first chord as long as can be: `Fm7 / Bb7 Ebmaj7`. */
function exampleOf(cells: readonly Cell[], beats: number): string {
  const [first, ...rest] = cells.map((cell) => cell.text);
  return [first, ...Array.from({ length: Math.max(0, beats - cells.length) }, () => '/'), ...rest].join(' ');
}
