import { instrumentOf, type InstrumentId } from '../bank/index.ts';

/** A note to be played. Plain data: whoever makes music hands over a list of these. */
export interface PlayedEvent {
  /** From the start of the schedule. */
  readonly startSeconds: number;
  /** Until the key or string is left; the release sounds after it. A kit's drums ring as long as they will. */
  readonly durationSeconds: number;
  /** Key number, 0 to 127; on a kit the drum. */
  readonly midi: number;
  /** 1 to 127. */
  readonly velocity: number;
  /** Who plays it: an index into the schedule's players. */
  readonly player: number;
}

/** One who plays. */
export interface PlayerSetting {
  readonly name: string;
  readonly instrument: InstrumentId;
  /** −1 left … 1 right of where the instrument sits by itself. */
  readonly pan: number;
  /** Linear: 1 as the bank has it. */
  readonly level: number;
}

/** A piece to be sounded. Events in any order; they are put in order of time, equals in the order given. */
export interface Schedule {
  readonly players: readonly PlayerSetting[];
  readonly events: readonly PlayedEvent[];
  /** Where the piece ends; tails of notes may ring after it. */
  readonly endSeconds: number;
}

/** Longest piece: 2 hours. Keeps frame numbers far from what a 32-bit count holds. */
export const LONGEST_PIECE_SECONDS = 7200;

/** Throws when a schedule is not one: the programmer's mistake, not a user's. */
export function checkSchedule({ players, events, endSeconds }: Schedule): void {
  if (!(endSeconds >= 0 && endSeconds <= LONGEST_PIECE_SECONDS)) {
    throw new RangeError(`endSeconds must be 0 to ${LONGEST_PIECE_SECONDS}, not ${endSeconds}`);
  }
  for (const { name, instrument, pan, level } of players) {
    instrumentOf(instrument);
    if (!(pan >= -1 && pan <= 1)) throw new RangeError(`pan of ${name} must be −1 to 1, not ${pan}`);
    if (!(level >= 0 && level <= 16)) throw new RangeError(`level of ${name} must be 0 to 16, not ${level}`);
  }
  for (const event of events) {
    const { startSeconds, durationSeconds, midi, velocity, player } = event;
    if (!(startSeconds >= 0 && startSeconds <= LONGEST_PIECE_SECONDS)) {
      throw new RangeError(`startSeconds must be 0 to ${LONGEST_PIECE_SECONDS}, not ${startSeconds}`);
    }
    if (!(durationSeconds >= 0 && durationSeconds <= LONGEST_PIECE_SECONDS)) {
      throw new RangeError(`durationSeconds must be 0 to ${LONGEST_PIECE_SECONDS}, not ${durationSeconds}`);
    }
    if (!Number.isInteger(midi) || midi < 0 || midi > 127) {
      throw new RangeError(`midi must be a whole number from 0 to 127, not ${midi}`);
    }
    if (!Number.isInteger(velocity) || velocity < 1 || velocity > 127) {
      throw new RangeError(`velocity must be a whole number from 1 to 127, not ${velocity}`);
    }
    if (players[player] === undefined) throw new RangeError(`player must be an index into players, not ${player}`);
  }
}

/**
 * The schedule a number of semitones higher or lower; kits stay. Nothing is read again: keys change, and notes that the store
 * already has are used as they are.
 * @param semitones whole, −48 to 48; a note that would leave the 88 keys moves back by octaves
 */
export function transposed(schedule: Schedule, semitones: number): Schedule {
  if (!Number.isInteger(semitones) || Math.abs(semitones) > 48) {
    throw new RangeError(`semitones must be a whole number from −48 to 48, not ${semitones}`);
  }
  const events = schedule.events.map((event): PlayedEvent => {
    const setting = schedule.players[event.player];
    if (setting === undefined || instrumentOf(setting.instrument).isKit) return event;
    let midi = event.midi + semitones;
    while (midi > HIGHEST_KEY) midi -= 12;
    while (midi < LOWEST_KEY) midi += 12;
    return { ...event, midi };
  });
  return { ...schedule, events };
}

/** The 88 keys of a piano, A0 to C8. */
const LOWEST_KEY = 21;
const HIGHEST_KEY = 108;

/**
 * The schedule slower or faster: every time divided by `rate`.
 * @param rate 1 as it is, 0.5 half as fast; 0.1 to 10
 */
export function atRate(schedule: Schedule, rate: number): Schedule {
  if (!(rate >= 0.1 && rate <= 10)) throw new RangeError(`rate must be 0.1 to 10, not ${rate}`);
  return {
    ...schedule,
    endSeconds: schedule.endSeconds / rate,
    events: schedule.events.map((event) => ({
      ...event,
      startSeconds: event.startSeconds / rate,
      durationSeconds: event.durationSeconds / rate,
    })),
  };
}
