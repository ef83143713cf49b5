import { audioOut, BANK_URL, type AudioOut } from '../../platform/audio/index.ts';
import { $soundLevel } from './gentle.ts';
import type { SoundSource } from './sound-source.ts';

export function sourceFor(out: AudioOut): SoundSource {
  return { bankUrl: BANK_URL, sampleRate: out.sampleRate };
}

let opened: AudioOut | undefined;

/** The way out, as loud as the settings say. */
export async function soundOut(): Promise<AudioOut> {
  const out = await audioOut();
  if (opened === undefined) {
    opened = out;
    $soundLevel.subscribe((level) => out.setLevel(level));
  }
  return out;
}

/** The way out where it is open and awake: who has it need not wait for it. */
export function soundOutNow(): AudioOut | undefined {
  return opened?.isAwake === true ? opened : undefined;
}
