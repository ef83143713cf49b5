/**
 * Solos of the Weimar Jazz Database as takes. Source: jazzodata (Frieler, Pfleiderer, Zaddach, Abesser; MIT; authors and licence in
 * the data's README; R): notes with their division of the beat, annotated beats, chord grids. Each note is laid on its annotated
 * beats, so that the beat is the click; the data has no lengths, so that a note lasts to the next of its phrase, the last a beat.
 */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Chart, HeardNote } from '@fivespan/core';
import { median } from '../jtd.ts';
import { OPEN_DATA } from '../open-data.ts';
import { beatsOfGrid, chartOfGrid, weimarGrids } from '../weimar-grid.ts';

const FOLDER = join(OPEN_DATA, 'wjd');
export const HAS_SOLOS = existsSync(join(FOLDER, 'notes.csv'));

/** A solo as a take, and what the annotators say of its time. */
export interface SoloTake {
  readonly name: string;
  readonly chart: Chart;
  readonly tempoBpm: number;
  readonly feel: string;
  readonly notes: readonly HeardNote[];
  /** Median ms that notes annotated on a beat lie behind it. */
  readonly lateMs: number | null;
  /** Median of long to short, of notes annotated as the second half of a beat in two. */
  readonly swing: number | null;
}

type Row = Readonly<Record<string, string>>;

function rowsOf(file: string): Row[] {
  const [head = '', ...lines] = readFileSync(join(FOLDER, file), 'utf8').trim().split('\n');
  const names = head.split(',');
  return lines.map((line) => {
    // only titles have commas, and they are not asked for
    const cells = line.split(',');
    return Object.fromEntries(names.map((name, index) => [name, cells[index] ?? '']));
  });
}

function byId(rows: readonly Row[]): Map<string, Row[]> {
  const all = new Map<string, Row[]>();
  for (const row of rows) {
    const id = row['melid'] ?? '';
    const own = all.get(id);
    if (own === undefined) all.set(id, [row]);
    else own.push(row);
  }
  return all;
}

/** How few annotated notes say something. */
const FEWEST = 12;
const middle = (values: readonly number[]): number | null => (values.length < FEWEST ? null : median(values));

/** All solos over a grid of four beats whose choruses are as long as the grid. */
export function soloTakes(): SoloTake[] {
  const [notes, beats] = [byId(rowsOf('notes.csv')), byId(rowsOf('beats.csv'))];
  const about = byId(rowsOf('solos.csv'));
  return (weimarGrids ?? []).flatMap((grid): SoloTake[] => {
    const id = String(grid.melid);
    const form = grid.sections.reduce((sum, { bars }) => sum + bars.length, 0) * 4;
    const lines = (beats.get(id) ?? [])
      .map((row) => ({ at: Number(row['onset']), chorus: Number(row['chorus']) }))
      .filter(({ chorus }) => chorus > 0);
    const first = lines.filter(({ chorus }) => chorus === 1).length;
    if (beatsOfGrid(grid) !== 4 || lines.length < 16 || first !== form) return [];
    const beat = median(lines.slice(1).map(({ at }, index) => at - (lines[index] as { at: number }).at));
    const placed = (notes.get(id) ?? []).flatMap((row) => {
      const onset = Number(row['onset']);
      const before = lines.findLastIndex(({ at }) => at <= onset);
      const [from, to] = [lines[before]?.at, lines[before + 1]?.at];
      if (from === undefined || to === undefined) return [];
      const share = (onset - from) / (to - from);
      return [{ row, startSeconds: (before + share) * beat, share, index: before }];
    });
    const heard = placed.map(({ row, startSeconds }, index): HeardNote => {
      const next = placed[index + 1];
      const isLast = next === undefined || next.row['phrase'] !== row['phrase'];
      const gap = next === undefined ? beat : Math.max(0.03, next.startSeconds - startSeconds);
      return {
        startSeconds,
        durationSeconds: isLast ? Math.min(gap, beat) * 0.7 : gap * 0.95,
        key: Number(row['pitch']),
        velocity: 64 + (index % 17),
        hand: 'right',
      };
    });
    // a note annotated on a beat may have come before it: then it is the next one's
    const lates = placed
      .filter(({ row }) => row['tatum'] === '1')
      .map(({ share }) => (share > 0.5 ? share - 1 : share) * beat * 1000);
    const ratios = placed
      .filter(({ row, share }) => row['division'] === '2' && row['tatum'] === '2' && share > 0.34 && share < 0.8)
      .map(({ share }) => share / (1 - share));
    return [
      {
        name: grid.solo,
        chart: chartOfGrid(grid),
        tempoBpm: 60 / beat,
        feel: about.get(id)?.[0]?.['rhythmfeel'] ?? '',
        notes: heard,
        lateMs: middle(lates),
        swing: middle(ratios),
      },
    ];
  });
}
