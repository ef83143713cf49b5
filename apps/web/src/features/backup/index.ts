/** Everything in one file, and back. */
export {
  $restored,
  $restoring,
  leaveRestoring,
  mergeBackup,
  replaceByBackup,
  saveBackup,
  showRestoring,
  takeRestoringBack,
  type Restored,
  type Restoring,
} from './backup.ts';
export { BACKUP_KIND, readBackup, writeBackup, type BackedUpLesson, type Backup } from './backup-document.ts';
export type { Comparison, OfDiffering, Standing } from './restore-plan.ts';
