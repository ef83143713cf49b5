import { nearestOf } from '../edit-distance.ts';
import type { Cell } from './bar-text.ts';
import type { Jump } from './chart.ts';
import { readMeter, type Meter } from './meter.ts';

export type MarkName = 'segno' | 'coda' | 'fine' | 'to coda';

/** The directions of a bar, apart from its chords. */
export interface Directions {
  readonly ending: { readonly numbers: readonly number[]; readonly cell: Cell } | null;
  readonly meter: { readonly meter: Meter; readonly cell: Cell } | null;
  /** `last` is the last word of those it is written with: `coda` of `to coda`. */
  readonly marks: readonly { readonly mark: MarkName; readonly cell: Cell; readonly last: Cell }[];
  readonly jumps: readonly { readonly jump: Jump; readonly cell: Cell; readonly last: Cell }[];
  /** What is left: chords, beats, `%`. */
  readonly cells: readonly Cell[];
  readonly faults: readonly DirectionFault[];
}

export interface DirectionFault {
  readonly code: 'chart.words' | 'chart.meter' | 'chart.ending-number';
  readonly args: Readonly<Record<string, string>>;
  readonly cell: Cell;
}

/** An ending's numbers before its chords: `1.` `1.2.` `1.-3.` `1,2.`, the first chord perhaps without a space. */
const ENDING = /^([1-9](?:[.,\s]*[,.–-]\s*[1-9])*\.)(?=$|[A-G%/NSF𝄋𝄌])/u;
const METER = /^\d{1,3}\/\d{1,3}$/u;

/** Single words that are directions. Common practice. */
const MARK_WORDS: Readonly<Record<string, MarkName>> = {
  segno: 'segno',
  '𝄋': 'segno',
  coda: 'coda',
  '𝄌': 'coda',
  fine: 'fine',
};

/** Directions as they are written; a mistyped one is compared with them. */
const WRITTEN = ['segno', 'coda', 'to coda', 'fine', 'D.C.', 'D.C. al fine', 'D.C. al coda'].concat([
  'D.S.',
  'D.S. al fine',
  'D.S. al coda',
]);

/** The numbers of an ending's text; undefined where it names none from 1 to 4. */
function endingNumbers(text: string): number[] | undefined {
  const numbers: number[] = [];
  for (const [, from = '', , to] of text.matchAll(/(\d)(?:[.,\s]*([–-])\s*(\d))?/gu)) {
    for (let each = Number(from); each <= Number(to ?? from); each++) numbers.push(each);
  }
  return numbers.length > 0 && numbers.every((each) => each <= 4) && new Set(numbers).size === numbers.length
    ? numbers
    : undefined;
}

/** Reads a bar's directions off its cells. */
export function directionsOf(barCells: readonly Cell[]): Directions {
  const cells = [...barCells];
  const faults: DirectionFault[] = [];
  const marks: Directions['marks'][number][] = [];
  const jumps: Directions['jumps'][number][] = [];
  let ending: Directions['ending'] = null;
  let meter: Directions['meter'] = null;

  const first = cells[0];
  const numbered = first === undefined ? null : ENDING.exec(first.text);
  if (first !== undefined && numbered !== null) {
    const text = numbered[0];
    const numbers = endingNumbers(text);
    if (numbers === undefined) faults.push({ code: 'chart.ending-number', args: { text }, cell: first });
    else ending = { numbers, cell: { text, start: first.start } };
    const rest = first.text.slice(text.length);
    if (rest === '') cells.shift();
    else cells[0] = { text: rest, start: first.start + text.length };
  }

  const left: Cell[] = [];
  for (let index = 0; index < cells.length; index++) {
    const cell = cells[index] as Cell;
    const word = cell.text.toLowerCase();
    const next = cells[index + 1]?.text.toLowerCase();
    const mark = Object.hasOwn(MARK_WORDS, word) ? MARK_WORDS[word] : undefined;
    const jump = /^d\.?([cs])\.?$/u.exec(word);
    if (METER.test(word)) {
      const read = readMeter(word);
      if (read === undefined || left.length > 0) {
        faults.push({ code: 'chart.meter', args: { value: cell.text }, cell });
      } else {
        meter = { meter: read, cell };
      }
    } else if (mark !== undefined) {
      marks.push({ mark, cell, last: cell });
    } else if (word === 'to' && (next === 'coda' || next === '𝄌')) {
      marks.push({ mark: 'to coda', cell, last: cells[index + 1] as Cell });
      index++;
    } else if (jump !== null) {
      const kind = jump[1] === 'c' ? 'da capo' : 'dal segno';
      if (next === 'al') {
        const target = cells[index + 2]?.text.toLowerCase() ?? '';
        const until = target === 'fine' ? 'fine' : target === 'coda' || target === '𝄌' ? 'coda' : null;
        if (until === null) {
          const words = `${cell.text} al ${cells[index + 2]?.text ?? ''}`.trim();
          faults.push({ code: 'chart.words', args: { words, nearest: `${formatJumpKind(kind)} al fine` }, cell });
        } else {
          jumps.push({ jump: { kind, until }, cell, last: cells[index + 2] as Cell });
        }
        index += 2;
      } else {
        jumps.push({ jump: { kind, until: 'end' }, cell, last: cell });
      }
    } else if (/^(?:to|al|seg|segn[oa]|cod[ae]|fin[ae]?|end|d\.[a-z]\.?)$/u.test(word)) {
      faults.push({ code: 'chart.words', args: { words: cell.text, nearest: nearestOf(word, WRITTEN) ?? '' }, cell });
    } else {
      left.push(cell);
    }
  }
  return { ending, meter, marks, jumps, cells: left, faults };
}

function formatJumpKind(kind: Jump['kind']): string {
  return kind === 'da capo' ? 'D.C.' : 'D.S.';
}

/** A jump as it is written: `D.S. al coda`. */
export function formatJump(jump: Jump): string {
  return formatJumpKind(jump.kind) + (jump.until === 'end' ? '' : ` al ${jump.until}`);
}
