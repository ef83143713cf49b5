import { newId, nowMs } from '../clock/index.ts';
import type { StoredLesson } from './stored-lesson.ts';

/** A lesson that is kept from now on. */
export function freshLesson(title: string, document: string): StoredLesson {
  const now = nowMs();
  return { id: newId(), title, document, createdAt: now, changedAt: now, revision: 1 };
}
