import {
  analyse,
  familiesOf,
  formatKey,
  formatNoteName,
  NO_ANALYSIS_PINS,
  chordsAsWritten,
  reportAnalysis,
  transposeChart,
  typeset,
  type Analysis,
  type AnalysedSlot,
  type ChordScale,
} from '@fivespan/core';
import type { Call, ExitCode } from '../command.ts';
import { answerEach } from '../each-input.ts';
import { headingOf } from '../heading.ts';
import { titleOf, type Input } from '../input.ts';
import { keyOf } from '../options.ts';
import { table } from '../table.ts';

/** How many rungs of a ladder the readable answer shows; `--json` has them all. */
const RUNGS_SHOWN = 3;

function thumbsOf(chordScale: ChordScale): string {
  const family = familiesOf(chordScale).find((each) => each.complete);
  return family === undefined ? '' : ` (${family.positions.map((each) => formatNoteName(each.thumb)).join(' ')})`;
}

function rung(chordScale: ChordScale): string {
  return typeset(`${formatNoteName(chordScale.scale.root)} ${chordScale.name}${thumbsOf(chordScale)}`);
}

function rubs({ chord, chordScales }: AnalysedSlot): string | undefined {
  const [first] = chordScales;
  if (chord === null || first === undefined || first.avoid.length === 0) return undefined;
  const notes = first.avoid.map(({ note, resolvesTo }) => {
    const goal = resolvesTo[0];
    return `${formatNoteName(note)}${goal === undefined ? '' : ` to ${formatNoteName(goal.note)}`}`;
  });
  return typeset(`${chord.symbol}: ${notes.join(', ')}`);
}

/** Where a figure is on paper; one that goes over a repeat ends before it began. */
function barsText(bars: readonly number[]): string {
  const [from, to] = [bars[0] ?? 0, bars.at(-1) ?? 0];
  if (to < from) return `bar ${from}, then bar ${to}`;
  return from === to ? `bar ${from}` : `bars ${from} to ${to}`;
}

function cadenceLines(analysis: Analysis): string[] {
  const lines = analysis.cadences.map(({ kind, key, slots }) => {
    const bars = slots.map((index) => (analysis.slots[index] as AnalysedSlot).played.playedBar.bar.number);
    return `${typeset(kind)} in ${typeset(formatKey(key))}, ${barsText(bars)}`;
  });
  return [...new Set(lines)];
}

function readable(title: string, analysis: Analysis): string {
  const chords = chordsAsWritten(analysis);
  const rows = chords.map(({ played, reading, chordScales }) => [
    String(played.playedBar.bar.number),
    String(played.beat),
    typeset(played.slot.chord.symbol),
    typeset(reading.numeral),
    typeset(formatKey(reading.key)),
    reading.role,
    chordScales.slice(0, RUNGS_SHOWN).map(rung).join(' · '),
  ]);
  const sections = [
    table([['bar', 'beat', 'chord', 'numeral', 'key', 'role', 'chord-scales, inside first (thumbs)'], ...rows]),
    cadenceLines(analysis).join('\n'),
    [...new Set(chords.map(rubs).filter((line) => line !== undefined))].map((line) => `rubs over ${line}`).join('\n'),
  ];
  return [headingOf(title, analysis), ...sections.filter((section) => section !== '')].join('\n\n');
}

/** Prints what the changes mean. */
export async function run(call: Call): Promise<ExitCode> {
  return await answerEach(call, (input: Input) => {
    const asWritten = analyse(input.chart, NO_ANALYSIS_PINS);
    const key = keyOf(call, asWritten.key.mode);
    const analysis =
      key === null ? asWritten : analyse(transposeChart(input.chart, key, asWritten.key), NO_ANALYSIS_PINS);
    return { json: reportAnalysis(analysis), text: readable(titleOf(input), analysis) };
  });
}
