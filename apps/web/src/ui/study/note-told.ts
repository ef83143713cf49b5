import { beatAt, partOnStaff, playedBarAt, typeset, type Lesson, type NoteName, type Reason } from '@fivespan/core';
import type { TracedNote } from '../../features/engraving/index.ts';
import { words } from '../words/index.ts';
import { spokenPitch, spokenSigns, spokenSymbol } from '../words/spoken.ts';

/** How notes are named. */
export interface Naming {
  readonly noteText: (note: NoteName) => string;
  readonly named: (reason: Reason) => Reason;
}

/** A note and why it is there, as printed and as said. */
export interface NoteTold {
  readonly name: string;
  readonly place: string;
  readonly why: string;
  readonly said: string;
}

/** Arguments of reasons that are chord symbols; the others are notes, degrees and words. */
const CHORDS: ReadonlySet<string> = new Set(['chord', 'into', 'toChord']);

function sentence(text: string): string {
  return text === '' ? '' : `${text.slice(0, 1).toUpperCase()}${text.slice(1)}.`;
}

/** A reason with its arguments in words. */
function spokenReason({ code, args }: Reason): Reason {
  const said = Object.entries(args).map(([name, value]) => [
    name,
    CHORDS.has(name) ? spokenSymbol(value) : spokenSigns(typeset(value)),
  ]);
  return { code, args: Object.fromEntries(said) as Reason['args'] };
}

/** What is told of a written note: where it is, which finger plays it, and why it is there. */
export function noteTold(lesson: Lesson, { role, written, why }: TracedNote, { noteText, named }: Naming): NoteTold {
  const bar = playedBarAt(lesson.analysis.form, written.startTicks);
  const at = `${words.study.bar(bar.bar.number)}, ${words.study.beat(beatAt(bar, written.startTicks))}`;
  const note = noteText(written.pitch.name);
  const { octave } = written.pitch;
  const reason = named(why);
  const wordsOf = partOnStaff(role).words;
  return {
    name: note,
    place: words.study.note(at, `${note}${octave}`, written.finger),
    why: sentence(wordsOf(reason, note)),
    said: `${words.study.note(at, spokenPitch(note, octave), written.finger)}. ${sentence(wordsOf(spokenReason(reason), spokenSigns(note)))}`,
  };
}
