import type { ReadableAtom } from 'nanostores';
import { useSyncExternalStore } from 'react';

/**
 * A store's value, kept up to date.
 * @example const open = useStore($open);
 */
export function useStore<Value>(store: ReadableAtom<Value>): Value {
  return useSyncExternalStore(
    (changed) => store.listen(changed),
    () => store.get(),
  );
}
