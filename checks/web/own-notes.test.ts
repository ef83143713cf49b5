/**
 * Source: issue 'Drills in every key, and the teacher's own notes': any note is changed, added, taken out by keys alone, by mouse or
 * by a MIDI keyboard; what it does over its chord is said at once; undo works; it is kept. That it goes to another key and prints:
 * checks/parts/own-notes.test.ts. "A journey from 'these two bars, round the fifths, 80 to 120' to Play and to paper in under 30 seconds
 * of work": from where the notes are. How many choruses are made ready is what the packages' own drill has: each tempo in each key.
 *
 * One journey, and eight bars: loading the workbench and engraving pages nobody looks at were most of what two journeys cost.
 */
import { DEFAULT_CHOICES, keysRound, makeDrill, parseKey, type Drill, type Key } from '@fivespan/core';
import type { Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { NO_CHROMIUM } from '../chromium.ts';
import { openWorkbench, type Workbench } from '../workbench.ts';
import { chartOf, pagesAreShown, pasteLesson, savedBy } from './pages.ts';
import { fakeMidi, plug, send } from './fake-midi.ts';
import { SECONDS, TimedTeacher } from './timed-teacher.ts';

const CHART_TEXT =
  'title: Short Pier\nkey: Eb major\ntempo: 132\n\n| Fm7 | Bb7 | Ebmaj7 | % |\n| Abmaj7 | Db7 | Gm7 | C7 |\n';

let workbench: Workbench;
beforeAll(async () => {
  workbench = await openWorkbench();
});
afterAll(async () => {
  await workbench.close();
});

/** What a screen reader says of what has the focus. */
const focused = (page: Page): Promise<string> =>
  page.evaluate(() => document.activeElement?.getAttribute('aria-label') ?? '');

/** Waits until the focus is on a note of which this is said. */
const standsOn = async (page: Page, says: RegExp): Promise<string> => {
  await expect.poll(() => focused(page), { timeout: 60_000, interval: 50 }).toMatch(says);
  return await focused(page);
};

/** The drill that is asked for at the end, as the packages make it. */
function expectedDrill(): Drill {
  const keys = keysRound(parseKey('Eb major') as Key, 'fifths', DEFAULT_CHOICES.seed).slice(0, 3);
  const order = { kind: 'family', bars: { from: 5, to: 6 }, keys, tempi: { fromBpm: 80, toBpm: 120 } } as const;
  const made = makeDrill(chartOf(CHART_TEXT), DEFAULT_CHOICES, order);
  if (!made.ok) throw new Error('the drill must be made');
  return made.value;
}

describe.skipIf(NO_CHROMIUM)('notes of one’s own', () => {
  test('are written by keys and by a MIDI keyboard, told, taken back, kept, and let go; drilled on paper and in Play', async () => {
    const { page, context, errors } = await workbench.visit({
      reducedMotion: 'reduce',
      viewport: { width: 1280, height: 720 },
      before: (each) => each.addInitScript(fakeMidi),
    });
    await pasteLesson(page, CHART_TEXT);
    await page.getByRole('link', { name: 'Study', exact: true }).click();
    await page.getByRole('tab', { name: 'notes', exact: true }).click();
    await page.locator('[aria-busy="false"] [data-note][aria-label]').first().waitFor();
    // there by Tab alone
    const change = page.getByRole('button', { name: 'Change notes' });
    const isThere = (): Promise<boolean> => change.evaluate((button) => button === document.activeElement);
    for (let tabs = 0; tabs < 60 && !(await isThere()); tabs++) await page.keyboard.press('Tab');
    expect(await isThere()).toBe(true);
    await page.keyboard.press('Enter');
    const composed = await standsOn(page, /^right hand, bar \d+/iu);
    expect(composed).not.toContain('Your');
    // each note of the picture says which it is, where, and why it is there; what is tied to it is the same note
    const said = await page
      .locator('[aria-busy="false"] [data-note]:not([aria-hidden])')
      .evaluateAll((notes) => notes.map((note) => note.getAttribute('aria-label') ?? ''));
    expect(said.length).toBeGreaterThan(30);
    expect(said.filter((text) => !/^(?:right|left) hand, bar \d+.*[A-G].*\./u.test(text))).toEqual([]);
    const tools = page.getByRole('group', { name: 'Change the note' });
    const told = tools.getByRole('status');

    // a step up: told at once, engraved with the focus on it
    await page.keyboard.press('ArrowUp');
    await expect.poll(() => told.innerText(), { timeout: 60_000, interval: 20 }).toMatch(/[Yy]our [A-G]/u);
    const stepped = await standsOn(page, /Your [A-G]/u);
    expect(stepped).toMatch(/finger [1-5]/u);
    // a half step more, twice without waiting, and back
    for (const key of ['Shift+ArrowUp', 'Shift+ArrowUp', 'Shift+ArrowDown', 'Shift+ArrowDown']) {
      await page.keyboard.press(key);
    }
    await standsOn(page, new RegExp(stepped.slice(0, 30), 'u'));
    // a note after it, and out again
    await page.keyboard.press('Insert');
    await expect.poll(() => focused(page), { timeout: 60_000 }).not.toBe(stepped);
    await standsOn(page, /Your/u);
    await page.keyboard.press('Delete');
    await page.keyboard.press('Control+z');
    await page.keyboard.press('Control+z');
    await page.keyboard.press('ArrowUp');
    await page.keyboard.press('ArrowDown');
    await standsOn(page, /Your/u);

    // how long it is stands there; made an eighth, it begins an eighth later, and earlier again
    await page.keyboard.press('4');
    await page.keyboard.press('8');
    const length = tools.getByRole('combobox', { name: 'Length' });
    await expect.poll(() => length.inputValue(), { timeout: 60_000 }).toBe('480');
    const begun = await standsOn(page, /Your/u);
    await page.keyboard.press('Shift+ArrowRight');
    await expect.poll(() => focused(page), { timeout: 60_000 }).not.toBe(begun);
    await standsOn(page, /Your/u);
    await page.keyboard.press('Shift+ArrowLeft');
    await standsOn(page, new RegExp(`^${begun.slice(0, 25)}`, 'u'));

    // played in
    await page.getByRole('button', { name: 'Connect a MIDI keyboard' }).click();
    await plug(page, 'Stage');
    await tools.getByText('A key you strike', { exact: false }).waitFor();
    await send(page, 0x90, 74, 100);
    await send(page, 0x80, 74, 0);
    await expect.poll(() => told.innerText(), { timeout: 60_000, interval: 20 }).toMatch(/: D in octave 5/u);

    // kept as a phrase, put over another chord, taken back
    await page.getByRole('button', { name: /^Phrases/u }).click();
    const phrases = page.getByRole('group', { name: 'Phrases that are kept' });
    await phrases.getByRole('textbox', { name: 'Name' }).fill('opening');
    await phrases.getByRole('button', { name: 'Keep as a phrase' }).click();
    await phrases.getByRole('list', { name: 'Kept phrases' }).getByText('opening').waitFor();
    await phrases.getByRole('button', { name: 'Rename: opening' }).click();
    await phrases.getByRole('list').getByRole('textbox', { name: 'Name' }).fill('first line');
    await phrases.getByRole('button', { name: 'Take this name' }).click();
    const chords = page.getByRole('listbox', { name: 'Chart' }).getByRole('option');
    await chords.nth(4).click();
    await phrases.getByRole('button', { name: /^Put here, over .*: first line$/u }).click();
    const pinned = page.getByRole('button', { name: /^[3-9] pins/u });
    await expect.poll(() => pinned.count(), { timeout: 60_000 }).toBe(1);
    // back, there again, and back
    await page.keyboard.press('Control+z');
    await expect.poll(() => pinned.count(), { timeout: 60_000 }).toBe(0);
    await page.keyboard.press('Control+Shift+z');
    await expect.poll(() => pinned.count(), { timeout: 60_000 }).toBe(1);
    await page.keyboard.press('Control+z');
    await page.keyboard.press('Escape');
    await chords.nth(0).click();

    // a voicing's keys, too
    await page.getByRole('radio', { name: 'Voicings' }).check();
    const held = page.locator('[aria-busy="false"] [data-note][aria-label^="voicings"]');
    // the grounds of a chord's notes lie over one another: the nearest head is meant
    await held.first().locator('.notehead').click({ force: true });
    await page.keyboard.press('ArrowUp');
    await expect
      .poll(() => told.innerText(), { timeout: 60_000, interval: 20 })
      .toMatch(/[Yy]our [A-G][^:]* over|[Yy]our [A-G].* of /u);
    await tools.getByText('This voicing is yours.').waitFor();
    await standsOn(page, /^voicings.*Your/u);
    await page.keyboard.press('Control+z');
    await tools.getByText('This voicing is led by itself').waitFor();
    await page.getByRole('radio', { name: 'Chorus over bass' }).check();

    // kept: another tab shows it, and the chord's own are composed again there on request; this one follows
    const other = await context.newPage();
    await other.goto(page.url());
    await other.getByRole('tab', { name: 'notes', exact: true }).click();
    const ownIn = (tab: Page) => tab.locator('[aria-busy="false"] [data-note][aria-label*="Your D"]');
    await ownIn(other).first().waitFor();
    const backToNotes = async (): Promise<void> => {
      await page.getByRole('link', { name: 'Short Pier', exact: true }).click();
      await page.getByRole('link', { name: 'Study', exact: true }).click();
      await page.getByRole('tab', { name: 'notes', exact: true }).click();
      await ownIn(page).first().waitFor();
    };
    // meanwhile the lessons are backed up here; behind another tab a page takes its time
    await page.bringToFront();
    await page.getByRole('link', { name: 'Lessons', exact: true }).click();
    const saved = await savedBy(page, () => page.getByRole('button', { name: 'Back up everything' }).click());
    await backToNotes();
    await other.bringToFront();
    await ownIn(other).first().click();
    await other.getByRole('button', { name: 'Change notes' }).click();
    await other.getByRole('button', { name: 'Compose these again' }).click();
    for (const tab of [other, page]) {
      await expect
        .poll(() => tab.locator('[aria-busy="false"] [data-note][aria-label*="Your"]').count(), { timeout: 60_000 })
        .toBe(0);
    }
    await other.close();

    // and back out of the backup, phrases too
    await page.getByRole('link', { name: 'Lessons', exact: true }).click();
    const [chooser] = await Promise.all([
      page.waitForEvent('filechooser'),
      page.getByRole('button', { name: 'Restore from a backup' }).click(),
    ]);
    await chooser.setFiles({ name: saved.name, mimeType: 'application/json', buffer: Buffer.from(saved.bytes) });
    await page.getByRole('button', { name: 'Replace everything' }).click();
    await page.getByText(/Restored: /u).waitFor();
    await backToNotes();

    // the phrase in every key
    await page.getByRole('button', { name: 'Phrases (1)' }).click();
    await page.getByRole('button', { name: 'Drill it in every key: first line' }).click();
    await page.getByRole('combobox', { name: 'The line' }).waitFor();
    expect(await page.getByRole('textbox', { name: 'From bar' }).count()).toBe(0);
    await page.getByRole('radio', { name: 'bars I choose' }).check();
    await page.getByRole('textbox', { name: 'From bar' }).waitFor();
    await page.getByRole('button', { name: 'Play this drill' }).waitFor();
    await page.getByRole('link', { name: 'Study', exact: true }).click();

    // these two bars, round the fifths, 80 to 120: on paper, saved, and played; from the chord they begin with
    await page.getByRole('listbox', { name: 'Chart' }).getByRole('option').nth(4).click();
    const drill = expectedDrill();
    const teacher = new TimedTeacher();
    const field = (name: string): Locator => page.getByRole('textbox', { name });
    await teacher.press(page.getByRole('button', { name: 'Drill bars 5–8' }));
    await field('From bar').waitFor();
    expect(await field('to bar').inputValue()).toBe('8');
    await teacher.choose(page.getByLabel('What is practised'), 'The family, in order and mixed');
    await teacher.type(field('to bar'), '6');
    await teacher.choose(page.getByRole('combobox', { name: /^Keys/u }), 'round by fifths');
    await teacher.type(field('How many keys'), '3');
    await teacher.type(field('From tempo'), '80');
    await teacher.type(field('to tempo'), '120');
    const pages = page.getByRole('group', { name: 'The pages as they will be printed' });
    await pages.getByRole('heading', { name: 'The family, in order and mixed' }).waitFor({ state: 'attached' });
    await pagesAreShown(page);
    const { name, bytes } = await savedBy(page, () => teacher.press(page.getByRole('button', { name: 'Save PDF' })));
    expect(name).toBe('short-pier-family.pdf');
    expect(new TextDecoder('latin1').decode(bytes.subarray(0, 5))).toBe('%PDF-');
    await teacher.press(page.getByRole('button', { name: 'Play this drill' }));
    await page.getByText('The family, in order and mixed, bars 5–6, in 3 keys.').waitFor();
    // each tempo in each key
    await page.getByText(new RegExp(`^Ready: ${drill.ladder.tempi.length * 3} `, 'u')).waitFor({ timeout: 60_000 });
    // the chord had to be chosen, too
    const choosing = SECONDS.think + SECONDS.point + SECONDS.press;
    expect(teacher.seconds + choosing).toBeLessThan(30);
    expect(errors).toEqual([]);
  }, 180_000);
});
