import { hexOf } from './frame-hash.ts';
/** Why a file is no voice that can be laid under a scene. */
export type VoiceFault = 'too large' | 'too long' | 'unreadable' | 'silent';

/** A voice as one channel at a film's rate. */
export type HeardVoice =
  | { readonly ok: true; readonly samples: Float32Array<ArrayBuffer> }
  | { readonly ok: false; readonly fault: VoiceFault };

/** Bounds of a recording. */
export interface VoiceBounds {
  readonly sampleRate: number;
  readonly mostBytes: number;
  readonly mostSeconds: number;
}

/** A file that has told its length and is not read by then never will be. */
const LIMIT_MS = 60_000;
/** What never gets louder than this is silence: 16 bits end there. */
const SILENCE = 1 / 32_768;

const no = (fault: VoiceFault): HeardVoice => ({ ok: false, fault });

/** Decodes a recording: WAV, MP3, FLAC, M4A and what else this browser reads. In a page: a worker has nothing to decode with. */
export async function hearVoice(bytes: Blob, { sampleRate, mostBytes, mostSeconds }: VoiceBounds): Promise<HeardVoice> {
  if (bytes.size > mostBytes) return no('too large');
  const { recordingSeconds } = await import('./voice-length.ts');
  const seconds = await within(recordingSeconds(bytes));
  if (seconds === undefined || !(seconds > 0)) return no('unreadable');
  if (seconds > mostSeconds) return no('too long');
  const context = new OfflineAudioContext(1, 1, sampleRate);
  const decoded = await within(context.decodeAudioData(await bytes.arrayBuffer()).catch(() => undefined));
  if (decoded === undefined) return no('unreadable');
  if (decoded.duration > mostSeconds + 1) return no('too long');
  const samples = new Float32Array(decoded.length);
  for (let channel = 0; channel < decoded.numberOfChannels; channel++) {
    const own = decoded.getChannelData(channel);
    for (let at = 0; at < samples.length; at++)
      samples[at] = (samples[at] as number) + (own[at] as number) / decoded.numberOfChannels;
  }
  return samples.some((each) => Math.abs(each) > SILENCE) ? { ok: true, samples } : no('silent');
}

async function within<Value>(work: Promise<Value>): Promise<Value | undefined> {
  let timer: ReturnType<typeof setTimeout> | undefined;
  const late = new Promise<undefined>((resolve) => {
    timer = setTimeout(() => resolve(undefined), LIMIT_MS);
  });
  try {
    return await Promise.race([work, late]);
  } finally {
    clearTimeout(timer);
  }
}

/** SHA-256 of a file's bytes, in 64 hexadecimal digits. */
export async function hashOf(bytes: Blob): Promise<string> {
  return await hexOf(new Uint8Array(await bytes.arrayBuffer()));
}
