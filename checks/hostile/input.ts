/** What hostile inputs are made of and how what is read from them is judged, whatever their kind. */
import { readChart, usualKeys, type Chart, type Result } from '@fivespan/core';
import { strToU8 } from 'fflate';
import { judgeIssues, must } from './judge.ts';

/** An input: a text, or bytes. */
export type HostileInput = string | Uint8Array;

export const KEYS = [...usualKeys('major'), ...usualKeys('minor')];
const latin1 = new TextDecoder('latin1');
export const textOf = (input: HostileInput): string => (typeof input === 'string' ? input : latin1.decode(input));
export const bytesOf = (input: HostileInput): Uint8Array => (typeof input === 'string' ? strToU8(input) : input);

/** What a result says is judged; its value is handed on. */
export function judged<Value>(result: Result<Value>, input: HostileInput): Value | undefined {
  judgeIssues(result.ok ? result.warnings : result.issues, textOf(input));
  must(result.ok || result.issues.length > 0, 'refused without a word');
  return result.ok ? result.value : undefined;
}

export const START_CHARTS: readonly string[] = [
  'title: Tin Kettle\nkey: Eb major\ntempo: 132\n\nA:\n| Fm7 | Bb7 | Ebmaj7 | % |\n| Am7b5 | D7alt | Gm6 | % |\n',
  'key: F minor\nmeter: 3/4\nA:\n|: Fm7 | Gm7b5 C7(b9) / |1. Fm7 | C7 :|2. Fm6 | % ||\nB:\n| Dbmaj7 | Gb7 | Fm9 / Fm7/Eb | N.C. |\n',
  'meter: 4/4\npickup: 1\n| G7 |: Cmaj7 | /&A7 Dm7 / G7 | Em7 A7 | Dm7 G7 :|x3\nkey: A major\n| Amaj7 fine | Bm7 E7 | 3/4 A6 D.C. al fine |\n',
  '| E#7/C# | F#7(b9)/C# | B#7 | Fbmaj7/Cb | Dm7/G |',
];

export function chartOf(text: string): Chart {
  const read = readChart(text);
  if (!read.ok) throw new Error(`${text}: ${read.issues.map((issue) => issue.code).join()}`);
  return read.value;
}

export const lazily = <Value>(make: () => Value): (() => Value) => {
  let value: { readonly made: Value } | undefined;
  return () => (value ??= { made: make() }).made;
};
