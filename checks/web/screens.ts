/** The screens of a lesson, for checks that go through all of them. */
import type { Page } from 'playwright-core';

export const SCREENS = ['Study', 'Chart', 'Play', 'Pages'] as const;

/** Goes to a screen of the lesson and waits until it shows what it is about. */
export async function goTo(page: Page, screen: (typeof SCREENS)[number]): Promise<void> {
  await page.getByRole('navigation').getByRole('link', { name: screen, exact: true }).click();
  await page.getByRole('main', { name: screen }).waitFor();
  const main = page.getByRole('main');
  if (screen === 'Study')
    await main
      .getByRole('img', { name: /Thumb on/u })
      .first()
      .waitFor();
  if (screen === 'Chart') await main.getByRole('grid').waitFor();
  if (screen === 'Play') await main.getByRole('button').first().waitFor();
  if (screen === 'Pages') await main.getByRole('img').first().waitFor();
}
