/**
 * Source: issue 'Drills in every key': "a journey from 'these two bars, round the fifths, 80 to 120' to Play and to paper in under 30
 * seconds of work". How many choruses are made ready is what the packages' own drill has: each tempo in each key.
 */
import { readFileSync } from 'node:fs';
import { DEFAULT_CHOICES, keysRound, makeDrill, parseKey, readChart, type Drill, type Key } from '@fivespan/core';
import type { Locator } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { NO_CHROMIUM } from '../chromium.ts';
import { openWorkbench, type Workbench } from '../workbench.ts';
import { openPages, pagesAreShown, panel, savedBy } from './pages.ts';

/**
 * A practised person's seconds: the keystroke-level model (Card, Moran and Newell 1980; M): think, point and press with a mouse, strike a
 * key, change hands. The machine's own time is not work.
 */
const SECONDS = { think: 1.35, point: 1.1, press: 0.2, key: 0.28, changeHands: 0.4 } as const;

/** Does what a teacher does, and counts the work of it: fields by Tab and keys, the rest by mouse. */
class Worker {
  seconds = 0;
  isAtKeys = false;
  #take(isAtKeys: boolean, seconds: number): void {
    this.seconds += SECONDS.think + seconds + (this.isAtKeys === isAtKeys ? 0 : SECONDS.changeHands);
    this.isAtKeys = isAtKeys;
  }
  async press(button: Locator): Promise<void> {
    this.#take(false, SECONDS.point + SECONDS.press);
    await button.click();
  }
  async type(field: Locator, text: string): Promise<void> {
    this.#take(true, (1 + text.length) * SECONDS.key);
    await field.fill(text);
  }
  /** By its first letters and an arrow. */
  async choose(list: Locator, label: string): Promise<void> {
    this.#take(true, 4 * SECONDS.key);
    await list.selectOption({ label });
  }
}

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
    const teacher = new Worker();
    const field = (name: string): Locator => page.getByRole('textbox', { name });
    await teacher.choose(page.getByLabel('What is practised'), 'The family, in order and mixed');
    await teacher.type(field('From bar'), '5');
    await teacher.type(field('to bar'), '6');
    await teacher.choose(page.getByRole('combobox', { name: /^Keys/u }), 'round by fifths');
    await teacher.type(field('How many keys'), '3');
    await teacher.type(field('From tempo'), '80');
    await teacher.type(field('to tempo'), '120');

    await teacher.press(page.getByRole('button', { name: 'Show its sheet' }));
    const pages = page.getByRole('group', { name: 'The pages as they will be printed' });
    await pages.getByRole('heading', { name: 'The family, in order and mixed' }).waitFor({ state: 'attached' });
    await pagesAreShown(page);
    const { name, bytes } = await savedBy(page, () => teacher.press(page.getByRole('button', { name: 'Save PDF' })));
    expect(name).toBe('lantern-street-family.pdf');
    expect(new TextDecoder('latin1').decode(bytes.subarray(0, 5))).toBe('%PDF-');

    await teacher.press(page.getByRole('button', { name: 'Play this drill' }));
    await page.getByText('The family, in order and mixed, bars 5–6, in 3 keys.').waitFor();
    // each tempo in each key
    await page.getByText(new RegExp(`^Ready: ${drill.ladder.tempi.length * 3} `, 'u')).waitFor({ timeout: 60_000 });
    // the panel had to be opened too
    const opening = SECONDS.think + SECONDS.point + SECONDS.press;
    expect(teacher.seconds + opening).toBeLessThan(30);
    expect(errors).toEqual([]);
  });
});
