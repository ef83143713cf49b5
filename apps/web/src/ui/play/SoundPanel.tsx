import { useId } from 'react';
import { $settings, changeSettings } from '../../features/settings/index.ts';
import { $isGentle, hear } from '../../features/sound/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import styles from './Panels.module.css';

/** A chord as loud as comping gets: what one sets the level by. */
const TRIAL = [43, 55, 59, 62, 64].map((midi, index) => ({
  startSeconds: index * 0.02,
  durationSeconds: 1.2,
  midi,
  velocity: 80,
}));

/** How loud everything is. */
export function SoundPanel() {
  const id = useId();
  const { soundLevel } = useStore($settings);
  const isGentle = useStore($isGentle);
  const percent = Math.round(soundLevel * 100);
  return (
    <section aria-labelledby={`${id}-sound`} className={styles.panel}>
      <h2 id={`${id}-sound`}>{words.play.sound}</h2>
      <p className={styles.line}>
        <label htmlFor={`${id}-level`}>{words.play.level}</label>
        <input
          id={`${id}-level`}
          type="range"
          min={0}
          max={1}
          step={0.05}
          value={soundLevel}
          aria-valuetext={words.play.levelValue(percent)}
          onChange={({ target }) => changeSettings({ soundLevel: Number(target.value) })}
        />
        <output htmlFor={`${id}-level`}>{words.play.levelValue(percent)}</output>
        <button onClick={() => void hear(TRIAL)}>{words.play.tryLevel}</button>
      </p>
      {isGentle && <p className="soft">{words.play.gentle}</p>}
    </section>
  );
}
