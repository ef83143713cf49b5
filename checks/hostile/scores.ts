/* oxlint-disable unicorn/no-useless-spread -- rows of a table, several to a line */
/** MusicXML, as it is and packed. */
import { barsOf, computeLesson, DEFAULT_CHOICES, fingeringModel, makeLesson, type Chart } from '@fivespan/core';
import {
  fingerLine,
  readMusicXml,
  readScoreHand,
  writeLeadSheet,
  writeMusicXml,
  writeScoreFingers,
  zipOf,
} from '@fivespan/formats/musicxml';
import { strToU8 } from 'fflate';
import { type Chance } from './chance.ts';
import { must } from './judge.ts';
import { damagedText } from './mutate.ts';
import { judgeWritten } from './charts.ts';
import { bytesOf, chartOf, judged, lazily, START_CHARTS, type HostileInput } from './input.ts';

function judgeHand(input: HostileInput, chance: Chance): void {
  const side = chance.of(['right', 'left'] as const);
  const part = chance.once(3) ? { part: 1 + chance.upTo(3), staff: 1 + chance.upTo(2) } : {};
  const hand = judged(readScoreHand(bytesOf(input), { side, ...part }), input);
  if (hand === undefined || hand.notes.length > 400) return;
  const line = judged(fingerLine(hand.notes, { side, model: fingeringModel('fivespan', 'medium') }), input);
  if (line !== undefined) must(writeScoreFingers(hand, line.fingers).length > 0, 'an empty copy');
}

export function judgeScore(input: HostileInput, chance: Chance): void {
  const chart = judged(readMusicXml(bytesOf(input)), input);
  if (chart !== undefined) {
    // a score without chord symbols gives an empty chart, and says so
    if (barsOf(chart).length > 0) judgeWritten(chart);
    if (barsOf(chart).length > 0 && barsOf(chart).length <= 16 && chance.once(20))
      judged(computeLesson(chart, DEFAULT_CHOICES), input);
    writeLeadSheet(chart);
  }
  if (chance.once(3)) judgeHand(input, chance);
}

export const SCORES = lazily((): readonly string[] => {
  const charts = START_CHARTS.map(chartOf);
  const lesson = makeLesson(charts[0] as Chart, DEFAULT_CHOICES);
  return [...charts.map((each) => writeLeadSheet(each)), writeMusicXml(lesson.score, { bars: { from: 0, to: 4 } })];
});

export const XML_SCRAPS: readonly string[] = [
  ...[
    '<chord/>',
    '<harmony/>',
    '<root><root-step>H</root-step></root>',
    '<root-alter>9</root-alter>',
    '<kind>major</kind>',
  ],
  ...[
    '<bass><bass-step>B</bass-step><bass-alter>2</bass-alter></bass>',
    '<inversion>7</inversion>',
    '<fifths>99</fifths>',
  ],
  ...[
    '<divisions>0</divisions>',
    '<divisions>-4</divisions>',
    '<duration>1e9</duration>',
    '<backup><duration>99</duration></backup>',
  ],
  ...[
    '<beats>0</beats>',
    '<beats>3+2</beats>',
    '<beat-type>0</beat-type>',
    '<octave>NaN</octave>',
    '<octave>99</octave>',
    '<step>H</step>',
  ],
  ...[
    '<repeat direction="backward"/>',
    '<repeat direction="forward"/>',
    '<ending number="1" type="start"/>',
    '<ending number="9,x" type="stop"/>',
  ],
  ...[
    '<sound tempo="NaN"/>',
    '<sound dacapo="yes"/>',
    '<measure>',
    '</measure>',
    '<note>',
    '</note>',
    '<part id="P1">',
    '</part>',
    '&#0;',
    '&x;',
  ],
  ...[
    '<![CDATA[',
    '<!--',
    '<!DOCTYPE x [<!ENTITY a "b">]>',
    ' number="',
    'implicit="yes"',
    '<fingering>6</fingering>',
    '<staff>99</staff>',
    '<words>\u001b[2J</words>',
  ],
  ...[
    '<movement-title>',
    '\ud83d',
    'E♭',
    '<rehearsal>:|</rehearsal>',
    '<tie type="start"/>',
    '<grace/>',
    '<alter>0.5</alter>',
    '<alter>1e9</alter>',
  ],
];

const ENTRY_NAMES = [
  'score.xml',
  'a/b.musicxml',
  '__proto__',
  'constructor',
  '1',
  '0',
  '../../up.xml',
  'META-INF/container.xml',
  'mimetype',
  '',
  'é.xml',
  'toString',
];

export function packedScore(chance: Chance): Uint8Array {
  const score = chance.once(3) ? damagedText(chance.of(SCORES()), chance, XML_SCRAPS) : chance.of(SCORES());
  const name = chance.once(2) ? 'score.xml' : chance.of(ENTRY_NAMES);
  const container = `<?xml version="1.0"?><container><rootfiles><rootfile full-path="${name}"/></rootfiles></container>`;
  const entries: [string, Uint8Array][] = [
    ['mimetype', strToU8('application/vnd.recordare.musicxml')],
    ['META-INF/container.xml', strToU8(chance.once(6) ? damagedText(container, chance, XML_SCRAPS) : container)],
    [name, strToU8(score)],
    ...Array.from({ length: chance.upTo(3) }, (): [string, Uint8Array] => [chance.of(ENTRY_NAMES), strToU8('<x/>')]),
  ];
  return zipOf(entries, () => chance.once(2));
}
