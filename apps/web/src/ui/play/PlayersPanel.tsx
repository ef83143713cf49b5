import { HEARD_PLAYERS } from '@fivespan/core';
import { useId } from 'react';
import { $piece, $practice, changeMix } from '../../features/playing/index.ts';
import { $settings, changeSettings } from '../../features/settings/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import styles from './Panels.module.css';

/** Who is heard and how loud. */
export function PlayersPanel() {
  const id = useId();
  const piece = useStore($piece);
  const { mix } = useStore($practice);
  const { keyboardSounds, keyboardLevel } = useStore($settings);
  const playing = HEARD_PLAYERS.filter((each) => piece?.players.some(({ plays }) => plays === each));
  if (playing.length === 0) return null;
  return (
    <section aria-labelledby={`${id}-players`} className={styles.panel}>
      <h2 id={`${id}-players`}>{words.play.players}</h2>
      <ul className={styles.players}>
        {playing.map((player) => {
          const name = words.play.playerNames[player];
          const { muted, solo, level } = mix[player];
          return (
            <li key={player}>
              <span>{name}</span>
              <button
                aria-pressed={muted}
                aria-label={words.play.muteOf(name)}
                onClick={() => changeMix(player, { muted: !muted })}
              >
                {words.play.mute}
              </button>
              <button
                aria-pressed={solo}
                aria-label={words.play.soloOf(name)}
                onClick={() => changeMix(player, { solo: !solo })}
              >
                {words.play.solo}
              </button>
              <input
                type="range"
                min={0}
                max={2}
                step={0.05}
                value={level}
                aria-label={words.play.levelOf(name)}
                aria-valuetext={words.play.levelValue(Math.round(level * 100))}
                onChange={({ target }) => changeMix(player, { level: Number(target.value) })}
              />
            </li>
          );
        })}
        <li>
          <span>{words.play.yourKeys}</span>
          <button
            aria-pressed={!keyboardSounds}
            aria-label={words.play.muteOf(words.play.yourKeys)}
            onClick={() => changeSettings({ keyboardSounds: !keyboardSounds })}
          >
            {words.play.mute}
          </button>
          <span />
          <input
            type="range"
            min={0}
            max={2}
            step={0.05}
            value={keyboardLevel}
            aria-label={words.play.levelOf(words.play.yourKeys)}
            aria-valuetext={words.play.levelValue(Math.round(keyboardLevel * 100))}
            onChange={({ target }) => changeSettings({ keyboardLevel: Number(target.value) })}
          />
        </li>
      </ul>
    </section>
  );
}
