/** Source: issue 'The workbench': `npm start` shows the demo lesson. */
import { afterAll, beforeAll, expect, test } from 'vitest';
import { NO_CHROMIUM } from './chromium.ts';
import { openWorkbench, type Workbench } from './workbench.ts';

let workbench: Workbench;
beforeAll(async () => {
  workbench = await openWorkbench();
});
afterAll(async () => {
  await workbench.close();
});

test.skipIf(NO_CHROMIUM)('opens without an error', async () => {
  const { page, errors } = await workbench.visit();
  await page.getByRole('link', { name: 'Lessons' }).waitFor();
  expect(errors).toEqual([]);
});
