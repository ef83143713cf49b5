/**
 * Notes of open Weimar solos as plain data (../shared/data/wjd/notes.csv and solos.csv; its README has authors and licence): solos in
 * four, notes that belong to a phrase. Nothing of it is part of the product.
 */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { OPEN_DATA } from './open-data.ts';

export interface WeimarNote {
  /** The solo's number. */
  readonly solo: string;
  readonly performer: string;
  readonly phrase: string;
  readonly bar: number;
  /** Where it begins, in eighths of a bar of four. */
  readonly eighths: number;
  readonly key: number;
  /** The chord it is played over, as the data writes it. */
  readonly chord: string;
}

const csv = (name: string): string[][] | null => {
  const file = join(OPEN_DATA, 'wjd', name);
  return existsSync(file)
    ? readFileSync(file, 'utf8')
        .trim()
        .split('\n')
        .map((line) => line.split(','))
    : null;
};

/** In the order they were played; null where the open data is not on this machine. */
export function weimarNotes(): WeimarNote[] | null {
  const [notes, solos] = [csv('notes.csv'), csv('solos.csv')];
  if (notes === null || solos === null) return null;
  const performers = new Map(solos.slice(1).map(([melid, solo]) => [melid, (solo as string).split('_')[0] as string]));
  return notes.slice(1).flatMap(([melid, bar, beat, division, tatum, period, , key, phrase, chord]): WeimarNote[] => {
    const performer = performers.get(melid as string);
    if (period !== '4' || phrase === '' || performer === undefined) return [];
    const eighths = (Number(beat) - 1) * 2 + ((Number(tatum) - 1) * 2) / Number(division);
    const place = { solo: melid as string, performer, phrase: phrase as string, bar: Number(bar), eighths };
    return [{ ...place, key: Number(key), chord: chord as string }];
  });
}
