import { formatPitch, reportBass, typeset, type Lesson } from '@fivespan/core';
import type { Call, ExitCode } from '../command.ts';
import { answerEach } from '../each-input.ts';
import { headingOf } from '../heading.ts';
import { titleOf } from '../input.ts';
import { lessonOf, pinIssuesOf } from '../lesson/lesson-of.ts';
import { choicesOf } from '../options.ts';
import { table } from '../table.ts';

function readable(title: string, { analysis, bass }: Lesson): string {
  const rows = analysis.form.bars.map(({ bar, startTicks }) => [
    String(bar.number),
    typeset(bar.slots.map((slot) => slot.chord.symbol).join(' ')),
    bass
      .filter((note) => note.startTicks >= startTicks && note.startTicks < startTicks + bar.durationTicks)
      .map((note) => typeset(formatPitch(note.pitch)) + (note.function === 'approach' ? '*' : ''))
      .join(' '),
  ]);
  return [
    headingOf(title, analysis),
    table([['bar', 'chords', 'left hand'], ...rows]),
    '* approaches the next root',
  ].join('\n\n');
}

/** Prints a walking bass. */
export async function run(call: Call): Promise<ExitCode> {
  return await answerEach(call, (input) => {
    const lesson = lessonOf(call, input);
    return {
      json: reportBass(lesson),
      text: readable(titleOf(input), lesson),
      warnings: pinIssuesOf(input, choicesOf(call, input.choices)),
    };
  });
}
