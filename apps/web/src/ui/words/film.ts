import type { SceneKind } from '@fivespan/core';
import type { FilmShape } from '@fivespan/formats/film';

/** The film of a lesson. */
export const FILM_WORDS = {
  title: 'Film',
  about: 'The lesson as a film without a camera: the thumb now and next, the notes line by line, the trio.',
  picture: 'A moment of the film',
  drawing: 'The film is being put together …',
  cannotShow: (message: string) => `The film cannot be shown (${message}).`,
  moment: 'Moment',
  momentText: (clock: string, all: string, scene: string) => `${clock} of ${all}: ${scene}`,

  shape: 'Shape',
  shapes: { wide: 'Wide, 16:9', tall: 'Tall, 9:16', square: 'Square' } satisfies Record<FilmShape, string>,
  ground: 'Ground',
  grounds: {
    light: 'Paper',
    dark: 'Dark',
    clear: 'None, to lie over a camera’s picture (WebM)',
  },
  notes: 'Written notes',
  captions: 'Captions in the picture',
  playOnly: 'Only what is played, no titles',
  height: 'Size',
  heightText: (pixels: number) => `${pixels} lines`,
  fps: 'Frames a second',

  scenes: 'Scenes',
  scenesUsual: 'The usual ones; change one, and they are kept with the lesson.',
  sceneNames: {
    title: 'Title',
    idea: 'Idea: a chord, its scale, what rubs',
    position: 'One hand',
    play: 'Played',
    'key change': 'Another key',
    end: 'End',
  } satisfies Record<SceneKind, string>,
  yourTurn: 'Played, the right hand left to the student',
  sceneWords: (scene: string) => `What you say: ${scene}`,
  sceneWordsHint: 'found in the lesson',
  sceneKey: 'Key from here on',
  sceneChord: 'About the chord',
  sceneChordFound: 'the one that sounds longest',
  sceneChordText: (bar: number, symbol: string) => `bar ${bar}: ${symbol}`,
  sceneSeconds: 'Seconds at least',
  sceneSecondsHint: 'as long as it takes',
  earlier: (scene: string) => `Earlier: ${scene}`,
  later: (scene: string) => `Later: ${scene}`,
  remove: (scene: string) => `Take out: ${scene}`,
  add: 'Add a scene',
  usual: 'Back to the usual scenes',

  save: (keys: number) => (keys === 1 ? 'Save film' : `Save ${keys} films, one after the other`),
  keysHint: 'The keys are those of ‘Several keys at once’.',
  saveTexts: 'Save captions and cue sheet',
  care: 'Films are as loud as others are; play them to a class at a moderate level.',
};
