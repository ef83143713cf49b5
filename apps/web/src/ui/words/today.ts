/** What Today says. English; another language is another table of this shape. */
import type { LadderOrder, PassAnswer, Step } from '../../features/today/index.ts';

const STEP_NAMES: Readonly<Record<Step, string>> = {
  thumbs: 'Thumbs alone',
  positions: 'Positions up and down',
  'left hand': 'Left hand alone',
  thirds: 'Chords in thirds',
  bars: 'Bars as written',
  own: 'Notes of your own',
  drill: 'The drill below',
};

const ORDERS: Readonly<Record<LadderOrder, string>> = {
  'key by key': 'key by key, the tempo rising',
  'tempo by tempo': 'tempo by tempo, through the keys',
};

const ANSWERS: Readonly<Record<PassAnswer, string>> = { clean: 'clean', 'not yet': 'not yet' };

const minutes = (seconds: number): string => {
  const whole = Math.floor(seconds / 60);
  return whole === 1 ? '1 minute' : `${whole} minutes`;
};

export const TODAY_WORDS = {
  title: 'Today: steps, drills, takes',
  steps: 'Steps',
  step: STEP_NAMES,
  startStep: (step: string): string => `Begin: ${step}`,
  order: 'The ladder of tempi climbs',
  orders: ORDERS,
  allKeys: 'in all twelve keys',
  oneKey: (key: string): string => `in ${key}`,
  keysLabel: 'Keys',
  criterion: 'A pass is clean when',
  met: 'chords met, of a hundred, at least',
  outside: 'keys outside, of a hundred, at most',
  passes: 'clean passes to climb',
  criterionAbout: 'A connected keyboard is judged by that; without one, you judge. No tempo is a must.',
  now: (step: string, key: string, tempoBpm: number): string => `${step} · ${key} · ♩ = ${tempoBpm}`,
  rung: (rung: number, rungs: number): string => `tempo ${rung} of ${rungs}`,
  ask: 'How was that?',
  answer: ANSWERS,
  was: (answer: string, isHeard: boolean): string => `${isHeard ? 'Heard' : 'Noted'}: ${answer}.`,
  hurts: 'It hurts',
  next: 'Next round',
  end: 'Back to the tune',
  tempoHere: 'Tempo',
  keyHere: 'Key',
  hurtTitle: 'Stop here for today, or rest well before you go on.',
  hurtText: [
    'Playing on in pain makes it worse. Let the hand lie, stretch nothing, and do something else.',
    'If it comes back, or is there without playing, see a clinician who knows musicians.',
    'Nothing here is medical advice.',
  ],
  hurtDone: 'I have read that',
  restOffered: (seconds: number): string => `${minutes(seconds)} played. Five minutes of rest now?`,
  restTaken: 'I rest now',
  practised: (seconds: number): string => `${minutes(seconds)} since the last rest.`,
  found: 'Until found',
  foundAbout: 'Time stands until a position’s five keys are found, in any order and octave.',
  foundStart: 'Look for positions',
  foundLeft: 'with the root in the left hand',
  foundAt: (at: number, all: number): string => `position ${at} of ${all}`,
  foundAll: 'All found.',
  foundSkip: 'Go on without it',
  foundShow: 'Show the five keys',
  foundEnd: 'Leave it',
  foundKeyboard: (thumb: string): string => `Keyboard: look for the position on ${thumb}`,
  log: 'What was practised',
  logNone: 'Nothing yet. It is kept on this machine and sent nowhere.',
  logAbout: 'It is kept on this machine and sent nowhere.',
  logByDay: (day: string, seconds: number): string => `${day}: ${minutes(seconds)}`,
  logPicture: 'Minutes by day',
  logTempi: 'The fastest clean pass in each key',
  logTempo: (key: string, tempoBpm: number): string => `${key} ♩ = ${tempoBpm}`,
  logSave: 'Save it (CSV)',
  logForget: 'Take all of it off this machine',
  logFile: 'practice',
} as const;
