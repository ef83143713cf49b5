import { atom } from 'nanostores';
import { dayText, newId } from '../../platform/clock/index.ts';
import { saveFile } from '../../platform/files/index.ts';
import type { StorageFault, StoredLesson } from '../../platform/storage/index.ts';
import { lessonStore, readAgain } from '../lesson-list/index.ts';
import { flush } from '../open-lesson/index.ts';
import { writeBackup, type Backup } from './backup-document.ts';
import { compare, mergePlan, replacePlan, type Comparison, type OfDiffering } from './restore-plan.ts';

/** A backup file that was read, held against what is kept here: shown before anything happens. */
export interface Restoring {
  readonly backup: Backup;
  readonly here: readonly StoredLesson[];
  readonly comparison: Comparison;
  /** Set where what is kept here has changed since it was shown: the comparison is a new one. */
  readonly isRenewed: boolean;
}

export const $restoring = atom<Restoring | null>(null);

/** What was restored last, until it is taken back or the page is closed. */
export interface Restored {
  readonly put: number;
  readonly removed: number;
}

export const $restored = atom<Restored | null>(null);

let before: readonly StoredLesson[] | undefined;

async function lessonsHere(): Promise<readonly StoredLesson[] | StorageFault> {
  await flush();
  const read = await (await lessonStore()).list();
  return read.kind === 'read' ? read.shelf.lessons : read.fault;
}

function isFault(here: readonly StoredLesson[] | StorageFault): here is StorageFault {
  return !Array.isArray(here);
}

/** Saves everything that is kept here to one file. @returns how many lessons, or what stands in the way */
export async function saveBackup(): Promise<number | StorageFault> {
  const here = await lessonsHere();
  if (isFault(here)) return here;
  saveFile(`fivespan-backup-${dayText()}.json`, writeBackup(here), 'application/json');
  await (await lessonStore()).noteBackup();
  await readAgain();
  return here.length;
}

/** Shows what restoring a backup would do. Nothing happens yet. */
export async function showRestoring(backup: Backup, isRenewed = false): Promise<StorageFault | null> {
  const here = await lessonsHere();
  if (isFault(here)) return here;
  $restoring.set({ backup, here, comparison: compare(backup.lessons, here), isRenewed });
  return null;
}

export function leaveRestoring(): void {
  $restoring.set(null);
}

async function carryOut(
  { backup, here }: Restoring,
  change: ReturnType<typeof replacePlan>,
): Promise<StorageFault | null> {
  const outcome = await (await lessonStore()).changeAll(change, here);
  if (outcome.kind === 'fault') return outcome.fault;
  // another tab has changed something since it was shown: it is shown again, and nothing was done
  if (outcome.kind === 'overtaken') return await showRestoring(backup, true);
  before = here;
  $restoring.set(null);
  $restored.set({ put: change.put.length, removed: change.remove.length });
  await readAgain();
  return null;
}

/** Merges the backup that is shown into what is kept here. */
export async function mergeBackup(ofDiffering: OfDiffering): Promise<StorageFault | null> {
  const restoring = $restoring.get();
  if (restoring === null) return null;
  return await carryOut(restoring, mergePlan(restoring.comparison, ofDiffering, newId));
}

/** Replaces what is kept here by the backup that is shown. */
export async function replaceByBackup(): Promise<StorageFault | null> {
  const restoring = $restoring.get();
  if (restoring === null) return null;
  return await carryOut(restoring, replacePlan(restoring.backup.lessons, restoring.here));
}

/** Takes the last restoring back: what is kept is as it was before. @returns what stands in the way */
export async function takeRestoringBack(): Promise<StorageFault | null> {
  const here = await lessonsHere();
  if (before === undefined) return null;
  if (isFault(here)) return here;
  const outcome = await (await lessonStore()).changeAll(replacePlan(before, here), here);
  if (outcome.kind === 'fault') return outcome.fault;
  if (outcome.kind === 'written') {
    before = undefined;
    $restored.set(null);
  }
  await readAgain();
  return null;
}
