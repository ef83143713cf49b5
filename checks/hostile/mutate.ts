/* oxlint-disable unicorn/no-useless-spread -- rows of a table, several to a line */
import type { Chance } from './chance.ts';

/** What is put into texts that people type: signs of the chart, doubled signs, numbers out of range, what breaks terminals and pages. */
export const TEXT_SCRAPS: readonly string[] = [
  ...[
    '|',
    '||',
    '|:',
    ':|',
    ':| x2',
    ':|x33',
    '1.',
    '2.',
    '1.2.',
    '3.',
    '[',
    ']',
    '%',
    '/',
    '/&',
    '&',
    ':',
    '\n',
    '\r\n',
    '\r',
  ],
  ...[
    'b',
    '#',
    '♭',
    '♯',
    'bb',
    'b♭',
    '#♯',
    '♭b',
    '𝄫',
    '𝄪',
    'H',
    'h',
    'Fb',
    'E#',
    'B#',
    'Cb',
    'Eb♭7',
    'C#♯',
    'E#7/C#',
    '/B##',
  ],
  ...[
    'N.C.',
    'D.C.',
    'D.S. al Coda',
    'Fine',
    'Segno',
    'To Coda',
    'x2',
    '𝄎',
    '(',
    ')',
    'alt',
    'sus',
    'maj',
    'Δ',
    'ø',
    '°',
  ],
  ...[
    'title:',
    'key:',
    'key: Q',
    'meter: 7/8',
    'meter: 0/4',
    'tempo: 1e9',
    'tempo: -1',
    'pickup: 1',
    'pickup: 99',
    'A:',
  ],
  ...[
    'NaN',
    'Infinity',
    '-1',
    '1e999',
    '99999999999999999999',
    '0',
    '\0',
    '\u001b[2J',
    '\u202e',
    '\ud83d',
    '\udc4d',
    '👍',
    '\ufeff',
  ],
  ...['<script>', '&amp;', '"', '\\', '__proto__', 'constructor', ' '.repeat(50), 'é'.normalize('NFD'), '\u2028'],
];

/** A text a little or much damaged: pieces cut, doubled, swapped, others put in, ends lost. */
export function damagedText(text: string, chance: Chance, scraps: readonly string[] = TEXT_SCRAPS): string {
  let damaged = text;
  for (let count = 1 + chance.upTo(4); count > 0; count--) {
    const at = chance.upTo(damaged.length + 1);
    const length = chance.upTo(chance.once(4) ? 200 : 6);
    switch (chance.upTo(8)) {
      case 0:
        damaged = damaged.slice(0, at) + damaged.slice(at + length);
        break;
      case 1:
        damaged = damaged.slice(0, at) + damaged.slice(at, at + length) + damaged.slice(at);
        break;
      case 2: {
        const from = chance.upTo(damaged.length + 1);
        damaged = damaged.slice(0, at) + damaged.slice(from, from + length) + damaged.slice(at);
        break;
      }
      case 3:
        if (chance.once(4)) damaged = damaged.slice(0, at);
        break;
      case 4: {
        const numbers = [...damaged.matchAll(/-?\d+(?:\.\d+)?/gu)];
        const number = numbers[chance.upTo(numbers.length + 1)];
        if (number === undefined) break;
        const other = chance.of(['0', '-1', '7', '33', '255', '1e9', '1e400', '0.5', '2147483648', 'NaN', '', '007']);
        damaged = damaged.slice(0, number.index) + other + damaged.slice(number.index + number[0].length);
        break;
      }
      case 5:
        damaged = damaged.slice(0, at) + String.fromCharCode(chance.upTo(0xffff)) + damaged.slice(at + 1);
        break;
      default:
        damaged = damaged.slice(0, at) + chance.of(scraps) + damaged.slice(chance.once(2) ? at : at + length);
    }
  }
  return damaged;
}

/** Bytes a little or much damaged. */
export function damagedBytes(bytes: Uint8Array, chance: Chance): Uint8Array {
  let damaged = Array.from(bytes);
  for (let count = 1 + chance.upTo(6); count > 0; count--) {
    const at = chance.upTo(damaged.length + 1);
    const length = chance.upTo(chance.once(4) ? 64 : 4);
    switch (chance.upTo(7)) {
      case 0:
        damaged.splice(at, length);
        break;
      case 1:
        damaged.splice(at, 0, ...damaged.slice(at, at + length));
        break;
      case 2:
        if (chance.once(4)) damaged = damaged.slice(0, at);
        break;
      case 3:
        damaged[at] = chance.of([0, 1, 0x7f, 0x80, 0xff, 0xfe, 0x40, 0x2f, 0x51, 0x58]);
        break;
      case 4:
        damaged[at] = (damaged[at] ?? 0) ^ (1 << chance.upTo(8));
        break;
      default:
        damaged[at] = chance.upTo(256);
    }
  }
  return Uint8Array.from(damaged);
}
