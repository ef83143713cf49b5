import { basename } from 'node:path';
import {
  barOneSeconds,
  barsInWords,
  formatKey,
  formatNoteName,
  isTempoStated,
  judgeAsPlayed,
  onFoundBeats,
  PRAISE_WORDS,
  reportTake,
  typeset,
  wordsOfFinding,
  type TakeAsPlayed,
  type Issue,
  type JudgedTake,
  type Lesson,
} from '@fivespan/core';
import type { MidiTake } from '@fivespan/formats/midi';
import { EXIT, UsageError, type Call, type ExitCode } from '../command.ts';
import { computed } from '../fault.ts';
import { lineOfIssue, readInput, reportIssue, titleOf, type Input } from '../input.ts';
import { lessonOf } from '../lesson/lesson-of.ts';
import { choicesOf, textOf } from '../options.ts';
import { table } from '../table.ts';
import { countInOption, readTake, tempoOf, tempoOption } from '../take/read-take.ts';

interface Answer {
  readonly heard: TakeAsPlayed;
  /** The lesson as it was asked for. */
  readonly asked: Lesson;
  readonly tempoBpm: number;
  /** How sure the beats are that were found where nobody states a tempo; null where it is stated. */
  readonly beatsSure: number | null;
}

/** The beats of a take that states neither its tempo nor its beginning. */
function foundBeats(call: Call, lesson: Lesson, { notes, quartersAMinute, markers }: MidiTake) {
  const isToldWhere = markers.length > 0 || countInOption(call) !== null;
  if (isToldWhere || tempoOption(call) !== null || isTempoStated(quartersAMinute)) return null;
  return onFoundBeats(lesson, notes, lesson.score.tempoBpm);
}

function answer(call: Call, input: Input, take: MidiTake): Answer {
  const lesson = lessonOf(call, input);
  const found = foundBeats(call, lesson, take);
  const tempoBpm = found?.tempoBpm ?? tempoOf(call, take, lesson);
  const start = barOneSeconds(lesson, tempoBpm, { markers: take.markers, countInBars: countInOption(call) });
  const notes = found?.notes ?? take.notes.map((note) => ({ ...note, startSeconds: note.startSeconds - start }));
  // a chart says nothing of the level, a lesson file and the options do
  const anyLevel = input.kind !== 'lesson' && ['level', 'curve'].every((each) => textOf(call, each) === undefined);
  const asked = {
    chart: input.chart,
    choices: choicesOf(call, input.choices),
    lesson,
    tempoBpm,
    isToClick: found === null,
    anyLevel,
  };
  return { heard: judgeAsPlayed(asked, notes), asked: lesson, tempoBpm, beatsSure: found?.sure ?? null };
}

/** How a hand met the line that the lesson has for it; empty where it played another. */
function lineText({ judged }: TakeAsPlayed): string[] {
  return (['right', 'left'] as const).flatMap((hand) => {
    const { own } = judged[hand];
    if (own === null) return [];
    const { written, matched, missed, extra } = own;
    const bars = [...new Set(missed.map(({ bar }) => bar))].sort((a, b) => a - b);
    const where = bars.length === 0 ? '' : `, missed in ${barsInWords(bars)}`;
    const more = extra.length === 0 ? '' : `; ${extra.length} that ${extra.length === 1 ? 'is' : 'are'} not written`;
    const what = hand === 'right' ? "the lesson's own chorus" : "the lesson's own bass";
    return [`The ${hand} hand played ${what}: ${matched} of ${written} notes${where}${more}.`];
  });
}

/** What it was judged by, where that is not what was asked for. */
function groundText({ heard: { lesson, playedIn }, asked, beatsSure }: Answer): string[] {
  const [heard, wanted] = [lesson, asked].map(({ analysis }) => typeset(formatKey(analysis.key)));
  const { level } = lesson.choices;
  return [
    ...(beatsSure === null
      ? []
      : [
          `No tempo is stated, so its own beats were found${beatsSure < 0.6 ? ', not surely' : ''}: early and late are not told without a click.`,
        ]),
    ...(playedIn === null ? [] : [`It was played in ${heard}; asked for was ${wanted}. It is heard in ${heard}.`]),
    ...(level === asked.choices.level ? [] : [`It is heard as a lesson of level ${level}, whose rows it took.`]),
  ];
}

/** Positions over a chord as one reads them: the likeliest, a sign where it is not the lesson's. */
function thumbsText({ slots }: JudgedTake['bars'][number]): string {
  const words = slots.map(({ positions, kind }) => {
    const [first] = positions;
    if (kind === 'outside') return '?';
    if (first?.position == null) return '–';
    return `${typeset(formatNoteName(first.position.thumb))}${kind === 'other move' ? '*' : ''}`;
  });
  return words.length === 0 ? '–' : words.join(' ');
}

function strip(judged: JudgedTake): string {
  const rows = judged.bars.map((bar) => [
    `${bar.bar.number}${judged.course.choruses > 1 ? ` (${bar.bar.chorus})` : ''}`,
    typeset(bar.bar.slots.map(({ planned }) => planned.analysed.played.slot.chord.symbol).join(' ')),
    thumbsText(bar),
    bar.hanging === 0 ? '' : `${bar.hanging}`,
    bar.lateMs === null ? '' : bar.lateMs > 0 ? `+${bar.lateMs}` : `${bar.lateMs}`,
    bar.swing === null ? '' : bar.swing.toFixed(1),
  ]);
  return table([['bar', 'chords', 'thumb', 'hanging', 'ms late', 'swing'], ...rows]);
}

function readable(title: string, file: string, answered: Answer): string {
  const { heard, tempoBpm } = answered;
  const { judged } = heard;
  const { wentWell, workOn, findings } = judged;
  const well = wentWell.slice(0, 3).map((code) => `  ${PRAISE_WORDS[code]}`);
  const work = workOn.flatMap((finding, index) => {
    const { heard, step } = wordsOfFinding(finding, tempoBpm);
    return [`  ${index + 1}. ${heard}`, `     ${step}`];
  });
  const seen = findings.filter(({ code }) => code === 'position.other-move');
  const tooLittle = judged.right.notes + judged.left.notes < 12;
  return [
    `${basename(file)} · ${title} · ${Math.round(tempoBpm)} a minute · ${judged.right.notes} notes right, ${judged.left.notes} left`,
    ...groundText(answered),
    ...(tooLittle ? ['There is too little in it to say much.'] : []),
    ...(well.length === 0 ? [] : [`What went well:\n${well.join('\n')}`]),
    work.length === 0 ? 'Nothing found to work on.' : `To work on:\n${work.join('\n')}`,
    ...(seen.length === 0 ? [] : [seen.map((each) => wordsOfFinding(each, tempoBpm).heard).join('\n')]),
    ...lineText(heard),
    strip(judged),
    'A * marks another row of the family than the lesson has there, a ? a place outside it. These are no marks.',
  ].join('\n\n');
}

function tellFaults(call: Call, file: string, issues: readonly Issue[]): ExitCode {
  if (call.options['json'] === true) {
    process.stdout.write(`${JSON.stringify({ version: 1, file, issues: issues.map(reportIssue) })}\n`);
  } else process.stderr.write(issues.map((issue) => `${lineOfIssue(file, issue)}\n`).join(''));
  return EXIT.faults;
}

/** Says what a recorded take shows, against the lesson of a chart. */
export async function run(call: Call): Promise<ExitCode> {
  const [file, ...more] = call.operands;
  if (file === undefined || more.length > 0) throw new UsageError('takes one MIDI file');
  const chart = textOf(call, 'chart');
  if (chart === undefined) throw new UsageError('--chart CHART is missing: the chart or lesson file that was played');
  const input = await readInput(chart);
  if ('issues' in input) return tellFaults(call, input.file, input.issues);
  for (const warning of input.warnings) process.stderr.write(`${lineOfIssue(input.file, warning)}\n`);
  const take = await readTake(file);
  if (!take.ok) return tellFaults(call, file, take.issues);
  const made = computed(input.chart, (tried) => answer(call, { ...input, chart: tried }, take.value));
  if (!made.ok) return tellFaults(call, chart, made.issues);
  if (take.value.changesTempo && tempoOption(call) === null) {
    const tempo = Math.round(made.value.tempoBpm);
    process.stderr.write(`${lineOfIssue(file, { code: 'take.tempi', args: { tempo }, place: {} })}\n`);
  }
  const { heard, tempoBpm, beatsSure } = made.value;
  process.stdout.write(
    call.options['json'] === true
      ? `${JSON.stringify(reportTake(heard, tempoBpm, beatsSure))}\n`
      : `${readable(titleOf(input), file, made.value)}\n`,
  );
  return EXIT.done;
}
