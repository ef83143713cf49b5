/** Programs from Debian that the checks call, and how to get them. */
import { existsSync } from 'node:fs';
import { spawnSync } from 'node:child_process';

/** Each check's outside judge: what proves it is here, and the Debian package that brings it. */
const JUDGES = [
  { here: '/usr/bin/xmllint', package: 'libxml2-utils' },
  { here: '/usr/bin/pdftoppm', package: 'poppler-utils' },
  { here: '/usr/bin/fluidsynth', package: 'fluidsynth' },
  { here: '/usr/share/sounds/sf2/TimGM6mb.sf2', package: 'timgm6mb-soundfont' },
  { here: '/usr/bin/chromium', package: 'chromium' },
  { here: '/usr/bin/ffmpeg', package: 'ffmpeg' },
];

/** Installs what is missing where apt-get can; elsewhere says what the checks will go without. */
export function ensureJudges() {
  const missing = JUDGES.filter((judge) => !existsSync(judge.here)).map((judge) => judge.package);
  if (missing.length === 0) return;
  console.error(`Installing from Debian: ${missing.join(' ')} …`);
  const environment = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
  const run = (...args) =>
    spawnSync('apt-get', args, { stdio: ['ignore', 'ignore', 2], env: environment }).status === 0;
  const install = () => run('install', '-y', '-qq', '--no-install-recommends', ...missing);
  // An old package list is common on a fresh machine: update it first, then install.
  if (!(run('update', '-qq') && install())) {
    console.error(`Could not install ${missing.join(' ')}: the checks that need them will say so.`);
  }
}
