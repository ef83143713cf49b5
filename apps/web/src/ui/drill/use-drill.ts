import type { DrillOrder, Key } from '@fivespan/core';
import {
  $drillChoice,
  $drillOnPaper,
  drillChoiceFor,
  drillOrderOf,
  showDrillOnPaper,
  type DrillChoice,
} from '../../features/drill/index.ts';
import type { OpenLesson } from '../../features/open-lesson/index.ts';
import { useStore } from '../use-store.ts';

/** What is chosen of a lesson's drill, and whether it is looked at on paper. */
export interface DrillHere {
  readonly choice: DrillChoice;
  readonly order: DrillOrder;
  readonly isOnPaper: boolean;
  readonly showOnPaper: (shown: boolean) => void;
}

/**
 * The drill that is chosen for a lesson; null where its chart cannot be read.
 * @param home the key the lesson is shown in
 */
export function useDrill({ id, chart, choices }: OpenLesson, home: Key): DrillHere | null {
  const chosen = useStore($drillChoice);
  const onPaper = useStore($drillOnPaper);
  if (chart === null) return null;
  const choice = drillChoiceFor(id, chart, chosen);
  return {
    choice,
    order: drillOrderOf(choice, home, choices.seed),
    isOnPaper: onPaper === id,
    showOnPaper: (shown) => showDrillOnPaper(shown ? id : null),
  };
}
