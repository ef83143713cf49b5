import type { TakeRecord } from '../../platform/storage/index.ts';
import type { Comparison } from './restore-plan.ts';

/** What a restore did to one take. */
export interface TouchedTake {
  /** Undefined where it was not here. */
  readonly before: TakeRecord | undefined;
  readonly after: TakeRecord;
}

const isSame = (a: TakeRecord | undefined, b: TakeRecord): boolean => JSON.stringify(a) === JSON.stringify(b);

/** Lessons of the file that are here under another id: their takes go with them. */
export function idsHere(
  { standings }: Comparison,
  here: readonly { readonly id: string; readonly document: string }[],
) {
  const byDocument = new Map(here.map(({ id, document }) => [document, id]));
  const ids = new Set(here.map(({ id }) => id));
  return new Map(
    standings.flatMap(({ kind, lesson }) => {
      const id = byDocument.get(lesson.document);
      return kind === 'same' && id !== undefined && !ids.has(lesson.id) ? [[lesson.id, id] as const] : [];
    }),
  );
}

/**
 * What a restore makes of the takes in a backup: those not here come, none goes. Of one that is here the remarks of both stay; the
 * file's alone where it replaces.
 * @param lessonIds what lessons of the file are called here
 */
export function takesToPut(
  coming: readonly TakeRecord[],
  here: readonly TakeRecord[],
  isReplacing: boolean,
  lessonIds: ReadonlyMap<string, string> = new Map(),
): readonly TouchedTake[] {
  const byId = new Map(here.map((each) => [each.id, each]));
  return coming.flatMap((take): TouchedTake[] => {
    const before = byId.get(take.id);
    const lessonId = lessonIds.get(take.lessonId) ?? take.lessonId;
    if (before === undefined) return [{ before, after: { ...take, lessonId } }];
    const own = new Set(before.remarks.map(({ bar }) => bar));
    const remarks = isReplacing
      ? take.remarks
      : [...before.remarks, ...take.remarks.filter(({ bar }) => !own.has(bar))].toSorted((a, b) => a.bar - b.bar);
    const after = { ...before, remarks };
    return isSame(before, after) ? [] : [{ before, after }];
  });
}

/** Takes the restored takes back, where they are as they came; what was changed since stays. */
export function takesBack(
  touched: readonly TouchedTake[],
  now: readonly TakeRecord[],
): { readonly put: readonly TakeRecord[]; readonly remove: readonly string[] } {
  const byId = new Map(now.map((each) => [each.id, each]));
  const untouched = touched.filter(({ after }) => isSame(byId.get(after.id), after));
  return {
    put: untouched.flatMap(({ before }) => before ?? []),
    remove: untouched.filter(({ before }) => before === undefined).map(({ after }) => after.id),
  };
}
