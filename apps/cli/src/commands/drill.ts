import {
  DRILL_KINDS,
  DRILL_WORDS,
  DRILLS,
  formatKey,
  formatNoteName,
  formatPitch,
  groundOf,
  KEY_ROUNDS,
  keysRound,
  listenForOf,
  makeDrill,
  reportDrill,
  typeset,
  wordsOfLimit,
  wordsOfPassage,
  type Choices,
  type Drill,
  type DrillInKey,
  type DrillKindId,
  type DrillOrder,
  type Key,
  type PartNote,
  type TempiAsked,
  FASTEST_BPM,
  parseKey,
  SLOWEST_BPM,
} from '@fivespan/core';
import { EXIT, UsageError, type Call, type ExitCode } from '../command.ts';
import { writeDrill, drillFileKind } from '../drill/drill-file.ts';
import { computed } from '../fault.ts';
import { headingOf } from '../heading.ts';
import { lineOfIssue, readInput, reportIssue, titleOf, type FaultyInput, type Input } from '../input.ts';
import { pinIssuesOf } from '../lesson/lesson-of.ts';
import { choiceOf, choicesOf, keysOf, textOf } from '../options.ts';
import { shownLines } from '../shown.ts';
import { table } from '../table.ts';

function kindOf(call: Call): DrillKindId {
  const text = textOf(call, 'kind');
  if (text === undefined) throw new UsageError('--kind is missing; fivespan drill --list names the kinds');
  const kind = DRILL_KINDS.find((each) => each === text);
  if (kind === undefined) throw new UsageError(`--kind takes ${DRILL_KINDS.join(', ')}, not '${text}'`);
  return kind;
}

/** Bars as on paper: `5-8`, or one. */
function barsOfCall(call: Call): DrillOrder['bars'] {
  const text = textOf(call, 'bars');
  if (text === undefined) return null;
  const [, from = '', to = from] = /^\s*(\d{1,5})\s*(?:[-–]\s*(\d{1,5})\s*)?$/u.exec(text) ?? [];
  if (from === '' || Number(from) < 1 || Number(to) < Number(from)) {
    throw new UsageError(`--bars takes bars as counted on paper, such as 5-8 or 5, not '${text}'`);
  }
  return { from: Number(from), to: Number(to) };
}

function tempoIn(word: string, text: string): number {
  const tempo = Number(word);
  if (!/^\s*\d+\s*$/u.test(word) || tempo < SLOWEST_BPM || tempo > FASTEST_BPM) {
    throw new UsageError(
      `--tempo takes beats a minute from ${SLOWEST_BPM} to ${FASTEST_BPM}: 80-120, or every step with commas, not '${text}'`,
    );
  }
  return tempo;
}

function tempiOf(call: Call): TempiAsked | null {
  const text = textOf(call, 'tempo');
  if (text === undefined) return null;
  const ends = text.split(/[-–]/u);
  if (ends.length !== 2) return { steps: text.split(',').map((word) => tempoIn(word, text)) };
  const [fromBpm, toBpm] = ends.map((word) => tempoIn(word, text)) as [number, number];
  if (fromBpm > toBpm) throw new UsageError(`--tempo goes up, from the slower to the faster one, not '${text}'`);
  return { fromBpm, toBpm };
}

/** A round has so many keys. */
const MOST_KEYS = 12;

/** All twelve round a cycle, keys by name, or the chart's own; only the first of them where so many are asked for. */
function drillKeys(call: Call, own: Key, { seed, keys }: Choices): readonly Key[] {
  const text = textOf(call, 'keys')?.trim();
  const round = KEY_ROUNDS.find((each) => each.replaceAll(' ', '-') === text);
  const isKeys =
    text === undefined || text === 'all' || text.split(',').every((word) => parseKey(word.trim()) !== undefined);
  if (round === undefined && !isKeys) {
    const rounds = KEY_ROUNDS.map((each) => each.replaceAll(' ', '-')).join(', ');
    throw new UsageError(`--keys takes ${rounds}, all, or keys with commas such as Eb,F, not '${text}'`);
  }
  const all =
    round === undefined ? keysOf(call, own.mode, keys.length > 0 ? keys : [own]) : keysRound(own, round, seed);
  const count = textOf(call, 'key-count');
  if (count === undefined) return all;
  if (!/^\d{1,2}$/u.test(count) || Number(count) < 1 || Number(count) > MOST_KEYS) {
    throw new UsageError(`--key-count takes a whole number from 1 to ${MOST_KEYS}, not '${count}'`);
  }
  return all.slice(0, Number(count));
}

/** The phrase that is kept in every key, by its name. */
function phraseOfCall(call: Call, kind: DrillKindId): string | undefined {
  const text = textOf(call, 'phrase');
  if (text !== undefined && kind !== 'same-line') {
    throw new UsageError(`--phrase goes with --kind same-line, which keeps a line in every key, not with ${kind}`);
  }
  return text;
}

/** Notes of one bar as a line: two struck at once are joined, a rest is a dash. */
function line(notes: readonly (PartNote & { readonly finger?: number })[], startTicks: number): string {
  let now = startTicks;
  let struck = Number.NaN;
  const words: string[] = [];
  for (const note of notes) {
    const word = typeset(formatPitch(note.pitch)) + (note.finger === undefined ? '' : `·${note.finger}`);
    if (note.startTicks === struck) words.push(`${words.pop() ?? ''}+${word}`);
    else words.push(...(note.startTicks > now ? ['–'] : []), word);
    struck = note.startTicks;
    now = note.startTicks + note.durationTicks;
  }
  return words.join(' ');
}

function readableKey({ key, lesson, passages }: DrillInKey, kind: DrillKindId): string {
  const { leftHand, inPositions } = DRILLS[kind];
  const { analysis, plan, chorus, bass } = lesson;
  const rows = analysis.form.bars.map(({ bar, startTicks }) => {
    const within = (note: PartNote): boolean =>
      note.startTicks >= startTicks && note.startTicks < startTicks + bar.durationTicks;
    const slots = plan.slots.filter(({ analysed }) => analysed.played.playedBar.startTicks === startTicks);
    const passage = passages.find(({ fromBar, toBar }) => bar.number >= fromBar && bar.number <= toBar);
    // where the hand is, from note to note; where it rests, where it waits
    const held = chorus.filter(within).map(({ position }) => position);
    const thumbs = (held.length > 0 ? held : slots.map(({ position }) => position))
      .map((position) => (position === null ? '–' : formatNoteName(position.thumb)))
      .filter((thumb, index, all) => thumb !== all[index - 1]);
    return [
      String(bar.number),
      typeset(bar.slots.map((slot) => slot.chord.symbol).join(' ')),
      ...(inPositions ? [typeset(thumbs.join(' '))] : []),
      passage === undefined || passage.fromBar !== bar.number ? '' : wordsOfPassage(passage.label),
      line(chorus.filter(within), startTicks) || '–',
      ...(leftHand === 'none' ? [] : [line(bass.filter(within), startTicks)]),
    ];
  });
  const head = [
    'bar',
    'chords',
    ...(inPositions ? ['thumb'] : []),
    'what',
    'right hand: note·finger, – rests',
    ...(leftHand === 'none' ? [] : ['left hand']),
  ];
  return `${typeset(formatKey(key))}\n${table([head, ...rows])}`;
}

/** A drill as a player reads it at the desk. */
function readable(title: string, drill: Drill, input: Input, choices: Choices): string {
  const { order, keys, ladder } = drill;
  const { name, sentence } = DRILL_WORDS[order.kind];
  const { bars } = order;
  const which = bars === null ? '' : bars.from === bars.to ? `, bar ${bars.from}` : `, bars ${bars.from}–${bars.to}`;
  const limit =
    ladder.because === null
      ? ''
      : ` (${wordsOfLimit(ladder.because, typeset(ladder.because.args['key'] ?? ''))}: ${ladder.limitBpm} at most)`;
  return [
    headingOf(title, groundOf(input.chart, choices, null).analysis),
    [
      `${name}${order.phrase === undefined ? '' : ` ‘${order.phrase}’`}${which}: ${keys.length} ${keys.length === 1 ? 'key' : 'keys'}`,
      sentence,
      `Listen for: ${listenForOf(drill).join(' ')}`,
      `Tempi: ${ladder.tempi.join(', ')} beats a minute${limit}.`,
      'Rest five minutes in every half hour; stop if anything hurts.',
    ].join('\n'),
    ...keys.map((each) => readableKey(each, order.kind)),
  ].join('\n\n');
}

function tell({ file, issues }: FaultyInput, asJson: boolean): ExitCode {
  if (asJson) process.stdout.write(`${JSON.stringify({ version: 1, file, issues: issues.map(reportIssue) })}\n`);
  else process.stderr.write(issues.map((issue) => `${lineOfIssue(file, issue)}\n`).join(''));
  return EXIT.faults;
}

function list(call: Call): ExitCode {
  if (call.operands.length > 0) throw new UsageError('--list takes no chart');
  process.stdout.write(DRILL_KINDS.map((kind) => `${kind}  ${DRILL_WORDS[kind].sentence}\n`).join(''));
  return EXIT.done;
}

/** Prints a drill, or writes it. */
export async function run(call: Call): Promise<ExitCode> {
  if (call.options['list'] === true) return list(call);
  const asJson = call.options['json'] === true;
  const [operand, ...more] = call.operands;
  if (operand === undefined || more.length > 0) throw new UsageError('takes one chart');
  const kind = kindOf(call);
  const bars = barsOfCall(call);
  const tempi = tempiOf(call);
  const out = textOf(call, 'out');
  const fileKind = out === undefined ? null : drillFileKind(out);
  const phrase = phraseOfCall(call, kind);
  const paper = choiceOf(call, 'paper', ['a4', 'letter'], 'a4');

  const input = await readInput(operand);
  if ('issues' in input) return tell(input, asJson);
  // --kind is that of the drill here, which has no voicings of its own
  const choices = choicesOf({ ...call, options: { ...call.options, kind: undefined } }, input.choices);
  const warnings = [...input.warnings];
  const made = computed(input.chart, (chart) => {
    warnings.push(...pinIssuesOf({ ...input, chart }, choices));
    const own = groundOf(chart, choices, null).analysis.key;
    const keys = drillKeys(call, own, choices);
    return makeDrill(chart, choices, { kind, bars, keys, tempi, ...(phrase === undefined ? {} : { phrase }) });
  });
  if (!made.ok) return tell({ file: input.file, issues: made.issues }, asJson);
  for (const warning of warnings) process.stderr.write(`${lineOfIssue(input.file, warning)}\n`);
  const drill = made.value;
  if (!drill.ok) return tell({ file: input.file, issues: drill.issues }, asJson);
  const title = titleOf(input);
  if (out !== undefined && fileKind !== null) {
    const { chart } = input;
    return await writeDrill({ drill: drill.value, chart, choices, title, operand, out, kind: fileKind, paper }, asJson);
  }
  if (asJson) process.stdout.write(`${JSON.stringify(reportDrill(drill.value))}\n`);
  else process.stdout.write(`${shownLines(readable(title, drill.value, input, choices))}\n`);
  return EXIT.done;
}
