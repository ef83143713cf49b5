/**
 * Makes the pictures of the README anew: `npx tsx tools/pictures.ts`. Needs pdftoppm. Run it when the look of a page
 * changes, and look at what came out.
 */
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { DEFAULT_CHOICES, makeLesson, midi, readChart, type Chart } from '@fivespan/core';
import { degreeLabels, drawKeyboard, thumbsWithin } from '@fivespan/formats/diagram';

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

mkdirSync(pictures, { recursive: true });
writeFileSync(join(pictures, 'keyboard.svg'), keyboard());
studyPage();
