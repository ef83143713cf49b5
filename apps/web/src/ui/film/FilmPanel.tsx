import { clockText, FRAME_RATES, formatKey, parseKey, type FrameRate, type Key } from '@fivespan/core';
import { FILM_SHAPES, frameSize, type FilmHeight, type FilmLook, type FilmShape } from '@fivespan/formats/film';
import { useEffect, useId, useMemo, useRef, useState } from 'react';
import { FilmPreview, type MadeStill } from '../../features/film/index.ts';
import {
  $voices,
  filmSource,
  saveFilms,
  saveFilmTexts,
  saveTakeFilm,
  showVoices,
  takeSource,
  type FilmWish,
  type Following,
  type PrintedLesson,
} from '../../features/handing-out/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';
import panel from '../pages/Panel.module.css';
import styles from './Film.module.css';
import { FollowTake } from './FollowTake.tsx';
import { SceneRows } from './SceneRows.tsx';

type Ground = 'light' | 'dark' | 'clear';
const GROUNDS: readonly Ground[] = ['light', 'dark', 'clear'];
const HEIGHTS: readonly FilmHeight[] = [1080, 720];

/** What a film looks like, as it is chosen here. */
function lookOf(shape: FilmShape, ground: Ground, hasNotes: boolean, hasCaptions: boolean): FilmLook {
  return {
    shape,
    theme: ground === 'dark' ? 'dark' : 'light',
    ground: ground === 'clear' ? 'clear' : 'paper',
    hasNotes: ground === 'clear' ? false : hasNotes,
    hasCaptions,
  };
}

/** The lesson as a film: a moment of it to look at, how it is wanted, its scenes, and saving it. */
export function FilmPanel({ lesson, own }: { readonly lesson: PrintedLesson; readonly own: Key }) {
  const id = useId();
  const [shape, setShape] = useState<FilmShape>('wide');
  const [ground, setGround] = useState<Ground>('light');
  const [hasNotes, setNotes] = useState(true);
  const [hasCaptions, setCaptions] = useState(true);
  const [playOnly, setPlayOnly] = useState(false);
  const [height, setHeight] = useState<FilmHeight>(1080);
  const [fps, setFps] = useState<FrameRate>(30);
  const [following, setFollowing] = useState<Following | null>(null);
  const look = useMemo(() => lookOf(shape, ground, hasNotes, hasCaptions), [shape, ground, hasNotes, hasCaptions]);
  const wish: FilmWish = { look, height, fps, playOnly };
  const keys = lesson.choices.keys.length === 0 ? [own] : lesson.choices.keys;
  const check = (label: string, isOn: boolean, put: (isOn: boolean) => void) => (
    <label className={panel.short}>
      <input type="checkbox" checked={isOn} onChange={() => put(!isOn)} />
      {label}
    </label>
  );
  return (
    <>
      <p>{words.film.about}</p>
      <Moment lesson={lesson} own={own} look={look} playOnly={playOnly} following={following} />
      <fieldset>
        <legend>{words.film.shape}</legend>
        {FILM_SHAPES.map((each) => (
          <label key={each} className={panel.option}>
            <input type="radio" name={`${id}-shape`} checked={shape === each} onChange={() => setShape(each)} />
            <span>{words.film.shapes[each]}</span>
          </label>
        ))}
      </fieldset>
      <fieldset>
        <legend>{words.film.ground}</legend>
        {GROUNDS.map((each) => (
          <label key={each} className={panel.option}>
            <input type="radio" name={`${id}-ground`} checked={ground === each} onChange={() => setGround(each)} />
            <span>{words.film.grounds[each]}</span>
          </label>
        ))}
      </fieldset>
      <div className={styles.moment}>
        {ground !== 'clear' && check(words.film.notes, hasNotes, setNotes)}
        {check(words.film.captions, hasCaptions, setCaptions)}
        {following === null && check(words.film.playOnly, playOnly, setPlayOnly)}
      </div>
      <p className={styles.line}>
        <label htmlFor={`${id}-height`}>{words.film.height}</label>
        <select
          id={`${id}-height`}
          value={height}
          onChange={(event) => setHeight(Number(event.target.value) as FilmHeight)}
        >
          {HEIGHTS.map((each) => (
            <option key={each} value={each}>
              {words.film.heightText(each)}
            </option>
          ))}
        </select>
        <label htmlFor={`${id}-fps`}>{words.film.fps}</label>
        <select id={`${id}-fps`} value={fps} onChange={(event) => setFps(Number(event.target.value) as FrameRate)}>
          {FRAME_RATES.map((each) => (
            <option key={each} value={each}>
              {each}
            </option>
          ))}
        </select>
      </p>
      <FollowTake lesson={lesson} following={following} put={setFollowing} />
      {following === null && <SceneRows scenes={lesson.choices.film} own={own} chart={lesson.chart} />}
      <p className={styles.line}>
        <button
          className="main"
          onClick={() => void (following === null ? saveFilms(lesson, keys, wish) : saveTakeFilm(following, wish))}
        >
          {following === null ? words.film.save(keys.length) : words.film.follow.save}
        </button>
        <button
          onClick={() =>
            void (following === null
              ? saveFilmTexts(filmSource(lesson, keys[0] ?? own, playOnly), keys[0] ?? own, wish)
              : saveFilmTexts(takeSource(following), following.take.key, wish))
          }
        >
          {words.film.saveTexts}
        </button>
      </p>
      <p className="soft">
        {following === null && words.film.keysHint} {words.film.care}
      </p>
    </>
  );
}

/** Pixels of the picture's short side: twice what a side column shows, for sharp screens. */
const PICTURE_HEIGHT = 480;

/** A moment of the film, and the slider that chooses it. The film is put together when the panel is first open. */
function Moment({
  lesson,
  own,
  look,
  playOnly,
  following,
}: {
  readonly lesson: PrintedLesson;
  readonly own: Key;
  readonly look: FilmLook;
  readonly playOnly: boolean;
  readonly following: Following | null;
}) {
  const id = useId();
  const canvas = useRef<HTMLCanvasElement>(null);
  const preview = useRef<FilmPreview | null>(null);
  const [isSeen, setSeen] = useState(false);
  const [seconds, setSeconds] = useState(0);
  const [still, setStill] = useState<MadeStill | null>(null);
  const [fault, setFault] = useState<string | null>(null);
  const keyName = formatKey(own);
  const here = useStore($voices);
  const source = useMemo(
    // the key by its name, which stays the same where another object says the same key
    () => {
      if (following !== null) return takeSource(following);
      return here === null ? null : filmSource(lesson, parseKey(keyName) as Key, playOnly);
    },
    [lesson, keyName, playOnly, here, following],
  );
  useEffect(() => {
    if (isSeen) void showVoices();
  }, [isSeen]);
  useEffect(() => {
    // folded away, nothing of it is drawn
    const details = canvas.current?.closest('details');
    if (details == null) {
      setSeen(true);
      return undefined;
    }
    const look = (): void => setSeen(details.open);
    look();
    details.addEventListener('toggle', look);
    return () => details.removeEventListener('toggle', look);
  }, []);
  useEffect(() => {
    const own = new FilmPreview(
      (shown) => {
        setStill(shown);
        setFault(null);
      },
      (error) => setFault(error instanceof Error ? error.message : String(error)),
    );
    preview.current = own;
    return () => own.close();
  }, []);
  useEffect(() => {
    if (!isSeen || source === null || canvas.current === null) return;
    preview.current?.show({ canvas: canvas.current, source, look, seconds });
  }, [isSeen, source, look, seconds]);
  const size = frameSize(look.shape, PICTURE_HEIGHT);
  const scene = still?.scenes.findLast(({ startSeconds }) => startSeconds <= still.seconds)?.title ?? '';
  const all = still?.endSeconds ?? 0;
  const text = still === null ? words.film.drawing : words.film.momentText(clockText(seconds), clockText(all), scene);
  return (
    <div className={styles.moment}>
      <canvas
        ref={canvas}
        width={size.width}
        height={size.height}
        className={look.ground === 'clear' ? `${styles.picture} ${styles.clear}` : styles.picture}
        role="img"
        aria-label={words.film.picture}
      />
      <label htmlFor={`${id}-moment`}>{words.film.moment}</label>
      <input
        id={`${id}-moment`}
        type="range"
        min={0}
        max={Math.max(1, Math.floor(all * 10) / 10)}
        step={0.1}
        value={seconds}
        aria-valuetext={text}
        onChange={(event) => setSeconds(Number(event.target.value))}
      />
      <p className="soft">{fault === null ? text : words.film.cannotShow(fault)}</p>
    </div>
  );
}
