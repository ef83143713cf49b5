/**
 * Makes the pictures of the README anew: `npx tsx tools/pictures.ts`. Needs pdftoppm and Chromium. Run it when the look of a
 * page or a screen changes, and look at what came out.
 */
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { DEFAULT_CHOICES, makeLesson, midi, readChart, type Chart } from '@fivespan/core';
import { degreeLabels, drawKeyboard, thumbsWithin } from '@fivespan/formats/diagram';
import { openWorkbench } from '../checks/workbench.ts';
import { outlined } from './outlined.ts';

const root = join(import.meta.dirname, '..');
const pictures = join(root, 'docs', 'pictures');
const LOWEST = midi(53);
const HIGHEST = midi(84);

function chartOf(changes: string): Chart {
  const chart = readChart(changes);
  if (!chart.ok) throw new Error(`the changes must be a chart: ${changes}`);
  return chart.value;
}

/** The keyboard over the last chord of a ii–V–I, with its family's tabs and the degrees. */
function keyboard(): string {
  const { plan } = makeLesson(chartOf('Fm7 | Bb7 | Ebmaj7'), DEFAULT_CHOICES);
  const slot = plan.slots.at(-1);
  if (slot?.position == null || slot.thumbMidi === null || slot.chordScale === null || slot.analysed.chord === null) {
    throw new Error('the last chord must have a position');
  }
  const thumbs = slot.family?.positions.map((position) => position.thumb) ?? [];
  return drawKeyboard({
    lowest: LOWEST,
    highest: HIGHEST,
    hand: { position: slot.position, thumbMidi: slot.thumbMidi },
    otherThumbs: thumbsWithin(thumbs, LOWEST, HIGHEST).filter(({ midi: key }) => key !== slot.thumbMidi),
    degrees: degreeLabels(slot.analysed.chord, slot.chordScale),
  });
}

/** The first study page of the demo as a picture. */
function studyPage(): void {
  const folder = mkdtempSync(join(tmpdir(), 'fivespan-pictures-'));
  const run = (command: string, ...words: string[]): void => {
    const { status } = spawnSync(command, words, { cwd: root, stdio: ['ignore', 'ignore', 'inherit'] });
    if (status !== 0) throw new Error(`${command} ended with ${status}`);
  };
  run(process.execPath, 'apps/cli/bin/fivespan.mjs', 'lesson', 'examples/DEMO.chart', '--out', folder);
  const page = ['-png', '-r', '100', '-singlefile', join(folder, 'E-flat-major', 'study.pdf')];
  run('pdftoppm', ...page, join(pictures, 'study-page'));
  rmSync(folder, { recursive: true });
}

/** Study, Play and the shelf as a teacher sees them on a laptop. */
async function screens(): Promise<void> {
  const workbench = await openWorkbench();
  const { page } = await workbench.visit({
    viewport: { width: 1280, height: 800 },
    colorScheme: 'light',
    reducedMotion: 'reduce',
  });
  await page.waitForURL(/study$/u);
  const study = page.url();
  const shoot = async (name: string): Promise<void> => {
    await page.evaluate(() => document.fonts.ready);
    await page.waitForTimeout(1500);
    await page.screenshot({ path: join(pictures, `${name}.png`) });
  };
  await page
    .getByRole('img', { name: /^Thumb on/u })
    .first()
    .waitFor();
  await shoot('study-view');
  await page.goto(study.replace(/study$/u, 'play'));
  await page.getByText(/^Ready/u).waitFor();
  await page.getByRole('button', { name: 'Start', exact: true }).click();
  await page.getByRole('alertdialog').getByRole('button', { name: 'Start' }).click();
  await page.getByText('count-in').first().waitFor();
  await page.waitForTimeout(6000);
  await shoot('play-view');
  await page.getByRole('button', { name: 'Stop', exact: true }).click();
  await page.goto(`${workbench.url}#/lessons`);
  await page.getByRole('button', { name: 'New chart' }).waitFor();
  const [chooser] = await Promise.all([
    page.waitForEvent('filechooser'),
    page.getByRole('button', { name: 'Open a file' }).click(),
  ]);
  await chooser.setFiles(
    ['harbour-blues', 'copper-wheel', 'three-lamps', 'winter-platform'].map((each) =>
      join(root, 'examples', `${each}.chart`),
    ),
  );
  await page.getByText('4 lessons were made:').waitFor();
  await page.getByRole('button', { name: 'Done', exact: true }).click();
  await shoot('lessons');
  await workbench.close();
}

mkdirSync(pictures, { recursive: true });
writeFileSync(join(pictures, 'keyboard.svg'), outlined(keyboard()));
studyPage();
await screens();
