import type { Issue, Result } from '@fivespan/core';
import { BasicSoundBank, SoundBankLoader } from 'spessasynth_core';
import { INSTRUMENTS } from './instrument.ts';

/**
 * The banks that tools/bank.mjs cuts, as paths inside packages/sound. `web` is small (one layer of the grand, fewer
 * recordings of it), `full` has every recording of the font's grand.
 */
export const BANK_FILES = { web: 'dist/web.sf3', full: 'dist/full.sf3' } as const;

/** An opened sound bank. Its recordings are decoded when a note first needs them, or all at once by `decodeAll`. */
export interface Bank {
  readonly name: string;
  readonly soundBank: BasicSoundBank;
}

const failure = (code: Issue['code'], args: Issue['args']): Result<never> => ({
  ok: false,
  issues: [{ code, args, place: {} }],
});

/** The issue for a bank that is not where it should be: for those who look for the file. */
export function missingBank(name: string): Issue {
  return { code: 'sound.bank-missing', args: { name }, place: {} };
}

/**
 * Opens a bank and checks that every instrument is in it. Waits for the decoder of its recordings.
 * @param bytes the bank's file
 * @param name how messages call it
 * @returns the bank, or sound.bank-unreadable or sound.bank-incomplete
 */
export async function openBank(bytes: Uint8Array, name: string): Promise<Result<Bank>> {
  await BasicSoundBank.isSF3DecoderReady;
  let soundBank: BasicSoundBank;
  try {
    soundBank = SoundBankLoader.fromArrayBuffer(Uint8Array.from(bytes).buffer);
  } catch {
    return failure('sound.bank-unreadable', { name });
  }
  const missing = INSTRUMENTS.find(
    ({ program, isKit }) =>
      !soundBank.presets.some(
        (preset) => preset.isGMGSDrum === isKit && preset.program === program && preset.zones.length > 0,
      ),
  );
  if (missing !== undefined) return failure('sound.bank-incomplete', { name, instrument: missing.id });
  return { ok: true, value: { name, soundBank }, warnings: [] };
}

/**
 * Decodes every recording, so that no note has to wait for one (live playing). About 0.7 s for the web bank.
 * @param report called with recordings done and in all
 */
export function decodeAll(bank: Bank, report?: (done: number, total: number) => void): void {
  const { samples } = bank.soundBank;
  for (const [index, sample] of samples.entries()) {
    sample.getAudioData();
    report?.(index + 1, samples.length);
  }
}
