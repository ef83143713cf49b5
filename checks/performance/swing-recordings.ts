/**
 * How the recordings of the open data swing, by tempo. Sources: Jazz Trio Database, hand-annotated onsets (Cheston,
 * Schlichting, Cross and Harrison 2024, MIT): beats, drums, piano, bass; Groove MIDI Dataset (Gillick and others 2019, CC BY
 * 4.0): ride 51, 53, 59 played to a click. Measurements of this sample, not rules of the trade. `npx tsx
 * checks/performance/swing-recordings.ts` prints the table that packages/core/src/performance/trio/measured-swing.ts holds.
 */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { quantile, trioRecordings } from '../jtd.ts';
import { OPEN_DATA } from '../open-data.ts';

/** What we use of midi-file, found from the workspace that has it. */
const { parseMidi } = createRequire(join(import.meta.dirname, '../../packages/formats/package.json'))('midi-file') as {
  readonly parseMidi: (bytes: Uint8Array) => {
    readonly header: { readonly ticksPerBeat?: number };
    readonly tracks: readonly (readonly {
      readonly deltaTime: number;
      readonly type: string;
      readonly noteNumber: number;
      readonly velocity: number;
    }[])[];
  };
};

export const HAS_RECORDINGS = existsSync(join(OPEN_DATA, 'jtd')) && existsSync(join(OPEN_DATA, 'groove'));

/** Tempo bands, quarters a minute, each with the tempo that stands for it. */
export const BANDS = [
  { from: 0, to: 112, at: 100 },
  { from: 112, to: 140, at: 125 },
  { from: 140, to: 165, at: 152 },
  { from: 165, to: 190, at: 178 },
  { from: 190, to: 225, at: 208 },
  { from: 225, to: 256, at: 242 },
  { from: 256, to: 400, at: 275 },
] as const;

/** One recording's measures; times in milliseconds, ratios of a beat's long part to its short part. */
export interface Take {
  readonly name: string;
  readonly bpm: number;
  readonly ride: readonly number[];
  readonly soloist: readonly number[];
  /** How far the piano is behind the drums on beats, and on off-beats both play. */
  readonly soloistLateOn: readonly number[];
  readonly soloistLateOff: readonly number[];
  /** How far the bass is behind the drums on beats. */
  readonly bassLateOn: readonly number[];
}

/** Within this share of a beat from a beat line an onset is the beat's; ratios beyond these are no pair of eighths. */
const ON_BEAT = 0.12;
const LOWEST_RATIO = 0.5;
const HIGHEST_RATIO = 4;

/** One beat as a player plays it: own onset on the beat, the single onset inside it, own onset on the next beat. */
interface Pair {
  readonly beat: number;
  readonly on: number;
  readonly off: number;
  readonly next: number;
}

function nearest(onsets: readonly number[], time: number, within: number): number | undefined {
  const near = onsets.filter((each) => Math.abs(each - time) <= within);
  return near.toSorted((a, b) => Math.abs(a - time) - Math.abs(b - time))[0];
}

/** The beats a player divides in two. Beat lines and onsets ascend. */
export function pairsOf(beats: readonly number[], onsets: readonly number[]): Pair[] {
  return beats.slice(0, -1).flatMap((line, index): Pair[] => {
    const length = (beats[index + 1] as number) - line;
    const about = onsets.filter((each) => each > line - length && each < line + 2 * length);
    const on = nearest(about, line, ON_BEAT * length);
    const next = nearest(about, line + length, ON_BEAT * length);
    if (on === undefined || next === undefined) return [];
    const inside = about.filter((each) => each > on + 1e-6 && each < next - 1e-6);
    const off = inside[0];
    if (off === undefined || inside.length !== 1) return [];
    const ratio = (off - on) / (next - off);
    return ratio >= LOWEST_RATIO && ratio <= HIGHEST_RATIO ? [{ beat: index, on, off, next }] : [];
  });
}

export const ratioOf = ({ on, off, next }: Pair): number => (off - on) / (next - off);

function jtdTakes(): Take[] {
  return trioRecordings().map(({ name, beats, beatSeconds, onsets }) => {
    const [drums, piano, bass] = [onsets('drums'), onsets('piano'), onsets('bass')];
    const late = (own: readonly number[]): number[] =>
      beats.flatMap((line) => {
        const struck = nearest(own, line, ON_BEAT * beatSeconds);
        const drum = nearest(drums, line, ON_BEAT * beatSeconds);
        return struck === undefined || drum === undefined ? [] : [(struck - drum) * 1000];
      });
    const drumPairs = pairsOf(beats, drums);
    const pianoPairs = pairsOf(beats, piano);
    return {
      name,
      bpm: 60 / beatSeconds,
      ride: drumPairs.map(ratioOf),
      soloist: pianoPairs.map(ratioOf),
      soloistLateOn: late(piano),
      soloistLateOff: pianoPairs.flatMap((pair) => {
        const drum = drumPairs.find((each) => each.beat === pair.beat);
        return drum === undefined ? [] : [(pair.off - drum.off) * 1000];
      }),
      bassLateOn: late(bass),
    };
  });
}

export const RIDE_KEYS = [51, 53, 59];

/** A drum stroke of a recording played to a click. */
interface RecordedStroke {
  /** Place in beats from the start; on the grid it would be whole. */
  readonly beat: number;
  readonly key: number;
  readonly velocity: number;
}

/** The drum takes, as played. */
export function drumTakes(): { readonly name: string; readonly bpm: number; readonly strokes: RecordedStroke[] }[] {
  const folder = join(OPEN_DATA, 'groove');
  return readdirSync(folder)
    .filter((file) => file.endsWith('.mid'))
    .sort()
    .map((file) => {
      const { header, tracks } = parseMidi(readFileSync(join(folder, file)));
      const strokes = tracks.flatMap((track) => {
        let ticks = 0;
        return track.flatMap((event): RecordedStroke[] => {
          ticks += event.deltaTime;
          const { type, noteNumber: key, velocity } = event;
          return type === 'noteOn' && velocity > 0
            ? [{ beat: ticks / (header.ticksPerBeat ?? 480), key, velocity }]
            : [];
        });
      });
      return { name: file, bpm: Number(/_(\d+)_beat/u.exec(file)?.[1]), strokes };
    });
}

function grooveTakes(): Take[] {
  return drumTakes().map(({ name, bpm, strokes }) => {
    const rides = strokes
      .filter(({ key }) => RIDE_KEYS.includes(key))
      .map(({ beat }) => beat)
      .sort((a, b) => a - b);
    const beats = Array.from({ length: Math.ceil(rides.at(-1) ?? 0) + 1 }, (_, index) => index);
    const ride = pairsOf(beats, rides).map(ratioOf);
    return { name, bpm, ride, soloist: [], soloistLateOn: [], soloistLateOff: [], bassLateOn: [] };
  });
}

export function recordedTakes(): Take[] {
  return [...jtdTakes(), ...grooveTakes()];
}

/** Fewer values than this say nothing about a band. */
export const ENOUGH = 8;

/** All values of a measure in one band, of every take. */
export function pooledIn(
  takes: readonly Take[],
  { from, to }: (typeof BANDS)[number],
  measure: Exclude<keyof Take, 'name' | 'bpm'>,
): number[] {
  return takes.filter(({ bpm }) => bpm >= from && bpm < to).flatMap((take) => take[measure]);
}

if (process.argv[1] === import.meta.filename) {
  const takes = recordedTakes();
  for (const band of BANDS) {
    const row = (['ride', 'soloist', 'soloistLateOn', 'soloistLateOff', 'bassLateOn'] as const).map((measure) => {
      const all = pooledIn(takes, band, measure);
      if (all.length < ENOUGH) return `${measure} –`;
      const [low, middle, high] = [0.25, 0.5, 0.75].map((share) => quantile(all, share).toFixed(2));
      return `${measure} ${middle} [${low} ${high}] of ${all.length}`;
    });
    process.stdout.write(`${band.at} bpm: ${row.join(', ')}\n`);
  }
}
