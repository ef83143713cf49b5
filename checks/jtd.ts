/**
 * The recordings of the Jazz Trio Database that are here. Source: Cheston, Schlichting, Cross and Harrison 2024, MIT: hand-annotated
 * beats (`NAME_mix.txt`) and onsets of drums, piano and bass (`NAME_drums.txt` …), one a line, seconds first (R).
 */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { OPEN_DATA } from './open-data.ts';

const FOLDER = join(OPEN_DATA, 'jtd');

type Player = 'drums' | 'piano' | 'bass';

/** One recording: ascending times in seconds. */
export interface TrioRecording {
  readonly name: string;
  readonly beats: readonly number[];
  /** The usual length of a beat, in seconds. */
  readonly beatSeconds: number;
  readonly onsets: (player: Player) => number[];
}

function timesIn(file: string): number[] {
  return readFileSync(join(FOLDER, file), 'utf8')
    .split('\n')
    .filter((line) => line.trim() !== '')
    .map((line) => Number(line.split('\t')[0]))
    .sort((a, b) => a - b);
}

/** All of them, by name; none where the open data is not here. */
export function trioRecordings(): TrioRecording[] {
  if (!existsSync(FOLDER)) return [];
  return readdirSync(FOLDER)
    .filter((file) => file.endsWith('_mix.txt'))
    .sort()
    .map((file) => {
      const name = file.replace('_mix.txt', '');
      const beats = timesIn(file);
      const beatSeconds = median(beats.slice(1).map((line, index) => line - (beats[index] as number)));
      return { name, beats, beatSeconds, onsets: (player) => timesIn(`${name}_${player}.txt`) };
    });
}

export function quantile(values: readonly number[], share: number): number {
  const sorted = values.toSorted((a, b) => a - b);
  const at = share * (sorted.length - 1);
  const low = sorted[Math.floor(at)] as number;
  return low + (at - Math.floor(at)) * ((sorted[Math.ceil(at)] as number) - low);
}

export const median = (values: readonly number[]): number => quantile(values, 0.5);
