/**
 * One chorus each of real recordings with their key, as plain data (../shared/data/jaah; its README has authors and
 * licence: for measuring only). Its way of writing is turned into ours here; nothing of it is part of the product.
 */
import { parseKey, readChart, type Chart, type Key } from '@fivespan/core';
import { openDataLines } from './open-data.ts';

interface Recording {
  readonly name: string;
  readonly key: string | null;
  readonly metre: string;
  readonly parts: readonly (readonly [part: string, lines: readonly string[]])[];
}

export interface LabelledTune {
  readonly name: string;
  readonly key: Key;
  readonly chart: Chart;
}

/** Labels that the data's README names as doubtful. */
export const DOUBTFUL_LABELS: ReadonlySet<string> = new Set([
  'in_a_mellotone',
  'daahoud',
  'i_found_a_new_baby',
  'everybody_loves_my_baby',
  'django',
  'i_cant_believe_you_are_in_love_with_me',
  'st_louis_blues',
]);

const KINDS: Readonly<Record<string, string>> = {
  '': '',
  maj: '',
  '7': '7',
  min7: 'm7',
  maj6: '6',
  maj7: 'maj7',
  min: 'm',
  dim7: 'dim7',
  hdim7: 'm7b5',
  min6: 'm6',
  '9': '9',
  maj9: 'maj9',
  min9: 'm9',
  dim: 'dim',
  aug: '+',
  minmaj7: 'm(maj7)',
};

/** A list of degrees as our suffix. */
function suffixOfDegrees(text: string): string {
  const all = text.split(',');
  const has = (each: string): boolean => all.includes(each);
  if (has('b3')) return has('11') ? 'm11' : 'm7';
  if (has('4')) return '13sus';
  if (has('7')) return has('#11') ? 'maj7(#11)' : 'maj9';
  if (!has('b7')) return has('#5') ? '+' : has('6') && has('9') ? '6/9' : '6';
  const altered = all.filter((each) => ['b5', '#5', 'b9', '#9', '#11', 'b13', '9', '13'].includes(each));
  const order = ['b5', '#5', 'b9', '9', '#9', '#11', 'b13', '13'];
  const list = altered.sort((a, b) => order.indexOf(a) - order.indexOf(b));
  return `7${list.length === 0 ? '' : `(${list.join(',')})`}`;
}

const LETTERS = 'CDEFGAB';
const SEMITONES = [0, 2, 4, 5, 7, 9, 11];

/** The note a degree above a root, spelled by its letter. */
function bassOn(root: string, degree: string): string {
  const number = Number(degree.replaceAll(/[b#]/gu, '')) - 1;
  const shift = (text: string): number => text.split('#').length - text.split('b').length;
  const from = LETTERS.indexOf(root[0] as string);
  const letter = (from + number) % 7;
  const goal = (SEMITONES[from] as number) + shift(root) + (SEMITONES[number % 7] as number) + shift(degree);
  const off = ((((goal - (SEMITONES[letter] as number)) % 12) + 18) % 12) - 6;
  return (LETTERS[letter] as string) + (off < 0 ? 'b'.repeat(-off) : '#'.repeat(off));
}

function ourSymbol(theirs: string): string {
  if (theirs === 'N') return 'N.C.';
  const [, root = '', kind = '', bass] = /^([A-G][b#]*)(?::([^/]*))?(?:\/(.*))?$/u.exec(theirs) ?? [];
  const degrees = /^\((.*)\)$/u.exec(kind)?.[1];
  const suffix = degrees === undefined ? (KINDS[kind.replace(/:.*/u, '')] ?? '') : suffixOfDegrees(degrees);
  return root + suffix + (bass === undefined ? '' : `/${bassOn(root, bass)}`);
}

function chartOf({ metre, parts }: Recording): Chart | undefined {
  const beats = Number(metre.split('/')[0]);
  const bars = parts.flatMap(([, lines]) =>
    lines.map((line) =>
      line
        .trim()
        .replaceAll(/^\||\|$/gu, '')
        .split('|')
        .map((bar) => {
          const chords = bar.trim().split(/\s+/u).map(ourSymbol);
          if (chords.length === 1) return chords[0] as string;
          const cells = Array.from({ length: beats }, (_, beat) => {
            const at = Math.floor((beat * chords.length) / beats);
            const before = beat === 0 ? -1 : Math.floor(((beat - 1) * chords.length) / beats);
            return at === before ? '/' : (chords[at] as string);
          });
          return cells.join(' ');
        })
        .join(' | '),
    ),
  );
  const read = readChart(`meter: ${metre}\n\nA:\n${bars.map((line) => `| ${line} |`).join('\n')}\n`);
  return read.ok ? read.value : undefined;
}

const recordings = openDataLines('jaah', 'charts.jsonl') as readonly Recording[] | null;

/** All recordings with a major or minor key and a chart that reads, or null where the open data is not on this machine. */
export const jaahTunes: readonly LabelledTune[] | null =
  recordings?.flatMap((recording): LabelledTune[] => {
    const key = recording.key === null ? undefined : parseKey(recording.key);
    const chart = chartOf(recording);
    return key === undefined || chart === undefined ? [] : [{ name: recording.name, key, chart }];
  }) ?? null;
