import { USUAL_SCENES, type Key } from '@fivespan/core';
import { takeVoice, type VoiceTaken } from '../film/index.ts';
import { lessonStore } from '../lesson-list/index.ts';
import { $open, changeLesson } from '../open-lesson/index.ts';

/** What became of a voice that was to be laid. */
export type VoiceLaid = Exclude<VoiceTaken, { kind: 'taken' }> | { readonly kind: 'laid' };

/** What all lessons that are kept say of themselves. @throws where they cannot be read: then no voice is nobody's */
async function lessonTexts(): Promise<readonly string[]> {
  const listed = await (await lessonStore()).list();
  if (listed.kind === 'fault') throw new Error('the lessons cannot be read');
  const { lessons, newer, setAside } = listed.shelf;
  const own = JSON.stringify($open.get()?.choices.film ?? null);
  return [
    own,
    ...lessons.map(({ document }) => document),
    ...newer.map(({ text }) => text),
    ...setAside.map(({ text }) => text),
  ];
}

/**
 * Lets the user choose a recording and lays it under a scene of the open lesson. Call from a key or click.
 * @param scene its place among the lesson's, from 0
 * @param key the film's, which the recording speaks in
 */
export async function layVoice(scene: number, key: Key): Promise<VoiceLaid> {
  const id = $open.get()?.id;
  const taken = await takeVoice(key, lessonTexts);
  if (taken.kind !== 'taken') return taken;
  const open = $open.get();
  // another lesson was opened while it was read: the recording is nobody's and goes some day
  if (open === null || open.id !== id) return { kind: 'none chosen' };
  const film = (open.choices.film ?? USUAL_SCENES).map((each, at) =>
    at === scene ? { ...each, voice: taken.voice } : each,
  );
  changeLesson({ choices: { film } });
  return { kind: 'laid' };
}
