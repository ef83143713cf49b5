/** `npm start`: installs what is missing, builds, and makes the lesson of the demo chart into out/. */
import { spawnSync } from 'node:child_process';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { ensureInstalled } from './install.mjs';

const root = join(dirname(fileURLToPath(import.meta.url)), '..');
ensureInstalled(root);
const { status } = spawnSync(
  process.execPath,
  ['apps/cli/bin/fivespan.mjs', 'lesson', 'examples/DEMO.chart', '--out', 'out'],
  { cwd: root, stdio: 'inherit' },
);
if (status === 0) {
  console.log(`The demo lesson is in ${join(root, 'out')}: open E-flat-major/study.pdf, then play.pdf.`);
  console.log('Your own: write a chart (docs/chart.md), then npx --no-install fivespan lesson FILE.chart --keys all');
}
process.exit(status ?? 1);
