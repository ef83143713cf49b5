/** A small score of our own for the tests of the writers: no music anybody plays. */
import {
  noteName,
  parseKey,
  readChordSymbol,
  type ChordSymbol,
  type Key,
  type Meter,
  type Pitch,
  type Score,
  type ScoreBar,
  type ScoreNote,
} from '@fivespan/core';

function chordOf(symbol: string): ChordSymbol {
  const read = readChordSymbol(symbol);
  if (!read.ok) throw new TypeError(`symbol must be a chord, not '${symbol}'`);
  return read.value;
}

/** `Bb3` as a pitch. */
export function pitchOf(text: string): Pitch {
  return { name: noteName(text.slice(0, -1)), octave: Number(text.slice(-1)) };
}

/**
 * Notes one after another from a start: `Eb4:480:3` is pitch, ticks, finger; `-:480` a rest; `C4+E4:960` a chord.
 */
export function line(text: string, startTicks = 0): ScoreNote[] {
  let at = startTicks;
  return text
    .trim()
    .split(/\s+/u)
    .flatMap((each) => {
      const [names = '', ticks = '', fingers = ''] = each.split(':');
      const start = at;
      at += Number(ticks);
      if (names === '-') return [];
      return names.split('+').map((name, index) => ({
        pitch: pitchOf(name),
        startTicks: start,
        durationTicks: Number(ticks),
        finger: fingers === '' ? null : Number(fingers[index] ?? fingers[0]),
      }));
    });
}

export function keyOf(text: string): Key {
  const key = parseKey(text);
  if (key === undefined) throw new TypeError(`text must be a key, not '${text}'`);
  return key;
}

const FOUR: Meter = { count: 4, unit: 4 };

export function barAt(number: number, startTicks: number, key: Key, more: Partial<ScoreBar> = {}): ScoreBar {
  return { number, startTicks, durationTicks: 3840, meter: FOUR, key, section: null, isPickup: false, ...more };
}

/** Five bars and a pickup in E flat: an anticipation tied over the bar line, altered chords, a section of two names. */
export function inventedScore(): Score {
  const key = keyOf('Eb major');
  const bars = [
    barAt(0, -960, key, { durationTicks: 960, isPickup: true }),
    barAt(1, 0, key, { section: 'A' }),
    barAt(2, 3840, key),
    barAt(3, 7680, key),
    barAt(4, 11520, key),
    barAt(5, 15360, key, { section: 'B' }),
  ];
  const right = [
    ...line('Eb4:480:2 E4:480:3', -960),
    ...line('F4:480:1 Ab4:480:2 C5:480:4 Eb5:480:5 C5:480:4 Bb4:480:3 Ab4:480:2 G4:480:1', 0),
    ...line('-:480 Ab4:480:2 B4:480:3 Db5:480:4 -:960 D4:480:1 G4:960:2', 3840),
    ...line('A4:480:3 Bb4:960:4 -:480 G4:480:2 Ab4:480:3 A4:480:4', 3840 + 3840 + 480),
    ...line('Cb5:1440:4 Bb4:480:3 Ab4:320:2 F4:320:1 Ab4:320:2 Cb5:240:3 Bb4:240:2 G4:480:1', 11520),
    ...line('G4+A4+D5:1920:124 -:960 Eb4:960:1', 15360),
  ];
  const left = [
    ...line('F2:960 C3:960 F2:960 A2:960', 0),
    ...line('Bb2:960 F2:960 Bb2:960 D3:960', 3840),
    ...line('Eb3:960 Bb2:960 Eb3:960 E3:960', 7680),
    ...line('F2:960 Cb3:960 B2:960 Bb2:960', 11520),
    ...line('Eb2:3840', 15360),
  ];
  const study = line('F3:480:1 Ab3:480:2 C4:480:4 Eb4:480:5 G4:480:1 Bb4:480:2 D5:480:4 -:480', 0);
  const at = (startTicks: number, symbol: string, numeral: string) => ({
    startTicks,
    chord: chordOf(symbol),
    numeral,
  });
  return {
    title: 'Lantern & Ferry “Öse”',
    key,
    meter: FOUR,
    tempoBpm: 132,
    feel: 'swing',
    bars,
    chords: [
      at(-960, 'N.C.', ''),
      at(0, 'Fm7', 'iim7'),
      at(3840, 'Bb7(b9)', 'V7(b9)'),
      at(3840 + 1920, 'Bb7alt', 'V7alt'),
      at(7680, 'Ebmaj7(#11)', 'Imaj7(#11)'),
      at(11520, 'Fm7b5', 'iim7b5'),
      at(11520 + 1920, 'Bb7(b9)', 'subV7/IV'),
      at(15360, 'Eb/G', 'I'),
    ],
    thumbs: [
      { startTicks: 0, thumb: noteName('F') },
      { startTicks: 3840 + 2880, thumb: noteName('D') },
      { startTicks: 11520, thumb: noteName('G#') },
    ],
    staves: [
      { role: 'right hand', clef: 'treble', notes: right },
      { role: 'left hand', clef: 'bass', notes: left },
      { role: 'arpeggio study', clef: 'treble', notes: study },
    ],
    phrases: [{ startTicks: -960, endTicks: 3840 }],
    endTicks: 19200,
  };
}
