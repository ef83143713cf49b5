/** What the play screen says. English; another language is another table of this shape. */
import type {
  Answers,
  BassFeel,
  BassRange,
  CompDensity,
  HeardPlayer,
  KeyCycle,
  Metronome,
  SetUp,
  SwingSource,
  VoicingStyle,
} from '@fivespan/core';
import { lengthText } from './length-text.ts';
import { timeText } from './times.ts';

const NUMBERS = [
  'no',
  'one',
  'two',
  'three',
  'four',
  'five',
  'six',
  'seven',
  'eight',
  'nine',
  'ten',
  'eleven',
  'twelve',
];

const inWords = (count: number): string => NUMBERS[count] ?? String(count);

const PLAYERS: Readonly<Record<HeardPlayer, string>> = {
  'right hand': 'right hand',
  'left hand': 'left hand',
  bass: 'bass',
  drums: 'drums',
  metronome: 'metronome',
};

const SET_UPS: Readonly<Record<SetUp, string>> = {
  trio: 'trio: the bass walks, the left hand plays chords',
  solo: 'alone: the left hand walks, the bass rests',
};

const SWINGS: Readonly<Record<SwingSource, string>> = {
  measured: 'as measured on recordings',
  published: 'as published curves have it',
};

const VOICINGS: Readonly<Record<VoicingStyle, string>> = { rootless: 'rootless voicings', shells: 'shells' };

const COMPINGS: Readonly<Record<CompDensity, string>> = {
  sparse: 'sparsely',
  usual: 'as the line leaves room',
  dense: 'densely',
};

const BASS_FEELS_IN_WORDS: Readonly<Record<BassFeel | 'own', string>> = {
  own: 'as the chart asks',
  two: 'in two',
  four: 'in four',
  even: 'in even eighths',
  ballad: 'as in a ballad',
  waltz: 'as in a waltz',
};

const BASS_RANGES_IN_WORDS: Readonly<Record<BassRange, string>> = {
  'left hand': 'a pianist’s left hand',
  'double bass': 'a double bass',
};

const METRONOMES_IN_WORDS: Readonly<Record<Metronome, string>> = {
  none: 'none',
  'every beat': 'every beat',
  'two and four': 'two and four',
};

const ANSWERS_IN_WORDS: Readonly<Record<Answers, string>> = {
  none: 'no',
  phrases: 'phrase by phrase',
  twos: 'two bars and two bars',
  fours: 'four bars and four bars',
  eights: 'eight bars and eight bars',
};

const CYCLES: Readonly<Record<KeyCycle, string>> = {
  fourths: 'by fourths',
  fifths: 'by fifths',
  'half steps up': 'up by half steps',
  'half steps down': 'down by half steps',
  'whole steps up': 'up by whole steps (six keys)',
  'minor thirds up': 'up by minor thirds (four keys)',
  'major thirds up': 'up by major thirds (three keys)',
};

const choruses = (count: number): string => (count === 1 ? '1 chorus' : `${count} choruses`);

export const PLAY_WORDS = {
  title: 'Play',

  // play view
  thumbNow: 'thumb now',
  thumbFirst: 'first thumb',
  thumbsFirst: 'the thumb may go to',
  nowhere: '–',
  inBeats: (beats: number): string => (beats === 1 ? 'in one beat' : `in ${inWords(beats)} beats`),
  inBars: (bars: number): string => (bars === 1 ? 'in a bar' : `in ${inWords(bars)} bars`),
  stays: 'the hand stays',
  next: 'next thumb',
  /** Said to who does not look. */
  saidFirst: (thumb: string): string => `first thumb ${thumb}`,
  saidNext: (thumb: string): string => `next thumb ${thumb}`,
  saidStays: 'the thumb stays where it is',
  /** `bar 9 of 16`, the number large. */
  barBefore: 'bar ',
  barAfter: (bars: number): string => ` of ${bars}`,
  nextChord: 'next chord',
  keyComing: 'then',
  /** Which time a bar is played that is played several times. */
  time: timeText,
  /** A bar among others: `9, second time`. @param pass null where it is played once */
  barName: (bar: number, pass: number | null): string => (pass === null ? String(bar) : `${bar}, ${timeText(pass)}`),
  countIn: 'count-in',
  rest: 'rest',
  whoseTurn: { listen: 'listen', answer: 'your turn' },
  ending: 'last bar',
  chorus: (chorus: number, all: number): string => `chorus ${chorus} of ${all}`,
  beat: (beat: number, beats: number): string => `beat ${beat} of ${beats}`,
  form: 'The form',
  formHelp: 'Tap a bar to go there. Drag over some, or hold Shift with the arrow keys, to play them again and again.',
  inLoop: 'again and again',
  looped: (from: number, to: number): string =>
    from === to ? `bar ${from}, again and again` : `bars ${from}–${to}, again and again`,
  loopEnds: 'Go on past them',
  section: (name: string): string => `section ${name}`,
  keyboardLabel: (thumb: string, notes: string): string => `Keyboard, thumb on ${thumb}: ${notes}`,
  keyboardEmpty: 'Keyboard',
  freeKeyboardLabel: (thumbs: string): string => `Keyboard, the thumb may go to ${thumbs}, in every octave`,
  nextThumbs: 'then the thumb may go to',
  orThumbs: 'or',
  ways: 'What is shown',
  way: { 'one way': 'one way', 'free hand': 'free hand' },
  pressed: (notes: string): string => `pressed: ${notes}`,

  // the one big control
  start: 'Start',
  stop: 'Stop',
  goOn: (bar: string): string => `Go on from bar ${bar}`,
  again: 'Once more',
  adjust: 'Adjust',
  bare: {
    title: 'A window to show',
    about: 'The picture alone, for a screen or a camera.',
    grounds: { light: 'Light', dark: 'Dark', 'key colour': 'On green, to be made transparent' },
    close: 'Close the window',
    refused: 'The browser lets no window be opened: allow it for this page and try again.',
  },
  back: 'Back to the programme',
  starting: 'Starting …',

  // how it stands
  preparing: 'Making the programme ready …',
  ready: (count: number, seconds: number): string => `Ready: ${choruses(count)}, ${lengthText(seconds)}.`,
  paused: 'Paused',
  ended: 'That was the last bar.',
  handsFree: (pedal: string): string => `Space bar and ${pedal} start and stop.`,
  nothing: 'Nothing to play yet: no bar of the chart can be read.',
  held: 'Say above that you want to go on; then it plays.',
  failed: {
    'too long': 'The programme is longer than two hours. Take some choruses out.',
    'no sound': 'This browser gives no sound here. Allow sound for this page, or try another browser.',
    other: 'The sound could not be made.',
  },
  tryAgain: 'Try again',

  // what is chosen each time, and all else
  choices: 'What is played',
  keys: 'Keys',
  keysOne: (key: string): string => `${key}, every time`,
  keysAll: (key: string): string => `all twelve, by fourths from ${key}`,
  keysOwn: 'as in the programme',
  rightHand: 'Right hand',
  rightHands: {
    mine: 'yours',
    shown: 'played, to listen to',
    answered: 'a phrase played, then you answer',
    alone: 'heard alone',
    'left alone, chords': 'silent: the left hand’s chords alone',
    'left alone, bass': 'silent: the left hand’s bass alone',
  },
  rightHandOwn: 'as in the programme',
  more: 'Programme, players, keyboard and pedal',

  // care
  care: 'Care',
  careLine: 'Moderate loudness. Five minutes’ rest in every half hour. Stop if anything hurts.',
  careTitle: 'Before you begin',
  careText: [
    'Practice can strain a hand, and loud practice harms hearing.',
    'Rest five minutes in every half hour, raise the daily amount slowly, never play in pain, and see a clinician if pain comes back.',
    'Keep the loudness moderate. A position near the limit of your hand is marked; leave it out.',
    'Nothing here is medical advice.',
  ],
  careBegin: 'Start',
  careNotNow: 'Not now',

  // sound
  sound: 'Sound',
  level: 'Loudness',
  levelValue: (percent: number): string => `${percent} %`,
  tryLevel: 'Hear a chord',
  gentle: 'Softer than that: the lesson is for a small hand, which may be a child’s.',

  // practice
  practice: 'Practice',
  startAt: 'Start at',
  startChorus: 'chorus',
  startBar: 'bar',
  startAtChorus: 'Start at chorus',
  startAtBar: 'Start at bar',
  loop: 'Again and again',
  loopFrom: 'from bar',
  loopTo: 'to bar',
  loopFromBar: 'Again and again from bar',
  loopToBar: 'Again and again to bar',
  tempo: 'Tempo',
  tempoValue: (percent: number, bpm: number): string => `${percent} % · ♩ = ${bpm}`,
  tempoAll: (percent: number): string => `${percent} %`,
  asWritten: 'As in the table',

  // players
  players: 'Players',
  playerNames: PLAYERS,
  mute: 'mute',
  solo: 'solo',
  muteOf: (player: string): string => `Mute ${player}`,
  soloOf: (player: string): string => `Only ${player}`,
  levelOf: (player: string): string => `Loudness of ${player}`,

  // keyboard and pedal
  yourKeys: 'your keyboard',
  measureDelay: 'Measure the delay',
  delaySays: {
    measuring: 'Tap any key to the clicks, from the third on.',
    'too few': 'Too few taps were heard. Try once more.',
  },
  delayNow: (ms: number): string =>
    ms === 0 ? 'No delay is taken off what is heard.' : `${ms} ms are taken off what is heard.`,
  computerKeys:
    'The computer’s keys play: the digits are thumbs, from the left; five keys from H on are the fingers of the last one',
  keyboardAndPedal: 'Keyboard and pedal',
  connect: 'Connect a MIDI keyboard',
  midi: {
    'not asked': 'A connected keyboard sounds at once and shows what is pressed.',
    asking: 'The browser asks whether it may …',
    none: 'This browser knows no MIDI. The computer’s own keys work.',
    refused: 'The browser was told not to use MIDI here. Allow it for this page, then connect again.',
  },
  midiNothing: 'No keyboard is connected. Plug one in: it is noticed.',
  midiConnected: (names: string): string => `Connected: ${names}.`,
  midiOpening: 'Its sound is being made ready …',
  midiSilent: 'Its sound could not be made ready.',
  unnamed: 'a MIDI keyboard',
  pedalNow: (pedal: string): string => `Starts and stops: space bar and ${pedal}.`,
  pedalKey: (key: string): string => `the key ${key}`,
  pedalController: (controller: number): string =>
    controller === 64 ? 'the damper pedal' : controller === 67 ? 'the soft pedal' : `pedal ${controller}`,
  assign: 'Choose another pedal or key',
  assigning: 'Press your pedal or key now. Escape leaves it as it is.',

  // the programme
  programme: 'Programme',
  programmeUsual: 'Three choruses, the right hand yours. Changes are kept with the lesson.',
  programmeKept: 'Kept with the lesson.',
  usual: 'Back to the usual',
  columns: { row: 'No.', key: 'Key', tempo: 'Tempo', players: 'Players', change: 'Change' },
  rowKey: (row: number): string => `Key of chorus ${row}`,
  rowTempo: (row: number): string => `Tempo of chorus ${row}, beats a minute`,
  rowPlayer: (row: number, player: string): string => `Chorus ${row}: ${player}`,
  up: (row: number): string => `Move chorus ${row} up`,
  down: (row: number): string => `Move chorus ${row} down`,
  copy: (row: number): string => `Double chorus ${row}`,
  remove: (row: number): string => `Take chorus ${row} out`,
  add: 'Add a chorus',
  bounds: (least: number, most: number): string => `${least} to ${most}`,

  // filling it
  fill: 'Fill the table',
  fillKeys: 'Keys',
  fillOneKey: 'one key',
  cycles: CYCLES,
  fillFrom: 'from',
  fillTempo: 'Tempo',
  fillTo: 'up or down to',
  fillStep: 'in steps of',
  fillChoruses: 'Choruses in each',
  fillMakes: (count: number, seconds: number): string => `Makes ${choruses(count)}, ${lengthText(seconds)}.`,
  fillFaults: {
    'too long': (): string => 'That is longer than two hours.',
    'too many': (most: number): string => `A programme has at most ${most} choruses.`,
  },
  fillDo: 'Replace the table',

  // how it is played
  setUp: 'How it is played',
  setUpLabel: 'Players are',
  setUps: SET_UPS,
  swingLabel: 'Swing',
  swings: SWINGS,
  voicingsLabel: 'The left hand’s chords',
  voicings: VOICINGS,
  compingLabel: 'The left hand comps',
  compings: COMPINGS,
  bassFeelLabel: 'The bass walks',
  bassFeels: BASS_FEELS_IN_WORDS,
  bassRangeLabel: 'The bass is for',
  bassRanges: BASS_RANGES_IN_WORDS,
  countInLabel: 'Bars of count-in',
  restLabel: 'Bars of rest between rounds',
  metronomeLabel: 'Metronome',
  metronomes: METRONOMES_IN_WORDS,
  answersLabel: 'The demonstration leaves time to answer',
  answers: ANSWERS_IN_WORDS,
} as const;
