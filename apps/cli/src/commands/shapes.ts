import {
  analyse,
  reportShapes,
  searchShapes,
  shapeDemands,
  transposeChart,
  typeset,
  type ShapesReport,
} from '@fivespan/core';
import { UsageError, type Call, type ExitCode } from '../command.ts';
import { answerEach } from '../each-input.ts';
import { headingOf } from '../heading.ts';
import { titleOf } from '../input.ts';
import { choiceOf, choicesOf, keyOf, textOf } from '../options.ts';
import { table } from '../table.ts';

const MOST_ANSWERS = 50;

function limitOf(call: Call): number {
  const text = textOf(call, 'answers') ?? '3';
  const limit = Number(text);
  if (!/^\d+$/u.test(text) || limit < 1 || limit > MOST_ANSWERS) {
    throw new UsageError(`--answers takes a whole number from 1 to ${MOST_ANSWERS}, not '${text}'`);
  }
  return limit;
}

function answerText({ shapes, chords, positions, outOfReach, nearLimit }: ShapesReport['answers'][number]): string {
  const rows = chords.map(({ symbol, chordScale, shape, thumbs, complete }) => [
    `  ${typeset(symbol)}`,
    typeset(chordScale),
    shape === null ? 'no five-note shape serves it' : typeset(`${shapes[shape]?.name}: thumbs ${thumbs.join(' ')}`),
    shape === null || complete ? '' : 'serves, does not cover',
  ]);
  const reach = [
    ...(outOfReach > 0 ? [`${outOfReach} positions (over all keys asked for) lie out of this hand's reach`] : []),
    ...(nearLimit > 0 ? [`${nearLimit} lie near its limit: play them seldom and never with strain`] : []),
  ];
  return [
    shapes.map(({ name, steps, class: forte }) => typeset(`${name} (${steps.join(' ')}; ${forte})`)).join(' and '),
    table(rows),
    `  ${positions} ${positions === 1 ? 'position does' : 'positions do'} it at the least${reach.length > 0 ? `; ${reach.join('; ')}` : ''}`,
  ].join('\n');
}

function readable(heading: string, { answers }: ShapesReport): string {
  const [first] = answers;
  if (first === undefined) return `${heading}\n\nThere is no chord here for a hand to play.`;
  const proof = first.searched.sizes.map(
    ({ size, nodes, covers }) =>
      `${size} ${size === 1 ? 'class' : 'classes'}: ${nodes} choices looked at, ${covers} do`,
  );
  return [
    heading,
    ...answers.map((answer, index) => `${index + 1}. ${answerText(answer)}`),
    `Searched all ${first.searched.classes} classes of five notes. ${proof.join('; ')}.`,
  ].join('\n\n');
}

/** Prints the fewest five-note shapes that serve a whole chart. */
export async function run(call: Call): Promise<ExitCode> {
  const limit = limitOf(call);
  const keys = choiceOf(call, 'rotation', ['all-keys', 'this-key'], 'all-keys') === 'all-keys' ? 'all' : 'this';
  return await answerEach(call, (input) => {
    const { hand, pins } = choicesOf(call, input.choices);
    const own = analyse(input.chart, pins.analysis);
    const key = keyOf(call, own.key.mode);
    const analysis = key === null ? own : analyse(transposeChart(input.chart, key, own.key), pins.analysis);
    const report = reportShapes(
      analysis,
      searchShapes(shapeDemands(analysis, undefined, pins.plan), { hand, keys, limit }),
    );
    return { json: report, text: readable(headingOf(titleOf(input), analysis), report) };
  });
}
