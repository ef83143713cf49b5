/**
 * The match files of the Vienna 4x22 Piano Corpus. Source: Werner Goebl 1999, doi 10.21939/4X22; match files by the Institute of
 * Computational Perception, JKU Linz (CC BY 4.0): 22 pianists, one score, every note aligned by hand. R: read from the files.
 */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { OPEN_DATA } from '../open-data.ts';

const FOLDER = join(OPEN_DATA, 'vienna4x22');
export const HAS_VIENNA = existsSync(FOLDER);

/** One performance. */
export interface MatchedPiece {
  readonly name: string;
  readonly written: readonly {
    readonly id: string;
    readonly at: number;
    readonly key: number;
    readonly staff: number;
  }[];
  readonly played: readonly {
    readonly id: string;
    readonly startSeconds: number;
    readonly durationSeconds: number;
    readonly key: number;
    readonly velocity: number;
  }[];
  /** Written and played ids that a person paired. */
  readonly pairs: readonly (readonly [written: string, played: string])[];
}

const STEPS: Readonly<Record<string, number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };
const SIGNS: Readonly<Record<string, number>> = { n: 0, '#': 1, b: -1, x: 2, '##': 2, bb: -2 };

/** Seconds of a tick: 480 to half a second, as the files' heads say. */
const SECONDS_A_TICK = 0.5 / 480;

const SCORE_NOTE = /^snote\(([^,]+),\[([A-G]),([^\]]+)\],(-?\d+),[^,]+,[^,]+,[^,]+,(-?[\d.]+),-?[\d.]+,\[([^\]]*)\]\)/u;
const PLAYED_NOTE = /note\(([^,]+),(\d+),(\d+),(\d+),(\d+),/u;

function pieceOf(name: string, text: string): MatchedPiece {
  const written: MatchedPiece['written'][number][] = [];
  const played: MatchedPiece['played'][number][] = [];
  const pairs: [string, string][] = [];
  for (const line of text.split('\n')) {
    const score = SCORE_NOTE.exec(line);
    const rest = score === null ? line : line.slice(score[0].length);
    const sound = line.startsWith('snote') || line.startsWith('insertion') ? PLAYED_NOTE.exec(rest) : null;
    if (score !== null) {
      const [, id = '', step = '', sign = '', octave = '', at = '', about = ''] = score;
      const key = 12 * (Number(octave) + 1) + (STEPS[step] ?? 0) + (SIGNS[sign] ?? 0);
      written.push({ id, at: Number(at), key, staff: Number(/staff(\d)/u.exec(about)?.[1] ?? 0) });
      if (sound !== null) pairs.push([id, sound[1] ?? '']);
    }
    if (sound !== null) {
      const [, id = '', key, on, off, velocity] = sound;
      const startSeconds = Number(on) * SECONDS_A_TICK;
      const durationSeconds = (Number(off) - Number(on)) * SECONDS_A_TICK;
      played.push({ id, startSeconds, durationSeconds, key: Number(key), velocity: Number(velocity) });
    }
  }
  played.sort((a, b) => a.startSeconds - b.startSeconds || a.key - b.key);
  return { name, written, played, pairs };
}

/** All performances here. */
export function matchedPieces(): MatchedPiece[] {
  return readdirSync(FOLDER)
    .filter((file) => file.endsWith('.match'))
    .sort()
    .map((file) => pieceOf(file.replace('.match', ''), readFileSync(join(FOLDER, file), 'utf8')));
}
