import type { SceneKind } from '@fivespan/core';
import type { FilmShape } from '@fivespan/formats/film';
import type { VoiceLaid } from '../../features/handing-out/index.ts';

type VoiceFault = Extract<VoiceLaid, { kind: 'refused' }>['fault'];

/** The film of a lesson. */
export const FILM_WORDS = {
  title: 'Film',
  about: 'The lesson as a film, without a camera.',
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
  scenesUsual: 'The usual ones. Changes are kept with the lesson.',
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
  voice: 'Voice',
  voiceLay: 'Lay a voice under it',
  voiceLayTo: (scene: string) => `Lay a voice under it: ${scene}`,
  voiceAsk: 'Is it your own voice? If not: did you ask “May I use your voice in a film?”',
  voiceMayI: 'It is mine, or I asked: choose the recording',
  voiceNot: 'Not now',
  voiceReading: 'The recording is being listened to …',
  voiceText: (name: string, clock: string) => `${name}, ${clock}`,
  voiceOff: 'Take the voice off',
  voiceOffOf: (scene: string) => `Take the voice off: ${scene}`,
  voiceMissing: (name: string, clock: string) =>
    `${name}, ${clock}: this recording is not in this browser. The film is made without it until you lay it here again.`,
  voiceOtherKey: (key: string) => `It speaks of ${key}: films in other keys are made without it.`,
  voiceHint: 'WAV, MP3, FLAC or M4A, up to 5 minutes. The scene takes its length; the music goes softer.',
  voiceFaults: {
    'too large': (name: string) => `${name} is larger than 100 MB: record it shorter, or save it as MP3.`,
    'too long': (name: string) => `${name} is longer than 5 minutes: part it between scenes.`,
    unreadable: (name: string) => `${name} is no recording that this browser can read: take WAV, MP3, FLAC or M4A.`,
    silent: (name: string) => `${name} is silent from its beginning to its end: was the microphone on?`,
    'no room': (name: string) =>
      `${name} could not be kept: this browser has no room left for it. Nothing was changed.`,
  } satisfies Record<VoiceFault, (name: string) => string>,
  earlier: (scene: string) => `Earlier: ${scene}`,
  later: (scene: string) => `Later: ${scene}`,
  remove: (scene: string) => `Take out: ${scene}`,
  add: 'Add a scene',
  usual: 'Back to the usual scenes',

  follow: {
    title: 'A take',
    choose: 'Film what somebody played …',
    about: 'One that is kept here, or a MIDI file.',
    none: 'No take is kept in this browser yet: record one in Play, or open a MIDI file.',
    file: 'Open a MIDI file',
    notNow: 'Not now',
    mayI: 'A film shows what somebody played. Ask them first: “May I film what you played?”',
    agreed: 'They agreed, or it is my own',
    follows: (name: string) => `The film follows ${name}: the keys in their time, and the positions that were found.`,
    syncAbout:
      'To lay it over a camera’s picture, say where a clap or a note is in the camera’s film. A second moment near the end corrects clocks that differ.',
    markFilm: ['In the camera’s film, at', 'and at'],
    markTake: 'one hears',
    moments: { first: 'the first note', last: 'the last note', seconds: 'this time of the recording' },
    marksFault: {
      'too many': 'Two moments are enough.',
      'too close': 'The two moments must lie a second apart or more. The first alone is followed.',
      'too far off':
        'The two moments lie much further apart in one recording than in the other: is each the moment it is taken for? The first alone is followed.',
    },
    offset: 'Everything later by, in ms',
    player: 'Played by',
    playerHint: 'nobody is named',
    stop: 'Back to the lesson’s own scenes',
    save: 'Save the film of the take',
    faults: {
      'none chosen': 'No file was chosen.',
      'too large': 'This file is larger than 8 MB, more than any hour of piano has.',
      unreadable: 'This recording could not be read.',
    },
  },

  save: (keys: number) => (keys === 1 ? 'Save film' : `Save ${keys} films, one after the other`),
  keysHint: 'The keys are those of ‘Several keys at once’.',
  saveTexts: 'Save captions and cue sheet',
  care: 'Play films to a class at a moderate level.',
};
