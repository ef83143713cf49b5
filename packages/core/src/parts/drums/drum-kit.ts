import { midi, type Midi } from '../../theory/index.ts';

/** What a drummer strikes. */
export type Drum =
  | 'sticks'
  | 'bass drum'
  | 'side stick'
  | 'snare'
  | 'swirl'
  | 'low tom'
  | 'middle tom'
  | 'high tom'
  | 'closed hi-hat'
  | 'pedal hi-hat'
  | 'crash'
  | 'ride'
  | 'ride bell';

/**
 * Keys of the drums. General MIDI percussion map, from memory (36, 38, 42, 44, 51: docs/sources.md, 8, M); sticks on 31
 * and the swirl of the brush kit on 40, where the snare's brush hit is 38, as wide-spread kits have them (from memory).
 */
const KEYS: Readonly<Record<Drum, number>> = {
  sticks: 31,
  'bass drum': 36,
  'side stick': 37,
  snare: 38,
  swirl: 40,
  'low tom': 43,
  'closed hi-hat': 42,
  'pedal hi-hat': 44,
  'middle tom': 47,
  'high tom': 50,
  crash: 49,
  ride: 51,
  'ride bell': 53,
};

/** The key a drum has on the percussion channel. */
export function keyOfDrum(drum: Drum): Midi {
  return midi(KEYS[drum]);
}

/** Sticks, or brushes for slow tempi. */
export type DrumKit = 'sticks' | 'brushes';

/** Slower than this a trio's drummer takes the brushes: beats a minute. Common practice; the number is our own. */
const BRUSHES_BELOW_BPM = 84;

/** What the drummer plays with at a tempo of the metre's beat. */
export function kitAt(tempoBpm: number): DrumKit {
  return tempoBpm < BRUSHES_BELOW_BPM ? 'brushes' : 'sticks';
}

/** How hard: 'feathered' is felt more than heard, 'ghosted' fills, 'accented' leads. */
export type DrumStress = 'feathered' | 'ghosted' | 'soft' | 'plain' | 'accented';

/** One stroke. Ticks count from the first full bar. */
export interface DrumStroke {
  readonly startTicks: number;
  readonly drum: Drum;
  readonly stress: DrumStress;
  /** What it is for: a count-in, time keeping, comping, a fill, the ending. */
  readonly role: 'count-in' | 'time' | 'comping' | 'fill' | 'ending';
}
