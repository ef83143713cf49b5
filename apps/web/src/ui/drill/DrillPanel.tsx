import type { Key } from '@fivespan/core';
import { playDrillInstead } from '../../features/drill/index.ts';
import { saveDrill, printedLesson } from '../../features/handing-out/index.ts';
import { goTo } from '../../features/navigation/index.ts';
import type { OpenLesson } from '../../features/open-lesson/index.ts';
import { $settings } from '../../features/settings/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { DrillFields } from './DrillFields.tsx';
import styles from './DrillPanel.module.css';
import { useDrill } from './use-drill.ts';

const w = words.drill;

/** A drill out of this lesson's bars, to be printed and saved. */
export function DrillPanel({ open, home }: { readonly open: OpenLesson; readonly home: Key }) {
  const { paper } = useStore($settings);
  const drill = useDrill(open, home);
  const lesson = printedLesson(open.chart, open.chartText, open.choices);
  if (drill === null || lesson === null || open.chart === null) return null;
  const { choice, order, isOnPaper, showOnPaper } = drill;
  return (
    <div className={styles.fields}>
      <p className="soft">{w.about}</p>
      <DrillFields choice={choice} chart={open.chart} choices={open.choices} home={home} />
      <p className={styles.line}>
        <button className="main" onClick={() => showOnPaper(!isOnPaper)}>
          {isOnPaper ? w.showPages : w.show}
        </button>
        <button
          onClick={() => {
            playDrillInstead(open.id, order);
            goTo({ kind: 'lesson', id: open.id, screen: 'play' });
          }}
        >
          {w.play}
        </button>
      </p>
      <p className={styles.line}>
        <button onClick={() => void saveDrill(lesson, order, 'pdf', paper)}>{w.savePdf}</button>
        <button onClick={() => void saveDrill(lesson, order, 'musicxml', paper)}>{w.saveMusicXml}</button>
      </p>
    </div>
  );
}
