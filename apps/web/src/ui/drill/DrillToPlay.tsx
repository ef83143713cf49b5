import { DRILL_WORDS, type DrillOrder, type Key } from '@fivespan/core';
import type { ReactNode } from 'react';
import {
  $drillChoice,
  $drillPlayed,
  drillChoiceFor,
  drillOrderOf,
  drillPlayedOf,
  playDrillInstead,
  playTuneAgain,
} from '../../features/drill/index.ts';
import { $made, $open } from '../../features/open-lesson/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { DrillFields } from './DrillFields.tsx';
import styles from './DrillPanel.module.css';
import { useDrill } from './use-drill.ts';
import type { OpenLesson } from '../../features/open-lesson/index.ts';

const w = words.drill;

/** Before playing: which drill is played in the tune's place, and the way back to the tune; folded, another one. */
export function DrillToPlay() {
  const open = useStore($open);
  const made = useStore($made);
  const played = drillPlayedOf(open?.id, useStore($drillPlayed));
  if (open === null || made === null) return null;
  return (
    <section className={styles.fields} aria-label={w.title}>
      {played !== null && (
        <>
          <p>
            <strong>
              {played.phrase === undefined
                ? w.played(
                    DRILL_WORDS[played.kind].name,
                    played.bars?.from ?? 1,
                    played.bars?.to ?? 1,
                    played.keys.length,
                  )
                : w.playedPhrase(DRILL_WORDS[played.kind].name, played.phrase, played.bars, played.keys.length)}
            </strong>{' '}
            {DRILL_WORDS[played.kind].sentence} {w.listenFor(DRILL_WORDS[played.kind].listenFor)}
          </p>
          <p>
            <button onClick={playTuneAgain}>{w.backToTune}</button>
          </p>
        </>
      )}
      <details>
        <summary>{played === null ? w.title : w.other}</summary>
        <Choosing open={open} home={made.lesson.analysis.key} />
      </details>
    </section>
  );
}

/** What stands beside the drill that is chosen for the open lesson; null where none was chosen. */
export function DrillChosen({ children }: { readonly children: (order: DrillOrder | null) => ReactNode }) {
  const open = useStore($open);
  const made = useStore($made);
  const choice = useStore($drillChoice);
  if (open === null || made === null || choice?.lessonId !== open.id || open.chart === null) return children(null);
  const chosen = drillChoiceFor(open.id, open.chart, choice);
  return children(drillOrderOf(chosen, made.lesson.analysis.key, open.choices.seed));
}

function Choosing({ open, home }: { readonly open: OpenLesson; readonly home: Key }) {
  const drill = useDrill(open, home);
  if (drill === null || open.chart === null) return null;
  return (
    <div className={styles.fields}>
      <DrillFields choice={drill.choice} chart={open.chart} choices={open.choices} home={home} />
      <p>
        <button onClick={() => playDrillInstead(open.id, drill.order)}>{w.play}</button>
      </p>
    </div>
  );
}
