import type { Reason } from '../analysis/index.ts';
import { typeset } from '../theory/index.ts';

/** A note of the arpeggio study in English. `note` is its name as it is shown. */
export function wordsOfArpeggioReason({ code, args }: Reason, note: string): string {
  const { degree = '', chord = '' } = args;
  return code === 'arpeggio.passing'
    ? `${note}, the ${typeset(degree)}, rubs over ${typeset(chord)} and passes`
    : `${note} is the ${typeset(degree)} of ${typeset(chord)}`;
}
