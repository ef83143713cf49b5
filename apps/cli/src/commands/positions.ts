import { formatNoteName, reportPositions, typeset, type Lesson, type PlannedSlot } from '@fivespan/core';
import type { Call, ExitCode } from '../command.ts';
import { answerEach } from '../each-input.ts';
import { headingOf } from '../heading.ts';
import { titleOf } from '../input.ts';
import { lessonOf, pinIssuesOf } from '../lesson/lesson-of.ts';
import { choicesOf } from '../options.ts';
import { table } from '../table.ts';

function row({ analysed, chordScale, family, position, travelMm }: PlannedSlot): string[] {
  const { playedBar, beat, slot } = analysed.played;
  const place = [String(playedBar.bar.number), String(beat), typeset(slot.chord.symbol)];
  if (chordScale === null) return [...place, 'rest'];
  const scale = typeset(`${formatNoteName(chordScale.scale.root)} ${chordScale.name}`);
  if (position === null) return [...place, scale, 'no five-note shape serves this chord'];
  const thumbs = (family?.positions ?? []).map((each) => formatNoteName(each.thumb)).join(' ');
  return [
    ...place,
    scale,
    `${position.shape.name}: ${typeset(thumbs)}${family?.complete === true ? '' : ' (serves, does not cover)'}`,
    typeset(formatNoteName(position.thumb)),
    position.notes.map((note, index) => `${index + 1} ${typeset(formatNoteName(note))}`).join('  '),
    `${Math.round(travelMm)} mm`,
  ];
}

function readable(title: string, { plan, analysis }: Lesson): string {
  const heading = ['bar', 'beat', 'chord', 'chord-scale', 'family, by its thumbs', 'thumb', 'fingers', 'thumb travels'];
  return [
    headingOf(title, analysis),
    table([heading, ...plan.slots.map(row)]),
    `The thumb travels ${Math.round(plan.totalTravelMm)} mm in all.`,
  ].join('\n\n');
}

/** Prints where the hand goes. */
export async function run(call: Call): Promise<ExitCode> {
  return await answerEach(call, (input) => {
    const lesson = lessonOf(call, input);
    return {
      json: reportPositions(lesson),
      text: readable(titleOf(input), lesson),
      warnings: pinIssuesOf(input, choicesOf(call, input.choices)),
    };
  });
}
