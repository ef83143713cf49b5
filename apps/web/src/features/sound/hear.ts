import { audioOut, BANK_URL, type AudioOut } from '../../platform/audio/index.ts';
import { runJob } from '../../platform/workers/index.ts';
import { $settings } from '../settings/index.ts';
import type { HearOrder, HeardPiece } from './hear-job.ts';
import { SOUND_HOME, type SoundSource } from './sound-source.ts';

/** A note to hear: seconds from the beginning, key number, velocity 1 to 127. */
export interface HeardNote {
  readonly startSeconds: number;
  readonly durationSeconds: number;
  readonly midi: number;
  readonly velocity: number;
  /** 'grand' unless told. */
  readonly instrument?: 'grand' | 'acoustic bass';
}

export function sourceFor(out: AudioOut): SoundSource {
  return { bankUrl: BANK_URL, sampleRate: out.sampleRate };
}

let following = false;

/** The way out, as loud as the settings say. */
export async function soundOut(): Promise<AudioOut> {
  const out = await audioOut();
  if (!following) {
    following = true;
    $settings.subscribe(({ soundLevel }) => out.setLevel(soundLevel));
  }
  return out;
}

let asking: AbortController | undefined;

/**
 * Sounds some notes at once, in place of what was heard before. Call from a key or click.
 * @returns settles when they begin to sound, or were overtaken by the next; rejects where there is no sound to be had
 * @example await hear([{ startSeconds: 0, durationSeconds: 1, midi: 60, velocity: 80 }])
 */
export async function hear(notes: readonly HeardNote[]): Promise<void> {
  asking?.abort(new DOMException('overtaken', 'AbortError'));
  const asked = (asking = new AbortController());
  const out = await soundOut();
  await out.wake();
  if (asked.signal.aborted) return;
  const order: HearOrder = { source: sourceFor(out), notes };
  try {
    const { piece, delivery } = await runJob<HearOrder, HeardPiece>('hear', order, {
      urgency: 'now',
      signal: asked.signal,
      home: SOUND_HOME,
    });
    out.order('desk', { kind: 'begin', piece });
    out.put('desk', delivery);
    out.order('desk', { kind: 'play' });
  } catch (error) {
    if (!asked.signal.aborted) throw error;
  }
}

/** Silences what `hear` began. */
export function stopHearing(): void {
  asking?.abort(new DOMException('stopped', 'AbortError'));
  void audioOut().then((out) => out.order('desk', { kind: 'pause' }));
}
