import {
  reportVoicings,
  typeset,
  voicingsOfLesson,
  wordsOfVoicingForm,
  formatPitch,
  type Lesson,
} from '@fivespan/core';
import type { Call, ExitCode } from '../command.ts';
import { answerEach } from '../each-input.ts';
import { headingOf } from '../heading.ts';
import { titleOf } from '../input.ts';
import { lessonOf, pinIssuesOf } from '../lesson/lesson-of.ts';
import { choicesOf } from '../options.ts';
import { table } from '../table.ts';

function readable(title: string, lesson: Lesson): string {
  const report = reportVoicings(lesson);
  const led = voicingsOfLesson(lesson).filter((each) => each !== undefined);
  const rows = report.voicings.map((each, index) => {
    const { pitches, left, form, triad } = led[index] as (typeof led)[number];
    const names = pitches.map((pitch) => typeset(formatPitch(pitch)));
    const hands = [names.slice(0, left), names.slice(left)].filter((hand) => hand.length > 0);
    return [
      String(each.bar),
      typeset(each.chord),
      hands.map((hand) => hand.join(' ')).join(' | '),
      wordsOfVoicingForm(form, triad),
      index === 0 ? '' : `${each.moved}${each.pinned ? ', pinned' : ''}`,
    ];
  });
  const { total, most } = report.motion;
  return [
    headingOf(title, lesson.analysis),
    table([['bar', 'chord', 'notes: left | right hand', 'form', 'moves'], ...rows]),
    `All voices move ${total} half steps together, at most ${most} at one change: the fewest there are.`,
  ].join('\n\n');
}

/** Prints voicings led through the changes. */
export async function run(call: Call): Promise<ExitCode> {
  return await answerEach(call, (input) => {
    const lesson = lessonOf(call, input);
    return {
      json: reportVoicings(lesson),
      text: readable(titleOf(input), lesson),
      warnings: pinIssuesOf(input, choicesOf(call, input.choices)),
    };
  });
}
