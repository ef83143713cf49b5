/* oxlint-disable unicorn/no-useless-spread -- rows of a table, several to a line */
/**
 * Hostile inputs of seven kinds: each is made of a seed and a number, given to what reads it, and judged. An input may be refused,
 * in words for a musician; it may never throw, hang, or be half read. Those that once did are in cases.ts.
 */
import {
  barsOf,
  computeLesson,
  DEFAULT_CHOICES,
  barOneSeconds,
  fingeringModel,
  judgeTake,
  reportTake,
  wordsOfFinding,
  ENGINE_VERSION,
  insertBarAfter,
  insertBarBefore,
  appendBar,
  makeLesson,
  parseKey,
  placesOf,
  notePinIssues,
  planPinIssues,
  playProgramme,
  readAround,
  readChart,
  readLessonDocument,
  removeBar,
  setBarChords,
  severityOf,
  slotsKept,
  transposeText,
  usualKeys,
  usualProgramme,
  writeChart,
  writeLessonDocument,
  type Chart,
  type Choices,
  type Issue,
  type Result,
} from '@fivespan/core';
import { readMidiHand, readTakeMidi, writeMidi, writeMidiFingers, writeProgrammeMidi } from '@fivespan/formats/midi';
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
import { readBackup, writeBackup } from '../../apps/web/src/features/backup/backup-document.ts';
import { compare, mergePlan, replacePlan } from '../../apps/web/src/features/backup/restore-plan.ts';
import { chanceOf, type Chance } from './chance.ts';
import { judgeIssues, must } from './judge.ts';
import { damagedBytes, damagedText, TEXT_SCRAPS } from './mutate.ts';
import { anyChart } from './valid-chart.ts';

/** An input: a text, or bytes. */
export type HostileInput = string | Uint8Array;

export interface HostileKind {
  readonly name: string;
  readonly make: (chance: Chance) => HostileInput;
  /** Throws where the input brought about what must not be. @param chance for what else is drawn: a level, a bar, a hand */
  readonly judge: (input: HostileInput, chance: Chance) => void;
}

const KEYS = [...usualKeys('major'), ...usualKeys('minor')];
const latin1 = new TextDecoder('latin1');
const textOf = (input: HostileInput): string => (typeof input === 'string' ? input : latin1.decode(input));
const bytesOf = (input: HostileInput): Uint8Array => (typeof input === 'string' ? strToU8(input) : input);

/** What a result says is judged; its value is handed on. */
function judged<Value>(result: Result<Value>, input: HostileInput): Value | undefined {
  judgeIssues(result.ok ? result.warnings : result.issues, textOf(input));
  must(result.ok || result.issues.length > 0, 'refused without a word');
  return result.ok ? result.value : undefined;
}

const errorsIn = (text: string): readonly Issue[] =>
  readAround(text).issues.filter((issue) => severityOf(issue) === 'error');

/** A chart that is read keeps being one under every edit of its bars, and is the same chart after writing. */
function judgeChart(text: string, chance: Chance): void {
  const { chart, issues } = readAround(text);
  judgeIssues(issues, text);
  const places = placesOf(text);
  judged(readChart(text), text);
  if (chart === null || places.bars.length === 0) {
    appendBar(text, 'C7');
    return;
  }
  const before = barsOf(chart).length;
  must(before === places.bars.length, 'bars and their places differ in number');
  const isSound = errorsIn(text).length === 0;
  const index = chance.upTo(before);
  const insertions = [insertBarAfter, insertBarBefore, (of: string): string => appendBar(of, 'Dm7')];
  const what = chance.upTo(5);
  const edited =
    what < 3
      ? (insertions[what] as typeof insertBarAfter)(text, index, 'Dm7')
      : what === 3
        ? removeBar(text, index)
        : setBarChords(text, index, 'Dm7');
  const after = readAround(edited);
  judgeIssues(after.issues, edited);
  if (isSound) {
    const count = what < 3 ? before + 1 : what === 3 ? Math.max(1, before - 1) : before;
    const bars = after.chart === null ? 0 : barsOf(after.chart).length;
    must(bars === count, `edit ${what} of bar ${index + 1}: ${bars} bars and not ${count}\n${edited}`);
    const wrong = what === 3 ? undefined : errorsIn(edited)[0];
    must(wrong === undefined, `edit ${what} of bar ${index + 1}: ${wrong?.code}\n${edited}`);
    if (after.chart !== null) slotsKept(chart, after.chart);
  }
  if (chance.once(4)) transposeText(text, chance.of(KEYS), chart.key ?? chance.of(KEYS));
  if (isSound) judgeWritten(chart);
}

function judgeWritten(chart: Chart): void {
  const written = writeChart(chart);
  const again = readChart(written);
  must(
    again.ok,
    `written, it is no chart: ${again.ok ? '' : again.issues.map((issue) => issue.code).join()}\n${written}`,
  );
  must(writeChart(again.value) === written, `written twice, it differs\n${written}`);
}

const START_CHARTS: readonly string[] = [
  'title: Tin Kettle\nkey: Eb major\ntempo: 132\n\nA:\n| Fm7 | Bb7 | Ebmaj7 | % |\n| Am7b5 | D7alt | Gm6 | % |\n',
  'key: F minor\nmeter: 3/4\nA:\n|: Fm7 | Gm7b5 C7(b9) / |1. Fm7 | C7 :|2. Fm6 | % ||\nB:\n| Dbmaj7 | Gb7 | Fm9 / Fm7/Eb | N.C. |\n',
  'meter: 4/4\npickup: 1\n| G7 |: Cmaj7 | /&A7 Dm7 / G7 | Em7 A7 | Dm7 G7 :|x3\nkey: A major\n| Amaj7 fine | Bm7 E7 | 3/4 A6 D.C. al fine |\n',
  '| E#7/C# | F#7(b9)/C# | B#7 | Fbmaj7/Cb | Dm7/G |',
];

/** A lesson of a chart that can be read is computed and written, in any key, at any level, for any hand. */
function judgeLesson(text: string, chance: Chance): void {
  const chart = judged(readChart(text), text);
  if (chart === undefined) return;
  const choices: Choices = {
    ...DEFAULT_CHOICES,
    level: chance.of([1, 2, 3] as const),
    seed: chance.upTo(1000),
    hand: chance.of(['small', 'medium', 'large', { spanMm: 150 + chance.upTo(100) }] as const),
  };
  const key = chance.once(3) ? null : chance.of(KEYS);
  // a key of the other mode is refused before it comes here
  const first = computeLesson(chart, choices);
  const own = judged(first, text)?.analysis.key;
  if (own === undefined) return;
  const lesson = key === null || key.mode !== own.mode ? null : key;
  const made = judged(lesson === null ? first : computeLesson(chart, choices, lesson), text);
  if (made === undefined) return;
  must(made.analysis.slots.length > 0, 'no slot');
  must(writeMusicXml(made.score).startsWith('<?xml'), 'no score');
  must(writeMidi(made.score, made.performance)[0] === 0x4d, 'no MIDI file');
  if (chance.once(10)) {
    const played = playProgramme(chart, choices, {
      ...usualProgramme(chart, own),
      choruses: usualProgramme(chart, own).choruses.slice(0, 1),
    });
    must(played !== undefined && writeProgrammeMidi(text.slice(0, 40), played).length > 20, 'nothing is played');
  }
}

function judgeHand(input: HostileInput, chance: Chance): void {
  const side = chance.of(['right', 'left'] as const);
  const part = chance.once(3) ? { part: 1 + chance.upTo(3), staff: 1 + chance.upTo(2) } : {};
  const hand = judged(readScoreHand(bytesOf(input), { side, ...part }), input);
  if (hand === undefined || hand.notes.length > 400) return;
  const line = judged(fingerLine(hand.notes, { side, model: fingeringModel('fivespan', 'medium') }), input);
  if (line !== undefined) must(writeScoreFingers(hand, line.fingers).length > 0, 'an empty copy');
}

function judgeScore(input: HostileInput, chance: Chance): void {
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

function chartOf(text: string): Chart {
  const read = readChart(text);
  if (!read.ok) throw new Error(`${text}: ${read.issues.map((issue) => issue.code).join()}`);
  return read.value;
}

const lazily = <Value>(make: () => Value): (() => Value) => {
  let value: { readonly made: Value } | undefined;
  return () => (value ??= { made: make() }).made;
};

const DEMO_LESSON = lazily(() => makeLesson(chartOf(START_CHARTS[0] as string), DEFAULT_CHOICES));

/** A file taken for a take is judged, whatever it holds, in words for a musician. */
function judgeTakeFile(input: HostileInput): void {
  const take = judged(readTakeMidi(bytesOf(input)), input);
  if (take === undefined || take.notes.length > 2000) return;
  const lesson = DEMO_LESSON();
  const start = barOneSeconds(lesson, 120, { markers: take.markers, countInBars: null });
  const notes = take.notes.map((note) => ({ ...note, startSeconds: note.startSeconds - start }));
  const told = judgeTake(lesson, notes, 120);
  must(told.workOn.length <= 2, 'more than two things to work on');
  const words = told.findings.map((finding) => Object.values(wordsOfFinding(finding, 120)).join(' '));
  const report = JSON.stringify(reportTake({ judged: told, lesson, playedIn: null }, 120));
  must(!/NaN|Infinity|undefined/u.test(`${words.join(' ')}${report}`), 'a figure that is none');
}

const SCORES = lazily((): readonly string[] => {
  const charts = START_CHARTS.map(chartOf);
  const lesson = makeLesson(charts[0] as Chart, DEFAULT_CHOICES);
  return [...charts.map((each) => writeLeadSheet(each)), writeMusicXml(lesson.score, { bars: { from: 0, to: 4 } })];
});

const XML_SCRAPS: readonly string[] = [
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

const MIDIS = lazily((): readonly Uint8Array[] =>
  START_CHARTS.slice(0, 2).map((text) => {
    const lesson = makeLesson(chartOf(text), DEFAULT_CHOICES);
    return writeMidi(lesson.score, lesson.performance).slice(0, 40_000);
  }),
);

/** A hand's track of a few notes, so that most damage hits what is read. */
const SHORT_MIDI = Uint8Array.of(
  ...[0x4d, 0x54, 0x68, 0x64, 0, 0, 0, 6, 0, 1, 0, 1, 1, 0xe0, 0x4d, 0x54, 0x72, 0x6b, 0, 0, 0, 43],
  ...[0, 0xff, 0x51, 3, 7, 0xa1, 0x20, 0, 0xff, 0x58, 4, 4, 2, 24, 8, 0, 0x90, 60, 80, 0, 64, 80, 0x83, 0x60, 60, 0],
  ...[0, 64, 0, 0, 0xff, 0x05, 1, 0x31, 0, 67, 80, 0x83, 0x60, 67, 0, 0, 0xff, 0x2f, 0],
);

const DOCUMENTS = lazily((): readonly string[] =>
  START_CHARTS.map((chartText, index) => {
    const key = parseKey('Ab major') ?? (KEYS[0] as (typeof KEYS)[number]);
    return writeLessonDocument({
      chartText,
      engine: ENGINE_VERSION,
      choices: {
        ...DEFAULT_CHOICES,
        keys: [key],
        hand: index % 2 === 0 ? 'small' : { spanMm: 200 },
        programme: usualProgramme(chartOf(chartText), key),
        phrases: [
          {
            name: 'a line',
            part: 'chorus',
            lengthTicks: 3840,
            chords: [{ onsetTicks: 0, symbol: 'Fm7' }],
            notes: [{ onsetTicks: 480, durationTicks: 960, key: 68 }],
          },
        ],
        pins: {
          analysis: {
            regions: [{ slot: 'b1.1' as never, pass: 1, key }],
            numerals: [{ slot: 'b2.1' as never, pass: 1, numeral: 'V7' }],
          },
          plan: {
            chordScales: [{ slot: 'b1.1' as never, pass: 1, chordScale: 'dorian@1' }],
            positions: [{ slot: 'b1.1' as never, pass: 1, shape: 'minor-pentatonic', thumbMidi: 65 }],
            secondScales: [{ slot: 'b1.1' as never, pass: 1, chordScale: 'lydian@1' }],
          },
          parts: {
            voicings: [
              { slot: 'b1.1' as never, pass: 1, keys: [53, 57, 60, 64] },
              { slot: 'b2.1' as never, pass: 1, keys: [53, 58, 62], own: { over: 'Bb7', left: 3 } },
            ],
            notes: [
              {
                part: 'chorus',
                slot: 'b1.1',
                pass: 1,
                over: 'Fm7',
                notes: [
                  { onsetTicks: 0, durationTicks: 480, key: 68 },
                  { onsetTicks: 480, durationTicks: 960, key: 71 },
                ],
              },
              { part: 'bass', slot: 'b2.1', pass: 1, over: 'Bb7', notes: [] },
            ],
            motives: [
              {
                notes: [
                  { onsetTicks: 0, durationTicks: 320, finger: 1 },
                  { onsetTicks: 320, durationTicks: 320, finger: 5 },
                  { onsetTicks: 640, durationTicks: 320, finger: 2 },
                ],
              },
            ],
          },
        },
      },
    });
  }),
);

const JSON_SCRAPS: readonly string[] = [
  ...TEXT_SCRAPS.slice(0, 20),
  ...[
    'null',
    'true',
    '{}',
    '[]',
    '[[[[[[',
    '1e400',
    '-0',
    '"F major"',
    '"H major"',
    '"C minor"',
    ',',
    ':',
    '"',
    '"__proto__":{"a":1},',
  ],
  ...[
    '"version": 2,',
    '"engine": 99,',
    '"seed": -1,',
    '"level": 4,',
    '"pass": 0,',
    '"keys": ["Eb major","Eb major"],',
    '\\ud800',
    '\\u0000',
    '\ud800',
  ],
];

function judgeDocument(text: string, chance: Chance): void {
  const document = judged(readLessonDocument(text), text);
  if (document === undefined) return;
  const written = writeLessonDocument(document);
  const again = readLessonDocument(written);
  must(again.ok && writeLessonDocument(again.value) === written, 'written, it reads otherwise');
  const { chart, issues } = readAround(document.chartText);
  judgeIssues(issues, text);
  if (chart === null || barsOf(chart).length > 24 || !chance.once(10)) return;
  const lesson = judged(computeLesson(chart, document.choices), text);
  if (lesson === undefined) return;
  judgeIssues(
    planPinIssues(lesson.analysis, document.choices.pins.plan, document.choices.hand, document.choices.pins.analysis),
    text,
  );
  judgeIssues(notePinIssues(lesson.plan, lesson.choices.pins.parts.notes), text);
}

const BACKUPS = lazily((): readonly string[] =>
  writeBackup(
    DOCUMENTS().map((document, index) => ({
      id: `l${index}`,
      title: 'Tin Kettle',
      createdAt: index,
      changedAt: index,
      document,
    })),
  ),
);

function judgeBackup(text: string): void {
  const read = readBackup(text);
  if (read.kind !== 'backup') return;
  const { lessons, unusable } = read.backup;
  must(
    unusable.every(({ title }) => title.length <= 200),
    'a long title',
  );
  for (const { damage } of unusable) if (damage.kind === 'document') judgeIssues(damage.issues, text);
  const here = lessons.slice(0, 1).map((each) => ({ ...each, document: `${each.document} `, revision: 1 }));
  let next = 0;
  const comparison = compare(lessons, here);
  const beside = { freshId: () => `fresh${next++}`, titleOf: (title: string) => `${title} (second)` };
  for (const what of ['keep both', 'take the file’s', 'keep what is here'] as const) {
    const { put } = mergePlan(comparison, what, here, beside);
    for (const { document } of put) must(readLessonDocument(document).ok, 'a lesson to keep that cannot be read back');
  }
  must(replacePlan(lessons, here).put.length <= lessons.length, 'more than there were');
  for (const file of writeBackup(lessons)) must(readBackup(file).kind === 'backup', 'its own backup is damaged');
}

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

function packedScore(chance: Chance): Uint8Array {
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

/** The seven kinds. */
export const HOSTILE_KINDS: readonly HostileKind[] = [
  {
    name: 'chart text',
    make: (chance) => damagedText(chance.once(2) ? chance.of(START_CHARTS) : anyChart(chance), chance),
    judge: (input, chance) => judgeChart(textOf(input), chance),
  },
  {
    name: 'whole lessons',
    make: anyChart,
    judge: (input, chance) => judgeLesson(textOf(input), chance),
  },
  {
    name: 'MusicXML',
    make: (chance) => damagedText(chance.of(SCORES()), chance, XML_SCRAPS),
    judge: judgeScore,
  },
  {
    name: 'mxl',
    make: (chance) => {
      const packed = packedScore(chance);
      return chance.once(2) ? packed : damagedBytes(packed, chance);
    },
    judge: judgeScore,
  },
  {
    name: 'MIDI',
    make: (chance) => damagedBytes(chance.once(10) ? chance.of(MIDIS()) : SHORT_MIDI, chance),
    judge: (input, chance) => {
      const side = chance.of(['right', 'left'] as const);
      const hand = judged(
        readMidiHand(bytesOf(input), { side, ...(chance.once(3) ? { track: 1 + chance.upTo(4) } : {}) }),
        input,
      );
      if (chance.once(8)) judgeTakeFile(input);
      if (hand === undefined || hand.notes.length > 400) return;
      const line = judged(fingerLine(hand.notes, { side, model: fingeringModel('fivespan', 'medium') }), input);
      if (line !== undefined) must(writeMidiFingers(hand, line.fingers).length > 0, 'an empty copy');
    },
  },
  {
    name: 'lesson.json',
    make: (chance) => damagedText(chance.of(DOCUMENTS()), chance, JSON_SCRAPS),
    judge: (input, chance) => judgeDocument(textOf(input), chance),
  },
  {
    name: 'backup',
    make: (chance) => damagedText(chance.of(BACKUPS()), chance, JSON_SCRAPS),
    judge: (input) => judgeBackup(textOf(input)),
  },
];

/** What one input came to: null where all was well. */
export interface Found {
  readonly kind: string;
  readonly number: number;
  readonly input: HostileInput;
  readonly error: Error;
}

/** Longer than this for one input is a hang. */
const LONGEST_MS = 10_000;

/**
 * Judges inputs of one kind, numbered from a first.
 * @param nowMs the clock, for the time budget
 * @returns how many were judged before the budget was spent, and what misbehaved
 */
export function judgeKind(
  kind: HostileKind,
  {
    seed,
    first = 0,
    count,
    budgetMs = Infinity,
  }: { readonly seed: number; readonly first?: number; readonly count: number; readonly budgetMs?: number },
  nowMs: () => number,
): { readonly judged: number; readonly found: readonly Found[] } {
  const found: Found[] = [];
  const start = nowMs();
  let number = first;
  for (; number < first + count && nowMs() - start < budgetMs; number++) {
    const chance = chanceOf(kind.name, seed, number);
    const input = kind.make(chance);
    const before = nowMs();
    try {
      kind.judge(input, chance);
      must(nowMs() - before < LONGEST_MS, `it took ${Math.round(nowMs() - before)} ms`);
    } catch (error) {
      found.push({ kind: kind.name, number, input, error: error as Error });
    }
  }
  return { judged: number - first, found };
}
