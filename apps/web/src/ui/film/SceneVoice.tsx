import { clockText, formatKey, type Key, type Scene } from '@fivespan/core';
import { useState } from 'react';
import { $voices, layVoice, type VoiceLaid } from '../../features/handing-out/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import { useKeyText } from '../words/key-text.ts';
import styles from './Film.module.css';

type Asking = 'no' | 'may I' | 'reading';

/** The recording under a scene: laid after a plain question, named with its length, taken off. */
export function SceneVoice({
  scene,
  index,
  name,
  own,
  takeOff,
}: {
  readonly scene: Scene;
  readonly index: number;
  readonly name: string;
  readonly own: Key;
  readonly takeOff: () => void;
}) {
  const here = useStore($voices);
  const keyText = useKeyText();
  const [asking, setAsking] = useState<Asking>('no');
  const [refused, setRefused] = useState<Extract<VoiceLaid, { kind: 'refused' }> | null>(null);
  const { voice } = scene;
  const choose = async (): Promise<void> => {
    setAsking('reading');
    setRefused(null);
    const laid = await layVoice(index, own);
    setAsking('no');
    if (laid.kind === 'refused') setRefused(laid);
  };
  const isHere = voice === null || here === null || here.has(voice.hash);
  const clock = voice === null ? '' : clockText(voice.seconds);
  return (
    <div className={styles.voice}>
      {voice !== null && (
        <p>
          {words.film.voice}:{' '}
          {isHere ? words.film.voiceText(voice.name, clock) : words.film.voiceMissing(voice.name, clock)}
          {formatKey(voice.key) !== formatKey(own) && <> {words.film.voiceOtherKey(keyText(voice.key))}</>}
        </p>
      )}
      {asking === 'no' && (
        <span className={styles.line}>
          {(voice === null || !isHere) && (
            <button className="plain" aria-label={words.film.voiceLayTo(name)} onClick={() => setAsking('may I')}>
              {words.film.voiceLay}
            </button>
          )}
          {voice !== null && (
            <button className="plain" aria-label={words.film.voiceOffOf(name)} onClick={takeOff}>
              {words.film.voiceOff}
            </button>
          )}
        </span>
      )}
      {asking === 'may I' && (
        <div role="group" aria-label={words.film.voiceAsk}>
          <p>{words.film.voiceAsk}</p>
          <p className="soft">{words.film.voiceHint}</p>
          <span className={styles.line}>
            <button onClick={() => void choose()}>{words.film.voiceMayI}</button>
            <button className="plain" onClick={() => setAsking('no')}>
              {words.film.voiceNot}
            </button>
          </span>
        </div>
      )}
      <p role="status" className={asking === 'reading' || refused !== null ? undefined : 'unseen'}>
        {asking === 'reading' && words.film.voiceReading}
        {refused !== null && words.film.voiceFaults[refused.fault](refused.name)}
      </p>
    </div>
  );
}
