import { atom } from 'nanostores';
import { dayText, newId, nowMs } from '../../platform/clock/index.ts';
import { saveFile } from '../../platform/files/index.ts';
import {
  faultOf,
  PLAIN_ARRANGEMENT,
  type ShelfArrangement,
  type StorageFault,
  type StoredLesson,
} from '../../platform/storage/index.ts';
import { lessonStore, readAgain } from '../lesson-list/index.ts';
import { joined } from '../lesson-list/arrange.ts';
import { flush, unkeptDrafts, type UnkeptDraft } from '../open-lesson/index.ts';
import { writeBackup, type BackedUpLesson, type Backup } from './backup-document.ts';
import { takeBackPlan, touchedBy, type Touched } from './take-back-plan.ts';
import { idsHere, takesBack, takesToPut, type TouchedTake } from './takes-plan.ts';
import { compare, mergePlan, replacePlan, type Comparison, type OfDiffering } from './restore-plan.ts';

/** A backup file that was read, held against what is kept here: shown before anything happens. */
export interface Restoring {
  readonly backup: Backup;
  readonly here: readonly StoredLesson[];
  readonly comparison: Comparison;
  /** Set where what is kept here has changed since it was shown: the comparison is a new one. */
  readonly isRenewed: boolean;
  /** Set where it is no file's: what lessons were before a restore that is taken back, held against what they became since. */
  readonly isTakingBack: boolean;
}

export const $restoring = atom<Restoring | null>(null);

/** What was restored last, until it is taken back or the page is closed. */
export interface Restored {
  readonly put: number;
  readonly removed: number;
  /** Takes that came or got remarks; absent where there were none. */
  readonly takes?: number;
}

export const $restored = atom<Restored | null>(null);

/** How many takes are kept here. */
export const $keptTakes = atom(0);

/** Loaded when it is needed: the shelf shows before. */
const takesKept = async () => await import('../takes/kept.ts');

/** Counts the takes that are kept here: they go into a backup only where it is asked for. */
export async function countTakes(): Promise<void> {
  const { keptTakes } = await takesKept();
  $keptTakes.set((await keptTakes()).length);
}

/** What the last restore did, as far as it was not taken back. */
let touched: readonly Touched[] = [];

/** The same of takes. */
let touchedTakes: readonly TouchedTake[] = [];

/** How the shelf stood before the last restore. */
let arrangedBefore: ShelfArrangement = PLAIN_ARRANGEMENT;

async function lessonsHere(): Promise<readonly StoredLesson[] | StorageFault> {
  await flush();
  const read = await (await lessonStore()).list();
  return read.kind === 'read' ? read.shelf.lessons : read.fault;
}

function isFault(here: readonly StoredLesson[] | StorageFault): here is StorageFault {
  return !Array.isArray(here);
}

/** What became of saving everything. */
export type SavedBackup =
  | {
      readonly kind: 'saved';
      readonly lessons: number;
      readonly files: number;
      readonly takes: number;
      /** How many lessons are not in it: set aside, made by a newer version, or changed into what no file can hold. */
      readonly missing: number;
    }
  | { readonly kind: 'fault'; readonly fault: StorageFault };

/** Puts changes that are not on the disk in the place of what is, or beside it where another tab has written that. */
function withDrafts(kept: readonly StoredLesson[], drafts: readonly UnkeptDraft[]): readonly BackedUpLesson[] {
  const lessons = new Map<string, BackedUpLesson>(kept.map((each) => [each.id, each]));
  for (const { id, conflict, draft } of drafts) {
    if (draft === null) continue;
    const now = nowMs();
    const itsId = conflict === 'changed' ? newId() : id;
    lessons.set(itsId, { id: itsId, createdAt: lessons.get(id)?.createdAt ?? now, changedAt: now, ...draft });
  }
  return [...lessons.values()];
}

/**
 * Saves everything that is here to a file, or to several where one would be too large to be read back.
 * @param withTakes kept takes, too: what somebody played leaves the browser only where it is asked for
 */
export async function saveBackup(withTakes = false): Promise<SavedBackup> {
  await flush();
  const store = await lessonStore();
  const read = await store.list();
  if (read.kind === 'fault') return read;
  const { lessons: kept, newer, setAside, unreadable } = read.shelf;
  const drafts = unkeptDrafts();
  const lessons = withDrafts(kept, drafts);
  const arrangement = await store.arrangement();
  const isPlain = arrangement.byHand.length === 0 && Object.keys(arrangement.folders).length === 0;
  const takes = withTakes ? await (await takesKept()).keptTakes() : [];
  const files = writeBackup(lessons, isPlain ? { takes } : { takes, arrangement });
  for (const [index, text] of files.entries()) {
    const part = files.length === 1 ? '' : `-${index + 1}-of-${files.length}`;
    saveFile(`fivespan-backup-${dayText()}${part}.json`, text, 'application/json');
  }
  const missing = newer.length + setAside.length + unreadable + drafts.filter(({ draft }) => draft === null).length;
  if (missing === 0) await store.noteBackup();
  await readAgain();
  return { kind: 'saved', lessons: lessons.length, files: files.length, takes: takes.length, missing };
}

/** Shows what restoring a backup would do. Nothing happens yet. */
export async function showRestoring(
  backup: Backup,
  { isRenewed = false, isTakingBack = false } = {},
): Promise<StorageFault | null> {
  const here = await lessonsHere();
  if (isFault(here)) return here;
  $restoring.set({ backup, here, comparison: compare(backup.lessons, here), isRenewed, isTakingBack });
  return null;
}

export function leaveRestoring(): void {
  $restoring.set(null);
}

function restoredOf(of: readonly Touched[]): Restored {
  const removed = of.filter(({ after }) => after === undefined).length;
  const takes = touchedTakes.length;
  return { put: of.length - removed, removed, ...(takes === 0 ? {} : { takes }) };
}

/** Puts the takes of a backup here, before its lessons: what cannot be kept is told before anything else is changed. */
async function putTakes({ backup, here, comparison }: Restoring, isReplacing: boolean) {
  const { takes = [] } = backup;
  if (takes.length === 0) return [];
  const { changeTakes, keptTakes } = await takesKept();
  const put = takesToPut(takes, await keptTakes(), isReplacing, isReplacing ? new Map() : idsHere(comparison, here));
  await changeTakes(
    put.map(({ after }) => after),
    [],
  );
  await countTakes();
  return put;
}

/** Takes what came of takes back, as far as it is as it came. */
async function takeTakesBack(of: readonly TouchedTake[]): Promise<void> {
  if (of.length === 0) return;
  const { changeTakes, keptTakes } = await takesKept();
  const { put, remove } = takesBack(of, await keptTakes());
  await changeTakes(put, remove);
  await countTakes();
}

async function carryOut(
  restoring: Restoring,
  change: ReturnType<typeof replacePlan>,
  isReplacing: boolean,
  arrange: (now: ShelfArrangement) => ShelfArrangement,
): Promise<StorageFault | null> {
  const { backup, here, isTakingBack } = restoring;
  const store = await lessonStore();
  let ofTakes: readonly TouchedTake[];
  try {
    ofTakes = await putTakes(restoring, isReplacing);
  } catch (error) {
    return faultOf(error);
  }
  const outcome = await store.changeAll(change, here);
  if (outcome.kind !== 'written') await takeTakesBack(ofTakes).catch(() => undefined);
  if (outcome.kind === 'fault') return outcome.fault;
  // another tab has changed something since it was shown: it is shown again, and nothing was done
  if (outcome.kind === 'overtaken') return await showRestoring(backup, { isRenewed: true, isTakingBack });
  touched = touchedBy(change, here);
  touchedTakes = ofTakes;
  if (!isTakingBack) {
    arrangedBefore = await store.arrangement();
    await store.arrange(arrange);
  }
  $restoring.set(null);
  $restored.set(isTakingBack && touched.length === 0 ? null : restoredOf(touched));
  await readAgain();
  return null;
}

/**
 * Merges the backup that is shown into what is kept here.
 * @param titleOf the title of a lesson that is kept beside another of its title
 */
export async function mergeBackup(
  ofDiffering: OfDiffering,
  titleOf: (title: string) => string,
): Promise<StorageFault | null> {
  const restoring = $restoring.get();
  if (restoring === null) return null;
  const { backup, comparison, here } = restoring;
  const change = mergePlan(comparison, ofDiffering, here, { freshId: newId, titleOf });
  return await carryOut(restoring, change, false, (now) => joined(now, backup.arrangement ?? PLAIN_ARRANGEMENT));
}

/** Replaces what is kept here by the backup that is shown. */
export async function replaceByBackup(): Promise<StorageFault | null> {
  const restoring = $restoring.get();
  if (restoring === null) return null;
  const { backup, here } = restoring;
  return await carryOut(restoring, replacePlan(backup.lessons, here), true, (now) => backup.arrangement ?? now);
}

/** What became of taking a restore back. */
export type TakenBack =
  // `staying`: how many lessons came with it, were changed since and stay; `differing`: of how many it is asked what to do
  | { readonly kind: 'taken back'; readonly staying: number; readonly differing: number }
  // other tabs did not cease to change things: nothing was done
  | { readonly kind: 'overtaken' }
  | { readonly kind: 'fault'; readonly fault: StorageFault };

/** How often it is tried on what another tab wrote meanwhile. */
const MOST_TRIES = 5;

/**
 * Takes the last restore back, where what it touched is as it left it. Lessons made or changed since stay; what those were
 * before is shown, held against what they are now.
 */
export async function takeRestoringBack(): Promise<TakenBack> {
  const store = await lessonStore();
  for (let tries = 0; tries < MOST_TRIES; tries++) {
    const here = await lessonsHere();
    if (isFault(here)) return { kind: 'fault', fault: here };
    const { change, differing, staying } = takeBackPlan(touched, here);
    const outcome = await store.changeAll(change, here);
    if (outcome.kind === 'fault') return outcome;
    if (outcome.kind === 'overtaken') continue;
    await store.arrange(() => arrangedBefore);
    try {
      await takeTakesBack(touchedTakes);
    } catch (error) {
      return { kind: 'fault', fault: faultOf(error) };
    }
    touchedTakes = [];
    touched = differing;
    $restored.set(differing.length === 0 ? null : restoredOf(differing));
    await readAgain();
    const done: TakenBack = { kind: 'taken back', staying, differing: differing.length };
    if (differing.length === 0) return done;
    const lessons = differing.map(({ before }) => before);
    const fault = await showRestoring({ lessons, unusable: [] }, { isTakingBack: true });
    return fault === null ? done : { kind: 'fault', fault };
  }
  return { kind: 'overtaken' };
}
