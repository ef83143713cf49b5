import type { DrillOrder, Key } from '@fivespan/core';
import { useId, useState } from 'react';
import { $made } from '../../features/open-lesson/index.ts';
import {
  $criterion,
  LADDER_ORDERS,
  STEPS,
  startStep,
  type LadderOrder,
  type Step,
} from '../../features/today/index.ts';
import { changeSettings } from '../../features/settings/index.ts';
import { NumberField } from '../play/NumberField.tsx';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { useKeyText } from '../words/key-text.ts';
import { PracticeLog } from './PracticeLog.tsx';
import styles from './Today.module.css';
import { UntilFound } from './UntilFound.tsx';

const w = words.today;

/** What one can practise: the steps of the page, a drill, positions until they are found; and what was practised. */
export function TodayPanel({ drill }: { readonly drill: DrillOrder | null }) {
  const id = useId();
  const made = useStore($made);
  const criterion = useStore($criterion);
  const keyText = useKeyText();
  const [order, setOrder] = useState<LadderOrder>('key by key');
  const [isAllKeys, setIsAllKeys] = useState(false);
  if (made === null) return null;
  const home: Key = made.lesson.analysis.key;
  const steps: readonly Step[] = drill === null ? STEPS : [...STEPS, 'drill'];
  return (
    <div className={styles.today}>
      <p className={styles.line}>
        <label htmlFor={`${id}-order`}>{w.order}</label>
        <select id={`${id}-order`} value={order} onChange={({ target }) => setOrder(target.value as LadderOrder)}>
          {LADDER_ORDERS.map((each) => (
            <option key={each} value={each}>
              {w.orders[each]}
            </option>
          ))}
        </select>
        <select
          aria-label={w.keysLabel}
          value={isAllKeys ? 'all' : 'one'}
          onChange={({ target }) => setIsAllKeys(target.value === 'all')}
        >
          <option value="one">{w.oneKey(keyText(home))}</option>
          <option value="all">{w.allKeys}</option>
        </select>
      </p>
      <ul className={styles.steps} aria-label={w.steps}>
        {steps.map((step) => (
          <li key={step}>
            <button
              aria-label={w.startStep(w.step[step])}
              onClick={() => void startStep(step, home, { order, isAllKeys, drill: step === 'drill' ? drill : null })}
            >
              {w.step[step]}
            </button>
          </li>
        ))}
      </ul>
      <details>
        <summary>{w.criterion}</summary>
        <p className={styles.line}>
          <NumberField
            label={w.met}
            value={criterion.metPercent}
            least={10}
            most={100}
            onChange={(metPercent) => changeSettings({ criterion: { ...criterion, metPercent } })}
          />
          <span>{w.met}</span>
        </p>
        <p className={styles.line}>
          <NumberField
            label={w.outside}
            value={criterion.outsidePercent}
            least={0}
            most={100}
            onChange={(outsidePercent) => changeSettings({ criterion: { ...criterion, outsidePercent } })}
          />
          <span>{w.outside}</span>
        </p>
        <p className={styles.line}>
          <NumberField
            label={w.passes}
            value={criterion.passes}
            least={1}
            most={10}
            onChange={(passes) => changeSettings({ criterion: { ...criterion, passes } })}
          />
          <span>{w.passes}</span>
        </p>
        <p className="soft">{w.criterionAbout}</p>
      </details>
      <UntilFound />
      <PracticeLog />
    </div>
  );
}
