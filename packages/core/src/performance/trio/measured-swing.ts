import { accompanimentSwing, EVEN, soloistSwing, type Swing } from '../swing.ts';

/** How the members of a trio place their eighths. */
export interface TrioSwing {
  readonly drums: Swing;
  readonly soloist: Swing;
  readonly bass: Swing;
}

/** 'measured': medians of open recordings; 'published': the ride's short note near 100 ms. */
export type SwingSource = 'measured' | 'published';

interface SwingRow {
  /** Quarters a minute. */
  readonly bpm: number;
  readonly ride: number;
  readonly soloist: number;
  /** How far the soloist's and the bass's beats lie behind the drums'. */
  readonly soloistLateMs: number;
  readonly bassLateMs: number;
}

/**
 * Medians over all beats of 26 recordings in bands of tempo. Source: Jazz Trio Database (Cheston, Schlichting, Cross and
 * Harrison 2024, MIT; hand-annotated onsets) and Groove MIDI Dataset (Gillick and others 2019, CC BY 4.0; ride only); computed by
 * `npx tsx checks/performance/swing-recordings.ts`, checked in checks/performance/trio-swing.test.ts. The slowest row has no pianists: they are taken
 * from the next. A negative lateness of 1 ms at the fastest tempo is set to 0.
 */
const ROWS: readonly SwingRow[] = [
  { bpm: 100, ride: 1.97, soloist: 1.97, soloistLateMs: 15, bassLateMs: 4 },
  { bpm: 125, ride: 2.52, soloist: 2, soloistLateMs: 15, bassLateMs: 4 },
  { bpm: 152, ride: 2.55, soloist: 1.66, soloistLateMs: 22, bassLateMs: 9 },
  { bpm: 178, ride: 2.29, soloist: 1.72, soloistLateMs: 10, bassLateMs: 4 },
  { bpm: 208, ride: 1.88, soloist: 1.42, soloistLateMs: 9, bassLateMs: 3 },
  { bpm: 242, ride: 1.3, soloist: 1.16, soloistLateMs: 14, bassLateMs: 3 },
  { bpm: 275, ride: 1.49, soloist: 1.21, soloistLateMs: 0, bassLateMs: 3 },
];

/** A measure at a tempo: straight lines between the rows, level beyond the first and the last. */
function measureAt(bpm: number, of: Exclude<keyof SwingRow, 'bpm'>): number {
  const above = ROWS.findIndex((row) => row.bpm >= bpm);
  const high = ROWS[above] ?? (ROWS.at(-1) as SwingRow);
  const low = ROWS[above - 1] ?? high;
  return high === low ? high[of] : low[of] + ((bpm - low.bpm) / (high.bpm - low.bpm)) * (high[of] - low[of]);
}

/**
 * How a trio swings at a tempo. Measured, the soloist swings less than the ride and comes a little late on the beat, so that
 * their off-beats meet within a few hundredths of a second.
 * @param quarterSeconds length of a quarter note
 * @param feel straight where it is even
 * @example trioSwing(60 / 200, 'swing', 'published').drums.ratio // → 2
 */
export function trioSwing(quarterSeconds: number, feel: 'swing' | 'even', source: SwingSource): TrioSwing {
  if (feel === 'even') return { drums: EVEN, soloist: EVEN, bass: EVEN };
  if (source === 'published') {
    const drums = accompanimentSwing(quarterSeconds);
    return { drums, soloist: soloistSwing(quarterSeconds), bass: drums };
  }
  const bpm = 60 / quarterSeconds;
  const ride = measureAt(bpm, 'ride');
  return {
    drums: { ratio: ride, delaySeconds: 0 },
    soloist: { ratio: measureAt(bpm, 'soloist'), delaySeconds: measureAt(bpm, 'soloistLateMs') / 1000 },
    bass: { ratio: ride, delaySeconds: measureAt(bpm, 'bassLateMs') / 1000 },
  };
}
