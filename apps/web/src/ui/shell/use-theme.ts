import { $theme } from '../../features/settings/index.ts';
import { useStore } from '../use-store.ts';

/** Light or dark, as chosen or as the system has it: for pictures, whose colours are in them. */
export function useTheme(): 'light' | 'dark' {
  return useStore($theme);
}
