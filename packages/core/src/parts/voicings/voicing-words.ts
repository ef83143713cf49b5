import type { Reason } from '../../analysis/index.ts';
import { formatNoteName, typeset } from '../../theory/index.ts';
import type { UpperTriad, VoicingFormName } from './voicing-kind.ts';

/** How each form is stacked, in English. */
const FORMS: Readonly<Record<VoicingFormName, string>> = {
  'third below': 'third and seventh, the third below',
  'seventh below': 'third and seventh, the seventh below',
  'shell third': 'root and third',
  'shell seventh': 'root and seventh',
  A: 'rootless, built on the 3',
  B: 'rootless, built on the 7',
  open: 'the triad, root below',
  'two hands seventh': 'root and seventh left, third and colours right',
  'two hands third': 'root and third left, seventh and colours right',
  'two hands triad': 'root and fifth left, third and more right',
  quartal: 'in fourths',
  'upper structure': 'third and seventh left, a triad right',
  own: 'your own notes',
};

/**
 * A form in English; an upper structure names its triad.
 * @example wordsOfVoicingForm('A', null) // → 'rootless, built on the 3'
 */
export function wordsOfVoicingForm(form: VoicingFormName, triad: UpperTriad | null): string {
  if (triad === null) return FORMS[form];
  return `third and seventh left, ${typeset(formatNoteName(triad.root))} ${triad.quality} right`;
}

const STEPS: Readonly<Record<number, string>> = { 1: 'a half step', 2: 'a whole step' };

function wayOf(semitones: number): string {
  const size = Math.abs(semitones);
  return `${semitones < 0 ? 'down' : 'up'} ${STEPS[size] ?? `${size} half steps`}`;
}

/**
 * A voicing's note in English: what it is over the chord, and how its voice came. `note` is its name as it is shown.
 * @example wordsOfVoicingReason({ code: 'voicing.moves', args: { degree: '3', chord: 'G7', from: 'C', semitones: '-1' } }, 'B')
 * // → 'B is the 3 of G7, down a half step from C'
 */
export function wordsOfVoicingReason({ code, args }: Reason, note: string): string {
  const { degree = '', chord = '', from = '', semitones = '0' } = args;
  const what = `${note} is the ${typeset(degree)} of ${typeset(chord)}`;
  if (code === 'voicing.stays') return `${what} and stays`;
  return code === 'voicing.moves' ? `${what}, ${wayOf(Number(semitones))} from ${typeset(from)}` : what;
}
