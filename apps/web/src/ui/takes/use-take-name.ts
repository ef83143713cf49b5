import type { TakeRecord } from '../../features/takes/index.ts';
import { useKeyName } from '../today/use-key-name.ts';
import { words } from '../words/index.ts';

/** A function that names a take by its tune, key and tempo. */
export function useTakeName(): (record: Pick<TakeRecord, 'title' | 'key' | 'tempoBpm'>) => string {
  const keyName = useKeyName();
  return ({ title, key, tempoBpm }) => words.takes.name(title, keyName(key), tempoBpm);
}
