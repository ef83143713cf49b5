/** Opening without a network, and newer versions. */
export {
  $newVersion,
  $offline,
  countKept,
  keepEverything,
  lookForNewVersion,
  startOffline,
  stopKeeping,
  takeNewVersion,
  type Offline,
} from './offline.ts';
