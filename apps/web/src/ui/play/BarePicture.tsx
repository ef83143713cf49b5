import { createPortal } from 'react-dom';
import { $bareWindow } from '../../features/bare-window/index.ts';
import { $heardKeys, $moment, type Moment } from '../../features/playing/index.ts';
import { $open } from '../../features/open-lesson/index.ts';
import { Stage } from '../stage/Stage.tsx';
import { useStore } from '../use-store.ts';
import bare from './BarePicture.module.css';
import styles from './PlayView.module.css';
import { useStageContent } from './use-stage-content.ts';

/** What Play shows, without a control, in the window that was opened for it; nothing where none is. */
export function BarePicture() {
  const shown = useStore($bareWindow);
  const moment = useStore($moment);
  const title = useStore($open)?.chart?.title ?? '';
  if (shown === null) return null;
  return createPortal(
    <div className={shown.ground === 'key colour' ? `${bare.bare} ${bare.keyed}` : bare.bare} data-bare>
      <div className={styles.view}>
        {moment === null ? <p className={bare.waits}>{title}</p> : <Picture moment={moment} />}
      </div>
    </div>,
    shown.place,
  );
}

function Picture({ moment }: { readonly moment: Moment }) {
  const marks = useStore($heardKeys);
  return <Stage content={useStageContent(moment, null)} control={null} marks={marks} />;
}
