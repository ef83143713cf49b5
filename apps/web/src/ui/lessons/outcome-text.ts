import type { createLesson, NotOpened } from '../../features/lesson-list/index.ts';
import { words } from '../words/index.ts';
import { damageText } from './damage-text.ts';
import { faultText } from './fault-text.ts';

type WriteOutcome = Awaited<ReturnType<typeof createLesson>>['outcome'];

/** What became of a change of a kept lesson. @param done what to say where it was made */
export function outcomeText(
  outcome: WriteOutcome | NotOpened | { readonly kind: 'read' | 'missing' } | undefined,
  done: string,
): string {
  switch (outcome?.kind) {
    case 'written':
      return done;
    case 'fault':
      return `${words.lessons.notDone} ${faultText(outcome.fault)}`;
    case 'damaged':
      return `${words.lessons.notDone} ${words.lessons.notOpened.damaged(damageText(outcome.damage))}`;
    case 'newer':
      return `${words.lessons.notDone} ${words.lessons.notOpened.newer}`;
    case 'failed':
      return `${words.lessons.notDone} ${words.lessons.notOpened.failed(outcome.message)}`;
    case 'overtaken':
    case 'missing':
    case 'read':
    case undefined:
      return `${words.lessons.notDone} ${words.lessons.conflictRemoved}`;
  }
}
