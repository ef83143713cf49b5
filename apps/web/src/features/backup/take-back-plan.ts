import type { ShelfChange, StoredLesson } from '../../platform/storage/index.ts';

/** What a restore did to one lesson; undefined where there was, or is then, none of its id. */
export interface Touched {
  readonly before: StoredLesson | undefined;
  readonly after: StoredLesson | undefined;
}

/** What taking a restore back comes to. */
export interface TakeBack {
  /** Of lessons that are as the restore has left them. */
  readonly change: ShelfChange;
  /** Lessons that were something else before, and were changed since: for the teacher to compare. */
  readonly differing: readonly (Touched & { readonly before: StoredLesson })[];
  /** How many came with the restore and were changed since: they stay. */
  readonly staying: number;
}

/** What a change does to the lessons kept here. */
export function touchedBy({ put, remove }: ShelfChange, here: readonly StoredLesson[]): readonly Touched[] {
  const byId = new Map(here.map((each) => [each.id, each]));
  return [
    ...put.map((after) => ({ before: byId.get(after.id), after })),
    ...remove.map((id) => ({ before: byId.get(id), after: undefined })),
  ];
}

/** Takes a restore back where nothing has happened since to what it touched; everything else is left alone. */
export function takeBackPlan(touched: readonly Touched[], now: readonly StoredLesson[]): TakeBack {
  const byId = new Map(now.map((each) => [each.id, each]));
  const put: StoredLesson[] = [];
  const remove: string[] = [];
  const differing: (Touched & { readonly before: StoredLesson })[] = [];
  let staying = 0;
  for (const { before, after } of touched) {
    const id = before?.id ?? after?.id ?? '';
    const here = byId.get(id);
    // as it was before already
    if (here?.document === before?.document) continue;
    const isUntouched = here?.document === after?.document;
    if (before === undefined) {
      if (isUntouched) remove.push(id);
      else staying++;
    } else if (isUntouched) {
      // later than what other tabs have read
      put.push({ ...before, revision: Math.max(before.revision, here?.revision ?? 0) + 1 });
    } else {
      differing.push({ before, after });
    }
  }
  return { change: { put, remove }, differing, staying };
}
