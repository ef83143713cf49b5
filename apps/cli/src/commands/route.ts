import { findRoute, reportRoute, routeOptionsOf, typeset, type RouteReport } from '@fivespan/core';
import type { Call, ExitCode } from '../command.ts';
import { answerEach } from '../each-input.ts';
import { headingOf } from '../heading.ts';
import { titleOf } from '../input.ts';
import { lessonOf, pinIssuesOf } from '../lesson/lesson-of.ts';
import { choiceOf, choicesOf } from '../options.ts';
import { table } from '../table.ts';

/** A family's move in a player's words; the smaller way up or down. */
const MOVES: readonly string[] = [
  'stays',
  'up a half step',
  'up a whole step',
  'up a minor third',
  'up a major third',
  'up a fourth',
  'up a tritone',
  'up a fifth',
  'down a major third',
  'down a minor third',
  'down a whole step',
  'down a half step',
];

/** What is said where a position strains this hand. Source: BAPAM's advice to musicians (breaks, no pain, a specialist). */
const CAUTION =
  'Where it says so, a position lies near the limit of this hand or beyond: play it seldom, take breaks, stop if it hurts, and see a clinician if it comes back.';

function row(step: RouteReport['steps'][number], index: number): string[] {
  const move = step.familyMoveSemitones;
  return [
    String(step.bar),
    String(step.beat),
    typeset(step.symbol),
    typeset(`${step.chordScale.root} ${step.chordScale.name}`) + (step.inside ? '' : ' (outside)'),
    typeset(step.shape),
    index === 0 ? 'begins' : move === null ? 'another shape' : (MOVES[move] as string),
    typeset(step.thumb),
    step.notes.map((note, finger) => `${finger + 1} ${typeset(note)}`).join('  '),
    `${Math.round(step.travelMm)} mm`,
    step.reach === 'easy' ? '' : step.reach,
  ];
}

function readable(heading: string, { steps, totalTravelMm, searched }: RouteReport): string {
  const head = ['bar', 'beat', 'chord', 'chord-scale', 'shape', 'the family', 'thumb', 'fingers', 'thumb travels', ''];
  return [
    heading,
    table([head, ...steps.map(row)]),
    `The thumb travels ${Math.round(totalTravelMm)} mm in all; ${searched} ways from one position to the next were compared, none is cheaper.`,
    ...(steps.some(({ reach }) => reach !== 'easy') ? [CAUTION] : []),
  ].join('\n\n');
}

/** Prints which position the hand takes when. */
export async function run(call: Call): Promise<ExitCode> {
  const every = choiceOf(call, 'move-every', ['chord', 'half-bar'], 'chord') === 'chord' ? 'chord' : 'half bar';
  return await answerEach(call, (input) => {
    const { analysis, choices } = lessonOf(call, input);
    const warnings = pinIssuesOf(input, choicesOf(call, input.choices));
    const { hand, pins } = choices;
    const report = reportRoute(analysis, findRoute(analysis, routeOptionsOf(analysis, choices, pins), every), hand);
    return { json: report, text: readable(headingOf(titleOf(input), analysis), report), warnings };
  });
}
