import { useSyncExternalStore } from 'react';
import { $settings } from '../../features/settings/index.ts';
import { useStore } from '../use-store.ts';

const query = globalThis.matchMedia('(prefers-color-scheme: dark)');

function listen(changed: () => void): () => void {
  query.addEventListener('change', changed);
  return () => query.removeEventListener('change', changed);
}

/** Light or dark, as chosen or as the system has it: for pictures, whose colours are in them. */
export function useTheme(): 'light' | 'dark' {
  const { theme } = useStore($settings);
  const isDark = useSyncExternalStore(listen, () => query.matches);
  return theme === 'system' ? (isDark ? 'dark' : 'light') : theme;
}
