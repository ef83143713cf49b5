/** A note to hear: seconds from the beginning, key number, velocity 1 to 127. */
export interface HeardNote {
  readonly startSeconds: number;
  readonly durationSeconds: number;
  readonly midi: number;
  readonly velocity: number;
  /** The grand by default. */
  readonly instrument?: 'grand' | 'acoustic bass';
}

export function instrumentOf({ instrument = 'grand' }: Pick<HeardNote, 'instrument'>): 'grand' | 'acoustic bass' {
  return instrument;
}
