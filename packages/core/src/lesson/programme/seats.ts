import type { DrumKit } from '../../parts/index.ts';
import type { HeardPlayer, ProgrammePlayer } from './played-programme.ts';

/** Where each sits and how loud: little to the side, so that mono loses nothing. Set by measuring each player's
 * loudness in the demo: comping 6 dB under the line, bass and drums near it. */
const SEATS: Readonly<Record<HeardPlayer, { readonly pan: number; readonly level: number }>> = {
  'right hand': { pan: 0.05, level: 1 },
  'left hand': { pan: -0.1, level: 0.8 },
  bass: { pan: 0, level: 0.85 },
  drums: { pan: 0.1, level: 0.8 },
  metronome: { pan: 0, level: 0.7 },
};
/** Brushes are so much softer than sticks that the mix helps. */
const BRUSHES_LEVEL = 1.2;

/** What each plays; the drummer whatever the tempo asks for. */
const INSTRUMENTS = {
  'right hand': () => 'grand',
  'left hand': () => 'grand',
  bass: () => 'acoustic bass',
  drums: (kit: DrumKit) => (kit === 'brushes' ? 'brush kit' : 'jazz kit'),
  metronome: () => 'jazz kit',
} as const satisfies Readonly<Record<HeardPlayer, (kit: DrumKit) => ProgrammePlayer['instrument']>>;

/** One who is heard, and on what. */
interface Heard {
  readonly plays: HeardPlayer;
  readonly instrument: ProgrammePlayer['instrument'];
}

function instrumentOf(player: HeardPlayer, kit: DrumKit): ProgrammePlayer['instrument'] {
  return INSTRUMENTS[player](kit);
}

function playerSetting({ plays, instrument }: Heard): ProgrammePlayer {
  const seat = SEATS[plays];
  return instrument === 'brush kit'
    ? { name: 'drums, brushes', plays, instrument, pan: seat.pan, level: BRUSHES_LEVEL }
    : { name: plays, plays, instrument, ...seat };
}

/** Players, numbered as they come in. */
export interface Seats {
  /** The number of a player with what the kit asks for. */
  of(plays: HeardPlayer, kit: DrumKit): number;
  /** Everybody, by number. */
  players(): ProgrammePlayer[];
}

export function emptySeats(): Seats {
  const heard: Heard[] = [];
  return {
    of: (plays, kit) => {
      const instrument = instrumentOf(plays, kit);
      const known = heard.findIndex((each) => each.plays === plays && each.instrument === instrument);
      return known >= 0 ? known : heard.push({ plays, instrument }) - 1;
    },
    players: () => heard.map(playerSetting),
  };
}
