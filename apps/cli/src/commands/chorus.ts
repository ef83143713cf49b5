import {
  formatMotive,
  formatNoteName,
  formatPitch,
  reportChorus,
  typeset,
  type HandNote,
  type Lesson,
} from '@fivespan/core';
import type { Call, ExitCode } from '../command.ts';
import { answerEach } from '../each-input.ts';
import { headingOf } from '../heading.ts';
import { titleOf } from '../input.ts';
import { lessonOf, pinIssuesOf } from '../lesson/lesson-of.ts';
import { choicesOf } from '../options.ts';
import { table } from '../table.ts';

/** Notes with rests between them as a line, each with its finger: `Eb4·3`. */
function line(notes: readonly HandNote[], startTicks: number): string {
  let now = startTicks;
  const words: string[] = [];
  for (const note of notes) {
    if (note.startTicks > now) words.push('–');
    words.push(`${typeset(formatPitch(note.pitch))}·${note.finger}`);
    now = note.startTicks + note.durationTicks;
  }
  return words.join(' ');
}

function readable(title: string, { analysis, chorus, plan, choices }: Lesson): string {
  const rows = analysis.form.bars.map(({ bar, startTicks }) => {
    const slots = plan.slots.filter((slot) => slot.analysed.played.playedBar.startTicks === startTicks);
    return [
      String(bar.number),
      typeset(bar.slots.map((slot) => slot.chord.symbol).join(' ')),
      typeset(slots.map((slot) => (slot.position === null ? '–' : formatNoteName(slot.position.thumb))).join(' ')),
      line(
        chorus.filter((note) => note.startTicks >= startTicks && note.startTicks < startTicks + bar.durationTicks),
        startTicks,
      ),
    ];
  });
  const { motives } = choices.pins.parts;
  return [
    headingOf(title, analysis),
    table([['bar', 'chords', 'thumb', 'right hand: note·finger, – rests'], ...rows]),
    ...(motives.length === 0 ? [] : [`Made of the motive ${motives.map(formatMotive).join('; and of ')}.`]),
    `Seed ${choices.seed}, level ${choices.level}: another seed gives another chorus.`,
  ].join('\n\n');
}

/** Prints a demonstration chorus. */
export async function run(call: Call): Promise<ExitCode> {
  return await answerEach(call, (input) => {
    const lesson = lessonOf(call, input);
    return {
      json: reportChorus(lesson),
      text: readable(titleOf(input), lesson),
      warnings: pinIssuesOf(input, choicesOf(call, input.choices)),
    };
  });
}
