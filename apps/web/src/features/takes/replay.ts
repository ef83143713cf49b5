/** A take played back with the trio: what was played stands in the place of the lesson's right hand. */
import { ACCOMPANISTS, readAround, readLessonDocument, readTake, usualProgramme, type Key } from '@fivespan/core';
import { atom } from 'nanostores';
import type { TakeRecord } from '../../platform/storage/index.ts';
import { $playing, prepareProgramme, startOrPause, type Playable } from '../playing/index.ts';
import { silenceDemonstration } from './recorder.ts';
import type { TakeView } from './take-view.ts';

/** What is played back; null while the tune is the player's own. */
export const $replay = atom<Playable | null>(null);

/** A loop of an hour is not heard to its end. */
const MOST_CHORUSES = 40;

/** Fewer keys of the left hand are no line: then the trio's own left hand plays on. */
const LEFT_HAND_NOTES = 8;

function playableOfTake(record: TakeRecord, { choruses, leftNotes }: TakeView, key: Key): Playable | null {
  const take = readTake(record.take);
  const document = take.ok ? readLessonDocument(take.value.document) : take;
  if (!take.ok || !document.ok) return null;
  const { chartText, choices } = document.value;
  const { chart } = readAround(chartText);
  if (chart === null) return null;
  const { tempoBpm, countInBars } = take.value.programme;
  const players = ACCOMPANISTS.filter((each) => each !== 'left hand' || leftNotes < LEFT_HAND_NOTES);
  const rows = Array.from({ length: Math.min(choruses, MOST_CHORUSES) }, () => ({ key, tempoBpm, players }));
  const programme = {
    ...(choices.programme ?? usualProgramme(chart, key)),
    countInBars: Math.max(1, Math.min(2, countInBars)),
    choruses: rows,
  };
  return { lessonId: record.lessonId, chart, choices, programme, take: record.take };
}

/** Plays a take back. Call from a key or click. @returns whether it can be */
export function playBack(record: TakeRecord, view: TakeView): boolean {
  const playable = playableOfTake(record, view, view.key);
  if (playable === null) return false;
  $replay.set(playable);
  // the take is where the demonstration was
  silenceDemonstration(false);
  void prepareProgramme(playable);
  startOrPause();
  return true;
}

/** Ends playing back when the player goes back from it. @returns how to stop watching */
export function followReplay(): () => void {
  let hasBegun = false;
  return $playing.subscribe(({ kind }) => {
    if ($replay.get() === null) hasBegun = false;
    else if (kind === 'starting') hasBegun = true;
    else if ((kind === 'ready' && hasBegun) || kind === 'failed') $replay.set(null);
  });
}
