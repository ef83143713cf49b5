import type { Page } from 'playwright-core';
import { afterAll, onTestFailed } from 'vitest';

/**
 * One visit for several tests that come one after the other, each leaving it where the next can go on: opened by the first that
 * asks (with `kept: true`), anew after a test that failed, so that a second try finds nothing of the first. A visit costs some
 * five seconds of processor time, ten with pages or notes engraved.
 */
export function sharedVisit<Visit extends { readonly page: Page }>(open: () => Promise<Visit>): () => Promise<Visit> {
  let visit: Promise<Visit> | undefined;
  const leave = async (): Promise<void> => {
    const gone = visit;
    visit = undefined;
    await (await gone?.catch(() => undefined))?.page.context().close();
  };
  afterAll(leave);
  return async () => {
    onTestFailed(leave);
    visit ??= open();
    return await visit;
  };
}
