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

/** What only spares time where the system has it (checks/chromium.ts): older ones do not. */
const SPARING = [{ here: '/usr/bin/chromium-headless-shell', package: 'chromium-headless-shell' }];

const missingOf = (programs) => programs.filter(({ here }) => !existsSync(here)).map((each) => each.package);

/** Installs what is missing where apt-get can; elsewhere says what the checks will go without. */
export function ensureJudges() {
  const missing = missingOf(JUDGES);
  const sparing = missingOf(SPARING);
  if (missing.length + sparing.length === 0) return;
  console.error(`Installing from Debian: ${[...missing, ...sparing].join(' ')} …`);
  const environment = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
  const run = (...args) =>
    spawnSync('apt-get', args, { stdio: ['ignore', 'ignore', 2], env: environment }).status === 0;
  const install = (packages) => run('install', '-y', '-qq', '--no-install-recommends', ...packages);
  // An old package list is common on a fresh machine: update it first, then install. One unknown package keeps the others away, too.
  if (run('update', '-qq') && (install([...missing, ...sparing]) || install(missing))) return;
  if (missing.length > 0)
    console.error(`Could not install ${missing.join(' ')}: the checks that need them will say so.`);
}
