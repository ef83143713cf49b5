/**
 * Source: issue 'The workbench', 'Chart': "edit bars and chords in place with keyboard and mouse; Tab and arrows move, a
 * wrong symbol is marked with its message at once, the rest goes on working; sections, repeats, endings; key, tempo,
 * metre, feel; transpose; undo and redo; the text form beside it, each changing the other."
 */
import type { Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { NO_CHROMIUM } from '../chromium.ts';
import { sharedVisit } from '../shared-visit.ts';
import { openWorkbench, type Workbench } from '../workbench.ts';

let workbench: Workbench;
beforeAll(async () => {
  if (NO_CHROMIUM === undefined) workbench = await openWorkbench();
});
afterAll(async () => {
  await workbench?.close();
});

const visited = sharedVisit(() => workbench.visit({ chartText: true, kept: true }));

/** The chart screen of a new lesson with this text on it. */
async function chartWith(text: string): Promise<{ page: Page; errors: string[] }> {
  const { page, errors } = await visited();
  await page.getByRole('link', { name: 'Lessons', exact: true }).click();
  await page.getByRole('heading', { name: 'Lessons' }).waitFor();
  await page.getByRole('button', { name: 'New chart' }).click();
  await page.getByRole('grid', { name: 'Bars' }).waitFor();
  await textOf(page).fill(text);
  return { page, errors };
}

const textOf = (page: Page): Locator => page.getByRole('textbox', { name: 'Text', exact: true });
const written = (page: Page): Promise<string> => textOf(page).inputValue();
const bar = (page: Page, index: number): Locator =>
  page.getByRole('grid', { name: 'Bars' }).locator(`[data-bar="${index}"]`);
const tools = (page: Page, number: number): Locator => page.getByRole('region', { name: `Bar ${number}: what else` });
const focusedBar = (page: Page): Promise<string | null> => page.locator('[data-bar]:focus').getAttribute('data-bar');

describe.skipIf(NO_CHROMIUM)('a chart written on the screen', () => {
  test('a new chart by keyboard only, in the bars', async () => {
    const { page, errors } = await chartWith('');
    await page.getByRole('gridcell', { name: 'New bar' }).focus();
    await page.keyboard.type('Dm7');
    await page.keyboard.press('Tab');
    await page.keyboard.type('G7 Db7');
    await page.keyboard.press('|');
    await page.keyboard.type('Cmaj7');
    await page.keyboard.press('Enter');
    expect(await written(page)).toBe('| Dm7 | G7 Db7 | Cmaj7 |\n');
    expect(await focusedBar(page)).toBe('2');
    // arrows move, typing writes anew, Escape takes back
    await page.keyboard.press('ArrowLeft');
    await page.keyboard.type('A7');
    expect(await written(page)).toBe('| Dm7 | A7 | Cmaj7 |\n');
    await page.keyboard.press('Escape');
    expect(await written(page)).toBe('| Dm7 | G7 Db7 | Cmaj7 |\n');
    // Enter goes on with what is there
    await page.keyboard.press('Enter');
    await page.keyboard.press('End');
    await page.keyboard.type('(b9)');
    await page.keyboard.press('Enter');
    expect(await written(page)).toBe('| Dm7 | G7 Db7(b9) | Cmaj7 |\n');
    expect(await bar(page, 1).getAttribute('aria-label')).toContain('D flat');
    expect(errors).toEqual([]);
  });

  test('a new bar begun with the mouse takes every letter', async () => {
    const { page } = await chartWith('| Dm7 |');
    await page.getByRole('gridcell', { name: 'New bar' }).click();
    await page.keyboard.type('G7sus');
    expect(await written(page)).toBe('| Dm7 | G7sus |');
    for (let letter = 0; letter < 5; letter++) await page.keyboard.press('Backspace');
    expect(await written(page)).toBe('| Dm7 |');
    await page.keyboard.type('C6');
    await page.keyboard.press('Enter');
    expect(await written(page)).toBe('| Dm7 | C6 |');
  });

  test('a bar that is pressed and typed on is written anew; a second press puts the caret where one wants it', async () => {
    const { page } = await chartWith('| N.C. | Ebmaj7 | F7 |');
    await bar(page, 0).click();
    await page.keyboard.type('Fmaj7');
    await bar(page, 1).click();
    await page.keyboard.type('Gm7');
    await bar(page, 2).click();
    await bar(page, 2).locator('input').click();
    await page.keyboard.press('End');
    await page.keyboard.type('(b9)');
    await page.keyboard.press('Enter');
    expect(await written(page)).toBe('| Fmaj7 | Gm7 | F7(b9) |');
  });

  test('Tab leaves the bars at the end, at the beginning, and after Escape anywhere', async () => {
    const { page } = await chartWith('| Dm7 | G7 | Cmaj7 |');
    await bar(page, 1).focus();
    await page.keyboard.press('Tab');
    expect(await focusedBar(page)).toBe('2');
    await page.keyboard.press('Tab');
    expect(await focusedBar(page)).toBe('3');
    await page.keyboard.press('Tab');
    expect(await page.locator('[data-bar]:focus').count()).toBe(0);
    expect(await page.locator('summary:focus').count()).toBe(1);
    await bar(page, 0).focus();
    await page.keyboard.press('Shift+Tab');
    expect(await page.locator('[data-bar]:focus').count()).toBe(0);
    await bar(page, 1).focus();
    await page.keyboard.press('Escape');
    await page.keyboard.press('Tab');
    expect(await page.locator('summary:focus').count()).toBe(1);
  });

  test('a wrong chord is marked with its message at once, said, and put right; the rest goes on', async () => {
    const { page, errors } = await chartWith('key: C major\n| Dm7 | G7 | Cmaj7 |');
    await page.getByText('iim7').waitFor();
    await bar(page, 1).click();
    const field = page.getByRole('textbox', { name: 'Chords of bar 2' });
    await field.fill('Gmx7');
    const message = "'Gmx7' is not a chord symbol: 'x7' is not understood; nearest: Gm7";
    await bar(page, 1).getByText(message).waitFor();
    expect(await field.getAttribute('aria-invalid')).toBe('true');
    const described = await field.getAttribute('aria-describedby');
    expect(await page.locator(`[id="${described}"]`).textContent()).toContain(message);
    await page.getByRole('status').filter({ hasText: message }).waitFor();
    // the others are read and computed on
    await page.getByRole('gridcell', { name: /Bar 3, C major seven, one major seven/u }).waitFor();
    await page.keyboard.press('Tab');
    await bar(page, 1).getByText(message).waitFor();
    expect(await bar(page, 1).getAttribute('aria-invalid')).toBe('true');
    await bar(page, 1).click();
    await field.fill('Gm7');
    await page.keyboard.press('Enter');
    await page.getByText(message).waitFor({ state: 'detached' });
    expect(await written(page)).toBe('key: C major\n| Dm7 | Gm7 | Cmaj7 |');
    expect(errors).toEqual([]);
  });

  test('the text changes the bars, the bars the text, comments and blanks untouched', async () => {
    const { page } = await chartWith('# for Tuesday\ntitle: Tin kettle\n\nA:\n|  Dm7   G7  |  Cmaj7 |  % |\n');
    await page.getByRole('rowheader', { name: 'Section A' }).waitFor();
    expect(await bar(page, 2).getAttribute('aria-label')).toContain('as the bar before');
    expect(await page.getByRole('textbox', { name: 'Title' }).inputValue()).toBe('Tin kettle');
    await bar(page, 1).focus();
    await page.keyboard.type('Em7');
    await page.keyboard.press('Enter');
    expect(await written(page)).toBe('# for Tuesday\ntitle: Tin kettle\n\nA:\n|  Dm7   G7  |  Em7 |  % |\n');
    // typed in the middle of the text, the caret stays
    await textOf(page).focus();
    await textOf(page).evaluate((area: HTMLTextAreaElement) => area.setSelectionRange(25, 25));
    await page.keyboard.type('er');
    expect(await textOf(page).evaluate((area: HTMLTextAreaElement) => area.selectionStart)).toBe(27);
    expect(await page.getByRole('textbox', { name: 'Title' }).inputValue()).toBe('Tin erkettle');
    // a fault in the text leads there
    await textOf(page).fill('| Dm7 | Hx |\n| G7 |');
    await page.getByRole('button', { name: /Line 1, column 9/u }).click();
    expect(
      await textOf(page).evaluate((area: HTMLTextAreaElement) =>
        area.value.slice(area.selectionStart, area.selectionEnd),
      ),
    ).toBe('Hx');
  });

  test('undo and redo, by button and key, in a bar and in the text', async () => {
    const { page } = await chartWith('| Dm7 | G7 |');
    await bar(page, 0).focus();
    await page.keyboard.type('Am7');
    await page.keyboard.press('Tab');
    await page.keyboard.type('D7');
    await page.keyboard.press('Enter');
    expect(await written(page)).toBe('| Am7 | D7 |');
    await page.keyboard.press('Control+z');
    expect(await written(page)).toBe('| Am7 | G7 |');
    await page.getByRole('button', { name: 'Undo' }).click();
    expect(await written(page)).toBe('| Dm7 | G7 |');
    await page.getByRole('button', { name: 'Redo' }).click();
    await page.keyboard.press('Control+y');
    expect(await written(page)).toBe('| Am7 | D7 |');
    await textOf(page).focus();
    await page.keyboard.press('Control+End');
    await page.keyboard.type(' C6');
    expect(await written(page)).toBe('| Am7 | D7 | C6');
    await page.keyboard.press('Control+z');
    expect(await written(page)).toBe('| Am7 | D7 |');
    await page.keyboard.press('Control+Shift+z');
    expect(await written(page)).toBe('| Am7 | D7 | C6');
    // while a bar is written, its field shows what is there then
    await bar(page, 0).click();
    await page.keyboard.type('b5');
    await page.keyboard.press('Control+z');
    expect(await page.getByRole('textbox', { name: 'Chords of bar 1' }).inputValue()).toBe('Am7');
  });

  test('bars put in and taken out; sections, repeats, endings, metre, marks', async () => {
    const { page, errors } = await chartWith('| Dm7 | G7 | Cmaj7 |');
    await bar(page, 1).focus();
    await tools(page, 2).getByRole('button', { name: 'Bar after' }).click();
    await page.keyboard.type('Db7');
    await page.keyboard.press('Enter');
    expect(await written(page)).toBe('| Dm7 | G7 | Db7 | Cmaj7 |');
    await bar(page, 1).focus();
    await page.keyboard.press('Control+Delete');
    expect(await written(page)).toBe('| Dm7 | Db7 | Cmaj7 |');
    await bar(page, 0).focus();
    await tools(page, 1).getByRole('textbox', { name: 'Section begins here' }).fill('Verse');
    await tools(page, 1).getByRole('checkbox', { name: 'Repeat begins here' }).check();
    await bar(page, 1).focus();
    await tools(page, 2).getByRole('combobox', { name: 'Ending begins here' }).selectOption('1');
    await tools(page, 2).getByRole('checkbox', { name: 'Repeat ends here' }).check();
    await bar(page, 2).focus();
    await tools(page, 3).getByRole('combobox', { name: 'Ending begins here' }).selectOption('2');
    await tools(page, 3).getByRole('combobox', { name: 'Metre from here on' }).selectOption('3/4');
    await tools(page, 3).getByRole('checkbox', { name: 'fine' }).check();
    await tools(page, 3).getByRole('combobox', { name: 'At its end' }).selectOption('D.C. al fine');
    expect(await written(page)).toBe('Verse:\n|: Dm7 | 1. Db7 :| 2. 3/4 Cmaj7 fine D.C. al fine |');
    expect(await bar(page, 2).getAttribute('aria-label')).toMatch(
      /^Bar 3, metre 3 4, ending 2, C major seven.*, fine, D\.C\. al fine$/u,
    );
    await page.getByText('Everything is understood.').waitFor();
    expect(errors).toEqual([]);
  });

  test('key, tempo, metre and feel; a wrong tempo is told beside its field', async () => {
    const { page } = await chartWith('| Dm7 | G7 | Cmaj7 |');
    await page.getByRole('textbox', { name: 'Title' }).fill('Low tide');
    const key = page.getByRole('combobox', { name: 'Key', exact: true });
    await key.getByText('found: C major').waitFor({ state: 'attached' });
    await key.selectOption('C major');
    const tempo = page.getByRole('textbox', { name: 'Tempo' });
    await tempo.fill('1');
    expect(await tempo.getAttribute('aria-invalid')).toBe('true');
    await tempo.fill('118');
    await page.getByRole('combobox', { name: 'Feel' }).selectOption('even');
    await page.getByRole('combobox', { name: 'Metre', exact: true }).selectOption('3/4');
    expect(await written(page)).toBe(
      'title: Low tide\nkey: C major\nmeter: 3/4\ntempo: 118\nfeel: even\n\n| Dm7 | G7 | Cmaj7 |',
    );
  });

  test('shown in another key: rightly spelled, on the other screens, pins in their bars; the chart as it was written', async () => {
    const text = '# mine\nkey: C major\n| Dm7 | G7 | Cmaj7 | B7 |';
    const { page, errors } = await chartWith(text);
    const chord = (name: RegExp) => page.getByRole('option', { name });
    await page.getByRole('link', { name: 'Study', exact: true }).click();
    await chord(/^bar 2, G seven/u).click();
    await page.getByRole('tab', { name: 'hand', exact: true }).click();
    await page.getByRole('button', { name: 'Pin this position' }).click();
    await chord(/^bar 2, G seven.*pinned$/u).waitFor();
    await page.getByRole('link', { name: 'Chart', exact: true }).click();
    await page.getByRole('button', { name: 'In another key …' }).click();
    const dialog = page.getByRole('dialog', { name: 'In another key' });
    await dialog.getByText('D♭', { exact: true }).click();
    await dialog.getByText('E♭m7').waitFor();
    await dialog.getByRole('button', { name: 'Show it in D♭ major' }).click();
    await dialog.waitFor({ state: 'detached' });
    expect(await written(page)).toBe(text);
    await page.getByText('Written in C major, as below. Study, Play and Pages show it in D♭ major.').waitFor();
    await page.getByRole('link', { name: 'Study', exact: true }).click();
    await chord(/^bar 2, A flat seven.*pinned$/u).waitFor();
    // docs/chart.md: in Db the B7 of a chart in C is C7
    await chord(/^bar 4, C seven(?!.*pinned)/u).waitFor();
    await page.getByRole('link', { name: 'Chart', exact: true }).click();
    await page.getByRole('button', { name: 'Show it as written' }).click();
    await page.getByRole('link', { name: 'Study', exact: true }).click();
    await chord(/^bar 2, G seven.*pinned$/u).waitFor();
    // a chart that states no key, and whose chords leave it open: the teacher says which it is
    await page.getByRole('link', { name: 'Chart', exact: true }).click();
    await textOf(page).fill('| Fmaj7 | Em7 A7 | Dm7 | G7 |');
    await page
      .getByRole('group', { name: 'The chords fit more than one key. Yours is' })
      .getByRole('button', { name: 'C major' })
      .click();
    expect(await written(page)).toMatch(/^key: C major\n+\| Fmaj7/u);
    expect(errors).toEqual([]);
  });

  test('what would be right is put in with one press, in the bar and in the list below the text', async () => {
    const { page, errors } = await chartWith('| Dm7 | Gmx7 | Bb7 Ebmaj7 C7 |');
    await bar(page, 1).getByRole('button', { name: 'Write Gm7' }).click();
    expect(await written(page)).toBe('| Dm7 | Gm7 | Bb7 Ebmaj7 C7 |');
    expect(await focusedBar(page)).toBe('1');
    await page
      .getByRole('region', { name: 'Text', exact: true })
      .getByRole('button', { name: 'Write Bb7 / Ebmaj7 C7' })
      .press('Enter');
    expect(await written(page)).toBe('| Dm7 | Gm7 | Bb7 / Ebmaj7 C7 |');
    await page.getByText('Everything is understood.').waitFor();
    await page.getByRole('button', { name: 'Undo' }).click();
    expect(await written(page)).toBe('| Dm7 | Gm7 | Bb7 Ebmaj7 C7 |');
    expect(errors).toEqual([]);
  });

  test('a field that the browser’s Back leaves writes into no other lesson', async () => {
    const { page } = await chartWith('| Dm7 | G7 | Cmaj7 |');
    const address = page.url();
    await bar(page, 1).focus();
    await page.keyboard.type('Em7');
    await page.goBack();
    await page.waitForURL((url) => url.href !== address);
    // the other screen stands: who is back sooner finds the field as it was left, which is no loss
    await bar(page, 1).waitFor({ state: 'detached' });
    await page.goForward();
    await bar(page, 1).waitFor();
    // no field is open any more
    await page.getByRole('textbox', { name: 'Chords of bar 2' }).waitFor({ state: 'detached' });
    expect(await written(page)).toBe('| Dm7 | Em7 | Cmaj7 |');
  });

  test('Home and End go to the ends of the line one sees; an arrow with Alt takes no focus from the text', async () => {
    const { page } = await chartWith('A:\n| C | D | E | F | G | A |\nB:\n| Dm | Em | Fm |');
    // the second line of A has two bars, and B begins after them
    await bar(page, 5).focus();
    await page.keyboard.press('Home');
    expect(await focusedBar(page)).toBe('4');
    await page.keyboard.press('End');
    expect(await focusedBar(page)).toBe('5');
    await bar(page, 8).focus();
    await page.keyboard.press('Home');
    expect(await focusedBar(page)).toBe('6');
    await page.keyboard.press('Alt+ArrowDown');
    await textOf(page).focus();
    await page.keyboard.press('Control+End');
    await page.keyboard.type(' x');
    expect(await textOf(page).evaluate((area) => area === document.activeElement)).toBe(true);
    expect(await written(page)).toBe('A:\n| C | D | E | F | G | A |\nB:\n| Dm | Em | Fm | x');
  });

  test('a text of twenty thousand lines is numbered where one sees it, and written on', async () => {
    const { page, errors } = await chartWith('| Dm7 |');
    // pasted: as if it were typed, the browser itself would need minutes for it
    await textOf(page).evaluate((area: HTMLTextAreaElement) => {
      const clipboardData = new DataTransfer();
      clipboardData.setData('text/plain', `${'# a note\n'.repeat(20_000)}| G7 | Hx |`);
      area.setSelectionRange(0, area.value.length);
      area.dispatchEvent(new ClipboardEvent('paste', { clipboardData, bubbles: true, cancelable: true }));
    });
    await page.getByRole('button', { name: /Line 20001, column 8/u }).click();
    await page.getByText('✕ 20001', { exact: true }).waitFor();
    expect(await page.getByText(/^\s*\d+$/u).count()).toBeLessThan(300);
    await page.keyboard.type('G7');
    await page.getByText('Everything is understood.').waitFor();
    expect(await bar(page, 1).getAttribute('aria-label')).toContain('G seven');
    expect(errors).toEqual([]);
  });

  test('on a phone: two bars in a line, nothing beyond the edge, the tools within reach', async () => {
    const { page } = await workbench.visit({
      viewport: { width: 390, height: 844 },
      hasTouch: true,
      chartText: true,
    });
    await page.waitForURL(/#\/lesson\//u);
    await page.getByRole('link', { name: 'Chart', exact: true }).click();
    await bar(page, 2).click();
    await page.keyboard.press('Escape');
    const tops = await Promise.all([0, 1, 2].map(async (index) => (await bar(page, index).boundingBox())?.y));
    expect(tops[0]).toBe(tops[1]);
    expect(tops[2]).toBeGreaterThan(tops[0] ?? Number.NaN);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
    await bar(page, 0).tap();
    await page.keyboard.type('Fm7b5');
    await page.keyboard.press('Enter');
    await page.keyboard.type('alt');
    expect(await written(page)).toContain('| Fm7b5 | Bb7alt |');
    await bar(page, 2).tap();
    await tools(page, 3).getByRole('button', { name: 'More' }).tap();
    await tools(page, 3).getByRole('checkbox', { name: 'Repeat begins here' }).check();
    expect(await written(page)).toContain('|: Ebmaj7');
  });
});
