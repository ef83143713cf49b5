/**
 * Source: issue 'Drills in every key': "a journey from 'these two bars, round the fifths, 80 to 120' to Play and to paper in under 30
 * seconds of work". How many choruses are made ready is what the packages' own drill has: each tempo in each key.
 */
import { readFileSync } from 'node:fs';
import { DEFAULT_CHOICES, keysRound, makeDrill, parseKey, readChart, type Drill, type Key } from '@fivespan/core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { NO_CHROMIUM } from '../chromium.ts';
import { openWorkbench, type Workbench } from '../workbench.ts';
import { openPages, pagesAreShown, panel, savedBy } from './pages.ts';

let workbench: Workbench;
beforeAll(async () => {
  workbench = await openWorkbench();
});
afterAll(async () => {
  await workbench?.close();
});

/** The drill that is asked for below, as the packages make it. */
function expected(): Drill {
  const read = readChart(readFileSync(new URL('../../examples/DEMO.chart', import.meta.url), 'utf8'));
  if (!read.ok) throw new Error('the demo chart must be readable');
  const keys = keysRound(parseKey('Eb major') as Key, 'fifths', DEFAULT_CHOICES.seed).slice(0, 3);
  const order = { kind: 'family', bars: { from: 5, to: 6 }, keys, tempi: { fromBpm: 80, toBpm: 120 } } as const;
  const made = makeDrill(read.value, DEFAULT_CHOICES, order);
  if (!made.ok) throw new Error('the drill must be made');
  return made.value;
}

describe.skipIf(NO_CHROMIUM)('a drill', () => {
  test('two bars, round the fifths, 80 to 120: on paper, saved, and played', async () => {
    const { page, errors } = await workbench.visit({ viewport: { width: 1280, height: 900 } });
    await openPages(page);
    const drill = expected();
    await panel(page, 'Drill');
    await page.getByLabel('What is practised').selectOption({ label: 'The family, in order and mixed' });
    await page.getByRole('textbox', { name: 'From bar' }).fill('5');
    await page.getByRole('textbox', { name: 'to bar' }).fill('6');
    await page.getByRole('combobox', { name: /^Keys/u }).selectOption({ label: 'round by fifths' });
    await page.getByRole('textbox', { name: 'How many keys' }).fill('3');
    await page.getByRole('textbox', { name: 'From tempo' }).fill('80');
    await page.getByRole('textbox', { name: 'to tempo' }).fill('120');

    await page.getByRole('button', { name: 'Show its sheet' }).click();
    const pages = page.getByRole('group', { name: 'The pages as they will be printed' });
    await pages.getByRole('heading', { name: 'The family, in order and mixed' }).waitFor({ state: 'attached' });
    await pagesAreShown(page);
    const { name, bytes } = await savedBy(page, () => page.getByRole('button', { name: 'Save PDF' }).click());
    expect(name).toBe('lantern-street-family.pdf');
    expect(new TextDecoder('latin1').decode(bytes.subarray(0, 5))).toBe('%PDF-');

    await page.getByRole('button', { name: 'Play this drill' }).click();
    await page.getByText('The family, in order and mixed, bars 5–6, in 3 keys.').waitFor();
    // each tempo in each key
    await page.getByText(new RegExp(`^Ready: ${drill.ladder.tempi.length * 3} `, 'u')).waitFor({ timeout: 60_000 });
    expect(errors).toEqual([]);
  });
});
