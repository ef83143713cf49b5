import type { Lesson } from '@fivespan/core';
import { $drillChoice, chooseDrill, drillChoiceFor, lastBarOf, showDrillOnPaper } from '../../features/drill/index.ts';
import { goTo } from '../../features/navigation/index.ts';
import { $open } from '../../features/open-lesson/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';

/** How many bars a drill takes from the chosen chord on. */
const BARS = 4;

/** Goes to the drill of the bars from the chosen chord on, where its kind, keys and tempi are chosen. */
export function DrillBars({ lesson, chosen }: { readonly lesson: Lesson; readonly chosen: number }) {
  const open = useStore($open);
  const chart = open?.chart ?? null;
  const bar = lesson.plan.slots[chosen]?.analysed.played.playedBar.bar.number;
  if (open === null || chart === null || bar === undefined) return null;
  const fromBar = Math.max(1, bar);
  const toBar = Math.min(fromBar + BARS - 1, lastBarOf(chart));
  return (
    <button
      type="button"
      className="plain"
      onClick={() => {
        chooseDrill(drillChoiceFor(open.id, chart, $drillChoice.get()), { fromBar, toBar, phrase: null });
        showDrillOnPaper(open.id);
        goTo({ kind: 'lesson', id: open.id, screen: 'pages' });
      }}
    >
      {words.study.drillBars(words.study.barsSeen(fromBar, toBar))}
    </button>
  );
}
