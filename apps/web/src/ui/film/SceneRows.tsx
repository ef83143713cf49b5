import {
  barsOf,
  formatKey,
  keysAlong,
  LONGEST_SCENE_SECONDS,
  LONGEST_WORDS,
  MOST_SCENES,
  parseKey,
  SCENE_KINDS,
  sceneOf,
  typeset,
  USUAL_SCENES,
  type Chart,
  type Key,
  type Scene,
  type SceneKind,
} from '@fivespan/core';
import { useId } from 'react';
import { changeLesson } from '../../features/open-lesson/index.ts';
import { words } from '../words/index.ts';
import { useKeyText } from '../words/key-text.ts';
import styles from './Film.module.css';
import { SceneVoice } from './SceneVoice.tsx';

const nameOf = ({ kind, isDemonstrated }: Scene): string =>
  kind === 'play' && !isDemonstrated ? words.film.yourTurn : words.film.sceneNames[kind];

/** What is asked for under `Add a scene`: a kind, or a play scene whose right hand is the student's. */
type Addable = SceneKind | 'turn';
const ADDABLE: readonly Addable[] = [...SCENE_KINDS.slice(0, 4), 'turn', ...SCENE_KINDS.slice(4)];

function changed(scenes: readonly Scene[], together?: string): void {
  changeLesson({ choices: { film: scenes }, ...(together === undefined ? {} : { together }) });
}

/** The scenes of a film in order: words to change, scenes to move, add and take out. Kept with the lesson. */
export function SceneRows({
  scenes: chosen,
  own,
  chart,
}: {
  readonly scenes: readonly Scene[] | null;
  readonly own: Key;
  readonly chart: Chart;
}) {
  const id = useId();
  const keyText = useKeyText();
  const scenes = chosen ?? USUAL_SCENES;
  const keys = keysAlong(own, 'fourths');
  const slots = barsOf(chart).flatMap(({ number, slots: inBar }) =>
    inBar.flatMap(({ id: slot, chord }) =>
      chord.kind === 'chord' ? [{ slot, text: words.film.sceneChordText(number, typeset(chord.symbol)) }] : [],
    ),
  );
  const put = (index: number, change: Partial<Scene>, together?: string): void =>
    changed(
      scenes.map((scene, at) => (at === index ? { ...scene, ...change } : scene)),
      together,
    );
  const swap = (index: number, other: number): void => {
    const moved = [...scenes];
    const [from, to] = [scenes[index], scenes[other]];
    if (from === undefined || to === undefined) return;
    moved[index] = to;
    moved[other] = from;
    changed(moved);
  };
  const add = (kind: Addable): void => {
    const scene =
      kind === 'turn'
        ? sceneOf('play', { isDemonstrated: false })
        : sceneOf(kind, kind === 'key change' ? { key: keys[1] ?? own } : {});
    changed([...scenes, scene]);
  };
  return (
    <fieldset className={styles.scenes}>
      <legend>{words.film.scenes}</legend>
      {chosen === null && <p className="soft">{words.film.scenesUsual}</p>}
      <ol>
        {scenes.map((scene, index) => {
          const name = nameOf(scene);
          return (
            <li key={index}>
              <span className={styles.name}>{name}</span>
              <span className={styles.acts}>
                <button
                  aria-label={words.film.earlier(name)}
                  disabled={index === 0}
                  onClick={() => swap(index, index - 1)}
                >
                  ↑
                </button>
                <button
                  aria-label={words.film.later(name)}
                  disabled={index === scenes.length - 1}
                  onClick={() => swap(index, index + 1)}
                >
                  ↓
                </button>
                <button
                  aria-label={words.film.remove(name)}
                  disabled={scenes.length === 1}
                  onClick={() => changed(scenes.filter((_, at) => at !== index))}
                >
                  ✕
                </button>
              </span>
              {scene.kind === 'key change' && (
                <label className={styles.key}>
                  {words.film.sceneKey}{' '}
                  <select
                    value={formatKey(scene.key ?? own)}
                    onChange={(event) => put(index, { key: parseKey(event.target.value) ?? own })}
                  >
                    {keys.map((key) => (
                      <option key={formatKey(key)} value={formatKey(key)}>
                        {keyText(key)}
                      </option>
                    ))}
                  </select>
                </label>
              )}
              {(scene.kind === 'idea' || scene.kind === 'position') && (
                <label className={styles.key}>
                  {words.film.sceneChord}{' '}
                  <select
                    value={slots.some(({ slot }) => slot === scene.slot) ? (scene.slot ?? '') : ''}
                    onChange={(event) => put(index, { slot: event.target.value === '' ? null : event.target.value })}
                  >
                    <option value="">{words.film.sceneChordFound}</option>
                    {slots.map(({ slot, text }) => (
                      <option key={slot} value={slot}>
                        {text}
                      </option>
                    ))}
                  </select>
                </label>
              )}
              {scene.kind !== 'play' && (
                <label className={styles.key}>
                  {words.film.sceneSeconds}{' '}
                  <input
                    type="number"
                    min={1}
                    max={LONGEST_SCENE_SECONDS}
                    placeholder={words.film.sceneSecondsHint}
                    value={scene.seconds ?? ''}
                    onChange={(event) => {
                      const seconds = Number(event.target.value);
                      const isLength = seconds >= 1 && seconds <= LONGEST_SCENE_SECONDS;
                      put(index, { seconds: isLength ? seconds : null }, `scene ${index} seconds`);
                    }}
                  />
                </label>
              )}
              <SceneVoice
                scene={scene}
                index={index}
                name={name}
                own={own}
                takeOff={() => put(index, { voice: null })}
              />
              <input
                type="text"
                aria-label={words.film.sceneWords(name)}
                placeholder={words.film.sceneWordsHint}
                maxLength={LONGEST_WORDS}
                value={scene.words ?? ''}
                onChange={(event) =>
                  put(index, { words: event.target.value === '' ? null : event.target.value }, `scene ${index}`)
                }
              />
            </li>
          );
        })}
      </ol>
      <p className={styles.line}>
        <label htmlFor={`${id}-add`}>{words.film.add}</label>{' '}
        <select
          id={`${id}-add`}
          value=""
          disabled={scenes.length >= MOST_SCENES}
          onChange={(event) => add(event.target.value as Addable)}
        >
          <option value="" disabled>
            …
          </option>
          {ADDABLE.map((kind) => (
            <option key={kind} value={kind}>
              {kind === 'turn' ? words.film.yourTurn : words.film.sceneNames[kind]}
            </option>
          ))}
        </select>
      </p>
      {chosen !== null && (
        <p>
          <button className="plain" onClick={() => changeLesson({ choices: { film: null } })}>
            {words.film.usual}
          </button>
        </p>
      )}
    </fieldset>
  );
}
