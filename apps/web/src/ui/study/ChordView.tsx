import { type LadderView, type Study } from '../../features/study/index.ts';
import { Drawn } from '../controls/Drawn.tsx';
import { words } from '../words/index.ts';
import { ChordHeading } from './ChordHeading.tsx';
import styles from './ChordView.module.css';
import { Ladder } from './Ladder.tsx';
import { ScaleHere } from './ScaleHere.tsx';

/** What the chosen chord means, which chord-scales serve it, and the one that is looked at. */
export function ChordView({ study, view }: { readonly study: Study; readonly view: LadderView | null }) {
  return (
    <div className={styles.view}>
      <div className={styles.chord}>
        <ChordHeading study={study} />
      </div>
      {view === null ? (
        <div className={styles.scale}>
          <Drawn picture="rest">
            <p>{words.study.silent}</p>
          </Drawn>
        </div>
      ) : (
        <>
          <div className={styles.scale}>
            <ScaleHere study={study} view={view} />
          </div>
          <div className={styles.ladder}>
            <Ladder study={study} view={view} />
          </div>
        </>
      )}
    </div>
  );
}
