/** Everything in one file, and back. */
export {
  $keptTakes,
  $restored,
  $restoring,
  countTakes,
  leaveRestoring,
  mergeBackup,
  replaceByBackup,
  saveBackup,
  showRestoring,
  takeRestoringBack,
  type Restoring,
  type SavedBackup,
  type TakenBack,
} from './backup.ts';
export type { BackupDamage } from './backup-document.ts';
export type { OfDiffering, Standing } from './restore-plan.ts';
