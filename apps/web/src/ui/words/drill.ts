import type { KeyRound } from '@fivespan/core';

const ROUNDS: Readonly<Record<KeyRound, string>> = {
  fourths: 'round by fourths',
  fifths: 'round by fifths',
  'half steps up': 'up by half steps',
  'half steps down': 'down by half steps',
  'whole steps up': 'up by whole steps',
  'minor thirds up': 'up by minor thirds',
  'major thirds up': 'up by major thirds',
  random: 'in an order drawn by the seed',
};

const keysText = (keys: number): string => (keys === 1 ? 'one key' : `${keys} keys`);
const bars = (from: number, to: number): string => (from === to ? `bar ${from}` : `bars ${from}–${to}`);

export const DRILL_PANEL_WORDS = {
  title: 'Drill',
  about: 'Some bars of this tune, in one key after the other.',
  kind: 'What is practised',
  listenFor: (what: readonly string[]) => `Listen for: ${what.join(' ')}`,
  line: 'The line',
  chorusLine: 'what the chorus plays over the bars',
  phrase: (name: string) => `‘${name}’, a kept phrase`,
  phraseOver: 'The phrase lies over',
  phrasePlaces: { 'own chords': 'chords like its own', bars: 'bars I choose' },
  ownLeftOut: 'Your own notes are not in a drill of this kind; the same line in every key keeps them.',
  fromBar: 'From bar',
  toBar: 'to bar',
  keys: 'Keys',
  oneKey: (key: string) => `only ${key}`,
  rounds: ROUNDS,
  keyCount: 'How many keys',
  fromTempo: 'From tempo',
  toTempo: 'to tempo',
  tempoAbout: 'The ladder ends earlier where the hand would come late.',
  play: 'Play this drill',
  show: 'Show its sheet',
  showPages: 'Show the lesson’s pages',
  savePdf: 'Save sheet (PDF)',
  saveMusicXml: 'Save sheet (MusicXML)',
  played: (name: string, from: number, to: number, keys: number) => `${name}, ${bars(from, to)}, in ${keysText(keys)}.`,
  playedPhrase: (name: string, phrase: string, over: { from: number; to: number } | null, keys: number) =>
    `${name}, ‘${phrase}’${over === null ? '' : ` over ${bars(over.from, over.to)}`}, in ${keysText(keys)}.`,
  backToTune: 'Play the tune again',
  other: 'Another drill',
};
