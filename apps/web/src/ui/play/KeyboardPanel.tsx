import { midi } from '@fivespan/core';
import { useId, useState } from 'react';
import { $isAssigning, type Pedal } from '../../features/playing/index.ts';
import { $settings, $theme, changeSettings } from '../../features/settings/index.ts';
import { $keyboardSound, $midi, connectKeyboard, measureDelay } from '../../features/sound/index.ts';
import { KeyboardPicture } from '../keyboard/KeyboardPicture.tsx';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import styles from './Panels.module.css';
import keyboardStyles from './PressedKeys.module.css';
import { PressedKeys } from './PressedKeys.tsx';

/** C2 to C7: what a student's keyboard has. */
const LOWEST = midi(36);
const HIGHEST = midi(96);
const BARE = { lowest: LOWEST, highest: HIGHEST, hand: null, otherThumbs: [], degrees: [] };

export function pedalText(pedal: Pedal): string {
  return pedal.kind === 'key' ? words.play.pedalKey(pedal.key) : words.play.pedalController(pedal.controller);
}

/** A connected keyboard, and the pedal that starts and stops. */
export function KeyboardPanel() {
  const id = useId();
  const state = useStore($midi);
  const sound = useStore($keyboardSound);
  const theme = useStore($theme);
  const { pedal, computerKeys, keyDelayMs } = useStore($settings);
  const [measured, setMeasured] = useState<'measuring' | 'too few' | 'done' | null>(null);
  const isAssigning = useStore($isAssigning);
  const status =
    state.kind !== 'open'
      ? words.play.midi[state.kind]
      : state.inputs.length === 0
        ? words.play.midiNothing
        : words.play.midiConnected(state.inputs.map((name) => name || words.play.unnamed).join(', '));
  return (
    <section aria-labelledby={`${id}-keyboard`} className={styles.panel}>
      <h2 id={`${id}-keyboard`}>{words.play.keyboardAndPedal}</h2>
      <p role="status">
        {status}
        {state.kind === 'open' && sound === 'opening' && ` ${words.play.midiOpening}`}
        {state.kind === 'open' && sound === 'failed' && ` ${words.play.midiSilent}`}
      </p>
      {state.kind === 'open' ? (
        state.inputs.length > 0 && (
          <div className={keyboardStyles.keyboard}>
            <KeyboardPicture picture={BARE} theme={theme} />
            <PressedKeys lowest={LOWEST} highest={HIGHEST} theme={theme} tabRows={0} />
          </div>
        )
      ) : (
        <p>
          <button disabled={state.kind === 'asking'} onClick={() => void connectKeyboard()}>
            {words.play.connect}
          </button>
        </p>
      )}
      <p>
        <label>
          <input
            type="checkbox"
            checked={computerKeys}
            onChange={({ target }) => changeSettings({ computerKeys: target.checked })}
          />{' '}
          {words.play.computerKeys}
        </label>
      </p>
      <p>
        <button
          disabled={measured === 'measuring'}
          onClick={() => {
            setMeasured('measuring');
            void measureDelay().then(
              (delay) => setMeasured(delay === null ? 'too few' : 'done'),
              () => setMeasured('too few'),
            );
          }}
        >
          {words.play.measureDelay}
        </button>{' '}
        <span role="status">
          {measured === 'measuring' || measured === 'too few'
            ? words.play.delaySays[measured]
            : words.play.delayNow(keyDelayMs)}
        </span>
      </p>
      <p>{words.play.pedalNow(pedalText(pedal))}</p>
      <p role="status">
        {isAssigning ? (
          words.play.assigning
        ) : (
          <button onClick={() => $isAssigning.set(true)}>{words.play.assign}</button>
        )}
      </p>
    </section>
  );
}
