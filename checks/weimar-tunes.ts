/** One open grid a title with the key the data states: functional and blues tunes in major or minor (weimar-grid.ts has the source). */
import { parseKey, type Chart, type Key } from '@fivespan/core';
import { chartOfGrid, weimarGrids, type WeimarGrid } from './weimar-grid.ts';

/** `Bb-maj`, `C-min`: a stated major or minor key; undefined for `blues`, `chrom`, `mix` and none. */
function statedKey(grid: WeimarGrid): Key | undefined {
  const [tonic = '', mode = ''] = grid.key.split('-');
  if (mode !== 'maj' && mode !== 'min') return undefined;
  // the database writes keys nobody writes as signatures (Db-min): the nearest one that sounds the same
  return parseKey(`${tonic} ${mode}`) ?? parseKey(`C# ${mode}`);
}

export interface StatedTune {
  readonly title: string;
  readonly stated: Key;
  readonly chart: Chart;
}

/** The first grid of each title. */
export const firstGrids: ReadonlyMap<string, WeimarGrid> = new Map(
  (weimarGrids ?? []).toReversed().map((grid) => [grid.title, grid]),
);

export const weimarTunes: readonly StatedTune[] = [...new Set((weimarGrids ?? []).map(({ title }) => title))].flatMap(
  (title): StatedTune[] => {
    const grid = firstGrids.get(title) as WeimarGrid;
    const stated = statedKey(grid);
    const isKind = grid.tonality_type === 'FUNCTIONAL' || grid.tonality_type === 'BLUES';
    return stated === undefined || !isKind ? [] : [{ title, stated, chart: chartOfGrid(grid) }];
  },
);
