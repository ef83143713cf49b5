import type { ChordScale, Reason } from '../../analysis/index.ts';
import type { PlannedSlot } from '../../plan/index.ts';
import { formatNoteName, pitchClassOf, typeset, type Chord, type Midi, type NoteName } from '../../theory/index.ts';
import { degreeOver, standingOf } from '../chorus/key-place.ts';

/** What a note that a teacher wrote does over its chord. */
export type OwnReasonCode =
  | 'own.guide-tone'
  | 'own.chord-tone'
  | 'own.tension'
  | 'own.resolves'
  | 'own.approach'
  | 'own.anticipation'
  | 'own.hangs'
  | 'own.outside'
  | 'own.rubs'
  | 'own.beside'
  | 'own.no-chord';

/** A note with its chord. */
export interface PlacedNote {
  readonly key: Midi;
  readonly name: NoteName;
  readonly slot: PlannedSlot;
}

const degreeText = (degree: string | undefined): string => (degree === '1' ? 'root' : (degree ?? ''));

/** In English, one row a code. */
const WORDS: Readonly<Record<OwnReasonCode, (args: Reason['args']) => string>> = {
  'own.guide-tone': ({ note, degree, chord }) => `your ${note} is the ${degree} of ${chord}, a guide tone`,
  'own.chord-tone': ({ note, degree, chord }) => `your ${note} is the ${degreeText(degree)} of ${chord}, a chord tone`,
  'own.tension': ({ note, degree, chord }) => `your ${note} is the ${degree} of ${chord}, an available tension`,
  'own.resolves': ({ note, degree, to, chord }) =>
    `your ${note}, the ${degree}, rubs over ${chord} and goes by step to ${to}`,
  'own.approach': ({ note, to, toDegree, toChord }) =>
    `your ${note} leads by step to ${to}, the ${degreeText(toDegree)} of ${toChord}`,
  'own.anticipation': ({ note, degree, chord }) =>
    `your ${note} comes early: it is the ${degreeText(degree)} of ${chord}`,
  'own.hangs': ({ note, degree, chord }) =>
    `your ${note}, the ${degree}, rubs over ${chord} and is left hanging: an avoid note`,
  'own.outside': ({ note, degree, chord }) =>
    `your ${note}, the ${degree}, is outside the chord-scale of ${chord} and leads nowhere by step`,
  'own.rubs': ({ note, degree, chord }) => `your ${note}, the ${degree}, rubs over ${chord}: an avoid note`,
  'own.beside': ({ note, degree, chord }) => `your ${note}, the ${degree}, is outside the chord-scale of ${chord}`,
  'own.no-chord': ({ note }) => `your ${note} stands where no chord is`,
};

export function isOwnReasonCode(code: string): code is OwnReasonCode {
  return Object.hasOwn(WORDS, code);
}

/** What a note that a teacher wrote does, in English. */
export function wordsOfOwnReason({ code, args }: Reason): string {
  if (!isOwnReasonCode(code)) throw new RangeError(`code must be a reason of an own note, not '${code}'`);
  return typeset(WORDS[code](args));
}

/** Notes that a musician would ask about. */
const RUBBING: ReadonlySet<string> = new Set<OwnReasonCode>(['own.hangs', 'own.outside', 'own.rubs', 'own.beside']);

/** Whether a note is left rubbing over its chord. */
export function isRubbing({ code }: Reason): boolean {
  return RUBBING.has(code);
}

function standingIn({ analysed, chordScale }: PlannedSlot, name: NoteName, inPosition: boolean) {
  const scale = inPosition ? chordScale : analysed.chordScales[0];
  const { chord } = analysed;
  return chord === null || scale == null ? null : standingOf(pitchClassOf(name), chord, scale);
}

const isChordTone = (standing: string | null): boolean => standing === 'guide tone' || standing === 'chord tone';

/**
 * What a written note does over its chord.
 * @param next what follows at once; undefined where silence does
 * @param isEarly whether it belongs to the coming chord
 */
export function reasonOfOwn(
  note: PlacedNote,
  next: PlacedNote | undefined,
  { inPosition, isEarly }: { readonly inPosition: boolean; readonly isEarly: boolean },
): Reason {
  const { key, name, slot } = note;
  const { chord } = slot.analysed;
  const standing = standingIn(slot, name, inPosition);
  if (chord === null || standing === null) return { code: 'own.no-chord', args: { note: formatNoteName(name) } };
  const args = { note: formatNoteName(name), degree: degreeOver(chord, name), chord: chord.symbol };
  if (isChordTone(standing)) {
    if (isEarly) return { code: 'own.anticipation', args };
    return { code: standing === 'guide tone' ? 'own.guide-tone' : 'own.chord-tone', args };
  }
  if (standing === 'tension') return { code: 'own.tension', args };
  const goal = next?.slot.analysed.chord ?? null;
  const isStep = next !== undefined && [1, 2].includes(Math.abs(next.key - key));
  if (!isStep || goal === null || !isChordTone(standingIn(next.slot, next.name, inPosition))) {
    return { code: standing === 'avoid note' ? 'own.hangs' : 'own.outside', args };
  }
  const to = formatNoteName(next.name);
  if (standing === 'avoid note' && next.slot === slot) return { code: 'own.resolves', args: { ...args, to } };
  return { code: 'own.approach', args: { ...args, to, toDegree: degreeOver(goal, next.name), toChord: goal.symbol } };
}

/** What a note held in a chord does over it: it leads nowhere, it stands. */
export function reasonOfHeld(chord: Chord, scale: ChordScale | null, name: NoteName): Reason {
  const args = { note: formatNoteName(name), degree: degreeOver(chord, name), chord: chord.symbol };
  const standing = scale === null ? 'outside note' : standingOf(pitchClassOf(name), chord, scale);
  switch (standing) {
    case 'guide tone':
      return { code: 'own.guide-tone', args };
    case 'chord tone':
      return { code: 'own.chord-tone', args };
    case 'tension':
      return { code: 'own.tension', args };
    case 'avoid note':
      return { code: 'own.rubs', args };
    case 'outside note':
    case 'neighbour':
      return { code: 'own.beside', args };
  }
}
