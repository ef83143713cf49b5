import type { Issue, IssueArgs, IssueCode, Result } from '@fivespan/core';

/** One thing wrong with the file, as a result. */
export function failure(code: IssueCode, args: IssueArgs = {}, place: Issue['place'] = {}): Result<never> {
  return { ok: false, issues: [{ code, args, place }] };
}
