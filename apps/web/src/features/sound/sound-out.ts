import { audioOut, BANK_URL, type AudioOut } from '../../platform/audio/index.ts';
import { $soundLevel } from './gentle.ts';
import type { SoundSource } from './sound-source.ts';

export function sourceFor(out: AudioOut): SoundSource {
  return { bankUrl: BANK_URL, sampleRate: out.sampleRate };
}

let following = false;

/** The way out, as loud as the settings say. */
export async function soundOut(): Promise<AudioOut> {
  const out = await audioOut();
  if (!following) {
    following = true;
    $soundLevel.subscribe((level) => out.setLevel(level));
  }
  return out;
}
