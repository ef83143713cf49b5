/** What a player can play. */
export type InstrumentId =
  | 'grand'
  | 'tine electric piano'
  | 'vibraphone'
  | 'acoustic bass'
  // sticks; then sticks and brushes for jazz
  | 'standard kit'
  | 'jazz kit'
  | 'brush kit';

/** Where an instrument is in the bank. */
export interface Instrument {
  readonly id: InstrumentId;
  /** Program number on the wire, counted from 0. */
  readonly program: number;
  /** A kit: its keys are drums, it is never transposed. */
  readonly isKit: boolean;
}

/**
 * The bank's instruments. Programs: General MIDI (sound set of 1991; on the wire one less than printed); kits by their
 * usual programs on the drum channel (common practice).
 */
export const INSTRUMENTS: readonly Instrument[] = [
  { id: 'grand', program: 0, isKit: false },
  { id: 'tine electric piano', program: 4, isKit: false },
  { id: 'vibraphone', program: 11, isKit: false },
  { id: 'acoustic bass', program: 32, isKit: false },
  { id: 'standard kit', program: 0, isKit: true },
  { id: 'jazz kit', program: 32, isKit: true },
  { id: 'brush kit', program: 40, isKit: true },
];

/** The instrument of a name. */
export function instrumentOf(id: InstrumentId): Instrument {
  const found = INSTRUMENTS.find((instrument) => instrument.id === id);
  if (found === undefined) throw new RangeError(`id must name an instrument of the bank, not '${id}'`);
  return found;
}
