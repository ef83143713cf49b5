import { strToU8 } from 'fflate';
import { zipOf } from '@fivespan/formats/musicxml';
import type { HostileInput } from './input.ts';

/** An input that once misbehaved, with what it did; the judge of its kind must find nothing in it any more. */
export interface HostileCase {
  readonly kind: string;
  readonly did: string;
  readonly input: HostileInput;
}

const NOTE = '<note><pitch><step>C</step><octave>4</octave></pitch><duration>4</duration></note>';
const score = (measure: string): string =>
  `<?xml version="1.0"?><score-partwise><part-list><score-part id="P1"><part-name>A</part-name></score-part></part-list><part id="P1"><measure number="1">${measure}</measure></part></score-partwise>`;

/** Every crash found, kept. A new one is a row. */
export const HOSTILE_CASES: readonly HostileCase[] = [
  {
    kind: 'whole lessons',
    did: 'threw: a ninth with three accidentals in a voicing under an outside line',
    input: 'meter: 5/4\nfeel: even\n\nA:\n|: Eb7(b9) | B#maj7/E# :|\n\nB:\n|: F7alt | D6sus/B :| x2\n',
  },
  { kind: 'whole lessons', did: 'threw: a scale note with three accidentals under a bass', input: '| E#7/C# |' },
  { kind: 'whole lessons', did: 'threw in some of twelve keys', input: 'key: C major\n| F#7(b9)/C# | Cmaj7 |' },
  { kind: 'whole lessons', did: 'threw: a bass with three flats in another key', input: '| E#+7/Ebb | B#7/Fbb |' },
  {
    kind: 'whole lessons',
    did: 'threw: a chromatic neighbour beside a double flat',
    input: 'meter: 5/4\n| Bm7b5 | Dbm7b5 |\n|: Eb7sus/D :| x3',
  },
  {
    kind: 'whole lessons',
    did: 'threw: the dominant of the bass has three accidentals',
    input: '| C | C/B## | G7/B## |',
  },
  { kind: 'chart text', did: 'recursed for ever', input: '| Eb♭7 |' },
  { kind: 'chart text', did: 'recursed for ever', input: '| C#♯ |' },
  { kind: 'chart text', did: 'recursed for ever', input: '| C | H♭b7 | D♭b♭b |' },
  { kind: 'chart text', did: 'told a terminal to clear itself', input: '| Fm7\u001b[2J | B\ud83d7 |\nkey\u0000: C' },
  {
    kind: 'chart text',
    did: 'a bar inserted at a last ending parted it from the one before',
    input: '|: Fm7 |1. Bb7 :|2. Ebmaj7 || Cm7 |',
  },
  { kind: 'chart text', did: 'a bar appended made an empty one', input: '| Dbmaj7/G || |\n' },
  {
    kind: 'chart text',
    did: 'a bar appended came before a bar line that stood alone, which closed it as a repeat',
    input: '|: Gb7sus | F#m7b5 | Gdim7 :|\n:|\n',
  },
  {
    kind: 'chart text',
    did: 'a bar appended came before a second end of the repeat, which had nothing to end',
    input: 'A:\n|: E#7sus | Bdim7 :|\n\nB:\n|: N.C. | Am7b5 :| :|',
  },
  { kind: 'chart text', did: 'a title was cut inside a character', input: `title: ${'a'.repeat(199)}👍\n| Fm7 |` },
  { kind: 'MusicXML', did: 'a pitch was told as octave NaN', input: score(NOTE.replace('>4</octave>', '>x</octave>')) },
  {
    kind: 'MusicXML',
    did: 'a title was cut inside a character',
    input: score(NOTE).replace('<part-list>', `<movement-title>${'a'.repeat(199)}👍</movement-title><part-list>`),
  },
  { kind: 'MusicXML', did: 'said undefined', input: score('&x;') },
  {
    kind: 'mxl',
    did: 'its entries came out in another order, or not at all',
    input: zipOf(
      [
        ['mimetype', strToU8('application/vnd.recordare.musicxml')],
        ['1', strToU8('<x/>')],
        ['__proto__', strToU8(score(NOTE))],
        [
          'META-INF/container.xml',
          strToU8('<container><rootfiles><rootfile full-path="__proto__"/></rootfiles></container>'),
        ],
      ],
      (name) => name === 'mimetype',
    ),
  },
  {
    kind: 'lesson.json',
    did: "said 'Invalid integer: Received Infinity'",
    input: '{"version": 1, "engine": 1e999, "chart": "", "choices": {}}',
  },
  { kind: 'lesson.json', did: 'was of version Infinity', input: '{"version": 1e999}' },
  { kind: 'lesson.json', did: 'a list nested without end', input: '['.repeat(50_000) },
];
