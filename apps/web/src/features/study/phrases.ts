import {
  findPhrase,
  MOST_PHRASES,
  phraseName,
  phraseOf,
  placedPhrase,
  transposePhrase,
  unmovedPhrase,
  type LineId,
  type NotePin,
  type Phrase,
  type PlacedPhrase,
} from '@fivespan/core';
import { $open, changeLesson } from '../open-lesson/index.ts';
import { changePins } from './pins.ts';
import { isSameSlot, type Study } from './study.ts';

/** A kept phrase, in the key that is seen, and what it would be over the chosen chord. */
export interface PhraseHere {
  readonly phrase: Phrase;
  /** Undefined where the form ends before it does. */
  readonly place: PlacedPhrase | undefined;
}

/** The lesson's phrases as they would lie from the chosen chord on. */
export function phrasesHere({ lesson, choices, slotIndex }: Study): readonly PhraseHere[] {
  const { writtenKey, analysis, plan } = lesson;
  return choices.phrases.map((kept) => {
    const phrase = transposePhrase(kept, writtenKey, analysis.key);
    return { phrase, place: placedPhrase(plan, phrase, lesson[phrase.part], slotIndex, choices.bass.range) };
  });
}

/** What came of keeping or renaming: done, or why not. */
export type PhraseOutcome = 'kept' | 'silent' | 'name taken' | 'no name' | 'full';

/**
 * Keeps what a line plays from the chosen chord on as a phrase.
 * @param count over how many chords
 */
export function keepPhrase(
  { lesson, choices, slotIndex }: Study,
  { part, count, name: asked }: { readonly part: LineId; readonly count: number; readonly name: string },
): PhraseOutcome {
  const name = phraseName(asked);
  if (name === '') return 'no name';
  if (findPhrase(choices.phrases, name) !== undefined) return 'name taken';
  if (choices.phrases.length >= MOST_PHRASES) return 'full';
  const phrase = phraseOf(lesson.plan, { part, name }, lesson[part], slotIndex, count);
  if (phrase === undefined) return 'silent';
  const kept = unmovedPhrase(phrase, lesson.writtenKey, lesson.analysis.key);
  changeLesson({ choices: { phrases: [...choices.phrases, kept] } });
  return 'kept';
}

/** Puts a phrase over the chosen chord and those after it, as the teacher's own notes there. */
export function putPhrase({ place }: PhraseHere): void {
  if (place === undefined) return;
  const isThere = (pin: NotePin): boolean => place.pins.some((each) => each.part === pin.part && isSameSlot(each, pin));
  changePins(({ parts, ...others }) => ({
    ...others,
    parts: { ...parts, notes: [...parts.notes.filter((pin) => !isThere(pin)), ...place.pins] },
  }));
}

/** Gives a phrase another name. */
export function renamePhrase(from: string, to: string): PhraseOutcome {
  const phrases = $open.get()?.choices.phrases ?? [];
  const name = phraseName(to);
  if (name === '') return 'no name';
  const other = findPhrase(phrases, name);
  if (other !== undefined && other.name !== from) return 'name taken';
  changeLesson({ choices: { phrases: phrases.map((each) => (each.name === from ? { ...each, name } : each)) } });
  return 'kept';
}

/** Takes a phrase off the list; where it was put, its notes stay. */
export function removePhrase(name: string): void {
  const phrases = $open.get()?.choices.phrases ?? [];
  changeLesson({ choices: { phrases: phrases.filter((each) => each.name !== name) } });
}
