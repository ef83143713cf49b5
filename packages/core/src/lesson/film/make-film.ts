import type { Chart } from '../../chart/index.ts';
import { USUAL_SCENES, type FilmTimeline, type Scene, type Still, type TimedScene } from '../../film/index.ts';
import { UNWATCHED, type Progress } from '../../progress.ts';
import { DEFAULT_TEMPO_BPM } from '../../score/index.ts';
import { formatKey, type Key } from '../../theory/index.ts';
import type { Choices, Lesson } from '../lesson.ts';
import { makeLesson } from '../make-lesson.ts';
import type { ProgrammeEvent, ProgrammePlayer } from '../programme/index.ts';
import { fitVoice } from './fit-voice.ts';
import { playScene } from './play-scene.ts';
import type { FilmSound, ScenePart, SceneSources } from './scene-part.ts';
import { takeScene, type FilmTake } from './take-scene.ts';
import { endScene, ideaScene, keyScene, positionScene, titleScene } from './shown-scenes.ts';
import type { BarStretch } from './line-bars.ts';

/** A recording where it is laid under a film. */
export interface FilmVoice {
  readonly hash: string;
  readonly startSeconds: number;
  readonly seconds: number;
}

/** A recording that a film goes without, and why: its sound is not at hand, or it speaks of another key's notes. */
export interface LeftOutVoice {
  /** The scene's place among the lesson's, from 0. */
  readonly scene: number;
  readonly name: string;
  readonly why: 'missing' | 'another key';
}

/** A lesson's film: what is seen, said and heard, and the lessons its lines are written in. */
export interface Film extends FilmTimeline {
  readonly lessons: readonly Lesson[];
  readonly sound: FilmSound;
  /** What is spoken in it, in order of time. */
  readonly voices: readonly FilmVoice[];
  readonly leftOut: readonly LeftOutVoice[];
  /** Who played, where somebody typed it. */
  readonly player?: string;
}

export interface FilmOptions {
  /** The key it begins in; null for the one the lesson is shown in. */
  readonly key?: Key | null;
  /** Only these bars of every play scene, as they are counted on paper, both among them; null for all. */
  readonly bars?: { readonly from: number; readonly to: number } | null;
  /** Whether only what is played is filmed. */
  readonly playOnly?: boolean;
  /** A performance to follow: the film is it alone, in its time. */
  readonly take?: FilmTake | null;
  /** Hashes of the recordings that are at hand; a scene whose voice is not among them is made without it. */
  readonly voices?: readonly string[];
}

/** A tune that takes longer than this is played once where nobody chose its scenes. */
const LONGEST_PLAYED_TWICE_SECONDS = 75;

/** A film that ends with what is played stays until the last notes have died away. */
const RINGING_SECONDS = 2;

/** The first time through a stretch of bars that are counted on paper, as places in the form. */
function stretchIn({ score }: Lesson, bars: FilmOptions['bars']): BarStretch | null {
  if (bars == null) return null;
  const from = score.bars.findIndex(({ number }) => number === bars.from);
  if (from < 0) return null;
  const last = score.bars.findIndex(({ number }, index) => index >= from && number === bars.to);
  return { from, to: (last < 0 ? score.bars.length - 1 : last) + 1 };
}

function scenePart(scene: Scene, sources: SceneSources, choices: Choices, bars: BarStretch | null) {
  switch (scene.kind) {
    case 'title':
      return titleScene(scene, sources);
    case 'idea':
      return ideaScene(scene, sources);
    case 'position':
      return positionScene(scene, sources);
    case 'play':
      return playScene(scene, sources, choices, bars);
    case 'key change':
      return keyScene(scene, sources);
    case 'end':
      return endScene(scene, sources);
  }
}

/** Scenes one after the other, with what is heard in them in one schedule. */
class Joining {
  readonly stills: Still[] = [];
  readonly cues: FilmTimeline['cues'][number][] = [];
  readonly scenes: TimedScene[] = [];
  readonly players: ProgrammePlayer[] = [];
  readonly events: ProgrammeEvent[] = [];
  readonly voices: FilmVoice[] = [];
  now = 0;

  add({ kind, isDemonstrated, voice }: Scene, key: Key, part: ScenePart): void {
    const later = <Timed extends { readonly startSeconds: number }>(each: Timed): Timed => ({
      ...each,
      startSeconds: each.startSeconds + this.now,
    });
    this.stills.push(...part.stills.map(later));
    this.cues.push(...part.cues.map((cue) => ({ ...later(cue), endSeconds: cue.endSeconds + this.now })));
    const places = part.players.map((player) => {
      const known = this.players.findIndex((each) => each.name === player.name);
      return known >= 0 ? known : this.players.push(player) - 1;
    });
    this.events.push(...part.events.map((event) => ({ ...later(event), player: places[event.player] as number })));
    if (voice !== null) this.voices.push({ hash: voice.hash, startSeconds: this.now, seconds: voice.seconds });
    const endSeconds = this.now + part.endSeconds;
    this.scenes.push({ kind, isDemonstrated, key, startSeconds: this.now, endSeconds });
    this.now = endSeconds;
  }
}

/**
 * A lesson as a film: its scenes in order, each filled from the analysis. A lesson whose scenes nobody chose has the usual ones, about two
 * minutes. The same chart, choices and options give the same film.
 * @param progress counts scenes
 * @returns undefined where it was cancelled
 * @example makeFilm(chart, DEFAULT_CHOICES)?.scenes.map(({ kind }) => kind) // → ['title', 'idea', 'position', 'play', 'play', 'end']
 */
export function makeFilm(
  chart: Chart,
  choices: Choices,
  { key = null, bars = null, playOnly = false, take = null, voices = [] }: FilmOptions = {},
  progress: Progress = UNWATCHED,
): Film | undefined {
  const lessons: Lesson[] = [makeLesson(chart, choices, key)];
  const tempoBpm = tempoOf(chart, choices);
  const joining = new Joining();
  if (take !== null) return filmOfTake(lessons[0] as Lesson, chart.title, tempoBpm, take);
  const chosen = chosenScenes(lessons[0] as Lesson, chart, choices);
  const begun = formatKey((lessons[0] as Lesson).analysis.key);
  const leftOut: LeftOutVoice[] = [];
  const scenes = chosen.flatMap((scene, index): Scene[] => {
    if (playOnly && scene.kind !== 'play' && scene.kind !== 'key change') return [];
    if (scene.voice === null) return [scene];
    const isOfKey = formatKey(scene.voice.key) === begun;
    if (isOfKey && voices.includes(scene.voice.hash)) return [scene];
    leftOut.push({ scene: index, name: scene.voice.name, why: isOfKey ? 'missing' : 'another key' });
    return [{ ...scene, voice: null }];
  });
  let lessonIndex = 0;
  for (const [index, scene] of scenes.entries()) {
    if (progress.cancelled()) return undefined;
    if (scene.key !== null) lessonIndex = lessonIn(lessons, chart, choices, scene.key);
    const lesson = lessons[lessonIndex] as Lesson;
    const heading = { title: chart.title, key: lesson.analysis.key, tempoBpm };
    // a voice says how long a scene is: it is made as long as it is by itself, then fitted
    const own = scene.voice === null ? scene : { ...scene, seconds: null };
    const part = scenePart(own, { lesson, lessonIndex, heading }, choices, stretchIn(lesson, bars));
    if (part !== undefined) joining.add(scene, lesson.analysis.key, fitVoice(part, scene));
    progress.report(index + 1, scenes.length);
  }
  const { stills, cues, players, now } = joining;
  const rings = joining.scenes.at(-1)?.kind === 'play';
  const endSeconds = now + (rings ? RINGING_SECONDS : 0);
  const events = joining.events.toSorted((a, b) => a.startSeconds - b.startSeconds);
  return {
    title: chart.title,
    lessons,
    stills,
    cues,
    scenes: joining.scenes.map((scene, index, all) => (index === all.length - 1 ? { ...scene, endSeconds } : scene)),
    endSeconds,
    sound: { players, events, endSeconds: now },
    voices: joining.voices,
    leftOut,
  };
}

/** A performance as a film: its one scene. */
function filmOfTake(lesson: Lesson, title: string, tempoBpm: number, take: FilmTake): Film {
  const { key } = lesson.analysis;
  const part = takeScene({ lesson, lessonIndex: 0, heading: { title, key, tempoBpm } }, take);
  const { stills, cues, players, events, endSeconds } = part;
  return {
    title,
    lessons: [lesson],
    stills,
    cues,
    scenes: [{ kind: 'play', isDemonstrated: true, key, startSeconds: 0, endSeconds }],
    endSeconds,
    sound: { players, events, endSeconds },
    voices: [],
    leftOut: [],
    ...(take.player === null ? {} : { player: take.player }),
  };
}

/** The place of the lesson in a key, made where it is not there yet. */
function lessonIn(lessons: Lesson[], chart: Chart, choices: Choices, key: Key): number {
  const known = lessons.findIndex(({ analysis }) => formatKey(analysis.key) === formatKey(key));
  return known >= 0 ? known : lessons.push(makeLesson(chart, choices, key)) - 1;
}

/** How fast a film's music goes: as the lesson's programme begins, else as the chart says. */
function tempoOf({ tempoBpm }: Chart, { programme }: Choices): number {
  return programme?.choruses[0]?.tempoBpm ?? tempoBpm ?? DEFAULT_TEMPO_BPM;
}

/** A lesson's scenes: those that were chosen, else the usual ones; a long tune is not played twice then. */
export function chosenScenes({ score }: Lesson, chart: Chart, choices: Choices): readonly Scene[] {
  if (choices.film !== null) return choices.film;
  const seconds = ((score.endTicks / 960) * 60) / tempoOf(chart, choices);
  return seconds <= LONGEST_PLAYED_TWICE_SECONDS
    ? USUAL_SCENES
    : USUAL_SCENES.filter(({ kind, isDemonstrated }) => kind !== 'play' || isDemonstrated);
}
