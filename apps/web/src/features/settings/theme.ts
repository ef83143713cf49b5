import { computed } from 'nanostores';
import { $systemIsDark } from '../../platform/appearance/index.ts';
import { $settings } from '../../platform/settings/index.ts';

/** Light or dark, as chosen or as the system has it. */
export const $theme = computed([$settings, $systemIsDark], ({ theme }, isDark): 'light' | 'dark' =>
  theme === 'system' ? (isDark ? 'dark' : 'light') : theme,
);
