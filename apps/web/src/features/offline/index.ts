/** Opening without a network, and newer versions. */
export { $newVersion } from './new-version.ts';
export { $offline, countKept, keepEverything, startOffline, stopKeeping, type Offline } from './offline.ts';
export { loadAnew, lookForNewVersion, takeNewVersion } from '../../platform/offline/index.ts';
