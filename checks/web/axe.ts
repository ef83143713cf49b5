/**
 * What a page is judged by: axe-core's rules for WCAG 2.0 to 2.2, A and AA. In the light theme every one of them; in the dark one,
 * where only colours can be wrong that were right, those of colours. It is asked for what is wrong and what it leaves to a
 * person: naming all that is right takes it longer than finding it. There is one frame, so no page is opened to join several.
 */
import { AxeBuilder } from '@axe-core/playwright';
import type { Page } from 'playwright-core';

export type Theme = 'light' | 'dark';

const TAGS = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];
const COLOUR_RULES = ['color-contrast', 'link-in-text-block'];

/** The judge of a page in a theme, which the page is put into. */
export async function axeIn(page: Page, theme: Theme): Promise<AxeBuilder> {
  await page.emulateMedia({ colorScheme: theme });
  const axe = new AxeBuilder({ page }).setLegacyMode(true).options({ resultTypes: ['violations', 'incomplete'] });
  return theme === 'light' ? axe.withTags(TAGS) : axe.withRules(COLOUR_RULES);
}
