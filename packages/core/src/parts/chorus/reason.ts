import type { Reason } from '../../analysis/index.ts';
import type { Plan } from '../../plan/index.ts';
import { formatNoteName } from '../../theory/index.ts';
import { isChordTone, soundsOn, type KeyPlace, type Standing } from './key-place.ts';
import type { LineNote } from './candidate.ts';

/** What a note of a chorus is for. Words: reason-words.ts. */
export type ChorusReasonCode =
  | 'chorus.guide-tone'
  | 'chorus.chord-tone'
  | 'chorus.tension'
  | 'chorus.outside'
  | 'chorus.avoid-resolved'
  | 'chorus.avoid-held'
  | 'chorus.approach'
  | 'chorus.neighbour'
  | 'chorus.enclosure'
  | 'chorus.anticipation'
  | 'chorus.phrase-end';

const OF_STANDING: Readonly<Record<Standing, ChorusReasonCode>> = {
  'guide tone': 'chorus.guide-tone',
  'chord tone': 'chorus.chord-tone',
  tension: 'chorus.tension',
  'avoid note': 'chorus.avoid-resolved',
  'outside note': 'chorus.outside',
  neighbour: 'chorus.neighbour',
};

/** Whether a neighbour and the note before it lie on both sides of the goal, each within a whole step. Common practice. */
export function encloses(line: readonly LineNote[], index: number): boolean {
  const [before, here, goal] = [line[index - 1], line[index], line[index + 1]].map((each) => each?.place.midi);
  if (before === undefined || here === undefined || goal === undefined) return false;
  const [first, second] = [before - goal, here - goal];
  return first * second < 0 && Math.abs(first) <= 2;
}

/** Why a note of a line is there: the most telling of its reasons. */
export function reasonOf(plan: Plan, line: readonly LineNote[], index: number): Reason {
  const { place, anticipates, held } = line[index] as LineNote;
  const next = line[index + 1];
  const chordOf = ({ slotIndex }: KeyPlace): string => plan.slots[slotIndex]?.analysed.chord?.symbol ?? '';
  const args = { degree: place.degree, note: formatNoteName(place.name), chord: chordOf(place) };
  if (place.standing === 'avoid note') {
    const into = plan.slots[place.slotIndex + 1]?.analysed.chord?.symbol ?? '';
    return held
      ? { code: 'chorus.avoid-held', args: { ...args, into } }
      : {
          code: 'chorus.avoid-resolved',
          args: { ...args, to: next === undefined ? '' : formatNoteName(next.place.name) },
        };
  }
  if (place.standing === 'neighbour' && next !== undefined) {
    const to = formatNoteName(next.place.name);
    const code = encloses(line, index) ? 'chorus.enclosure' : 'chorus.neighbour';
    return { code, args: { ...args, to, toDegree: next.place.degree, toChord: chordOf(next.place) } };
  }
  if (next === undefined) return { code: 'chorus.phrase-end', args };
  if (anticipates) return { code: 'chorus.anticipation', args };
  const leads =
    next.place.slotIndex !== place.slotIndex &&
    !soundsOn(plan, place.slotIndex, next.place.slotIndex) &&
    isChordTone(next.place) &&
    [1, 2].includes(Math.abs(next.place.midi - place.midi));
  if (leads) {
    const to = formatNoteName(next.place.name);
    return {
      code: 'chorus.approach',
      args: { ...args, to, toDegree: next.place.degree, toChord: chordOf(next.place) },
    };
  }
  return { code: OF_STANDING[place.standing], args };
}
