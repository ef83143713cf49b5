/** What this browser's user prefers. */
export { $settings, changeSettings, type Settings } from '../../platform/settings/index.ts';
export { $theme } from './theme.ts';
