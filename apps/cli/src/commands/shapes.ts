import {
  analyse,
  messageOf,
  parseNoteName,
  remedyOf,
  reportOwnShape,
  reportShapes,
  searchShapes,
  shapeDemands,
  shapeFromNotes,
  transposeChart,
  typeset,
  type OwnShapeReport,
  type Shape,
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

/** The player's own shape of `--own`, the thumb's note first; undefined where it is not given. */
function ownShapeOf(call: Call): Shape | undefined {
  const text = textOf(call, 'own');
  if (text === undefined) return undefined;
  const notes = text
    .trim()
    .split(/[\s,]+/u)
    .map((word) => ({ word, note: parseNoteName(word) }));
  const wrong = notes.find(({ note }) => note === undefined);
  if (wrong !== undefined)
    throw new UsageError(`--own takes five notes such as 'D F A C E', and '${wrong.word}' is none`);
  const shape = shapeFromNotes(notes.flatMap(({ note }) => (note === undefined ? [] : [note])));
  if (!shape.ok)
    throw new UsageError(`--own: ${shape.issues.map((issue) => `${messageOf(issue)}; ${remedyOf(issue)}`).join('; ')}`);
  return shape.value;
}

/** How an own shape does over a chord, in a player's words. */
const VERDICTS: Readonly<Record<OwnShapeReport['chords'][number]['verdict'], string>> = {
  covers: 'all of the scale, from these thumbs together',
  serves: 'both guide tones under one hand, not all of the scale',
  inside: 'in the scale, without both guide tones',
  'no place': 'has no place in this scale',
};

function readableOwn(heading: string, { own, chords }: OwnShapeReport): string {
  const rows = chords.map(({ bar, symbol, chordScale, verdict, thumbs }) => [
    String(bar),
    typeset(symbol),
    typeset(chordScale),
    typeset(thumbs.map(({ thumb, reach }) => (reach === 'easy' ? thumb : `${thumb} (${reach})`)).join(' ')) || '–',
    VERDICTS[verdict],
  ]);
  return [
    heading,
    typeset(`${own.name} (${own.steps.join(' ')}; ${own.class})`),
    table([['bar', 'chord', 'chord-scale', 'thumbs', 'what it gives'], ...rows]),
  ].join('\n\n');
}

/** Prints the fewest five-note shapes that serve a whole chart. */
export async function run(call: Call): Promise<ExitCode> {
  const limit = limitOf(call);
  const keys = choiceOf(call, 'rotation', ['all-keys', 'this-key'], 'all-keys') === 'all-keys' ? 'all' : 'this';
  const ownShape = ownShapeOf(call);
  return await answerEach(call, (input) => {
    const { hand, pins } = choicesOf(call, input.choices);
    const own = analyse(input.chart, pins.analysis);
    const key = keyOf(call, own.key.mode);
    const analysis = key === null ? own : analyse(transposeChart(input.chart, key, own.key), pins.analysis);
    if (ownShape !== undefined) {
      const report = reportOwnShape(analysis, ownShape, hand, pins.plan);
      return { json: report, text: readableOwn(headingOf(titleOf(input), analysis), report) };
    }
    const report = reportShapes(
      analysis,
      searchShapes(shapeDemands(analysis, undefined, pins.plan), { hand, keys, limit }),
    );
    return { json: report, text: readable(headingOf(titleOf(input), analysis), report) };
  });
}
