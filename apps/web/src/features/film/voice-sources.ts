/** Recordings that lie under scenes: kept in this browser, or told by the command line. */
import {
  LARGEST_VOICE_BYTES,
  LONGEST_VOICE_NAME,
  LONGEST_VOICE_SECONDS,
  type Key,
  type SceneVoice,
} from '@fivespan/core';
import { atom } from 'nanostores';
import { fetchBytes } from '../../platform/assets/index.ts';
import { nowMs } from '../../platform/clock/index.ts';
import { openFiles } from '../../platform/files/index.ts';
import { openVoiceStore, type VoiceStore } from '../../platform/storage/index.ts';
import { hashOf, hearVoice, type VoiceFault } from '../../platform/video/index.ts';
import type { FetchedVoice, VoicePlace } from './film-order.ts';
import { FILM_SAMPLE_RATE } from './film-rate.ts';

const BOUNDS = {
  sampleRate: FILM_SAMPLE_RATE,
  mostBytes: LARGEST_VOICE_BYTES,
  mostSeconds: LONGEST_VOICE_SECONDS,
} as const;

/** A recording that no lesson names is kept so long: taking a voice off can be undone. */
const UNNAMED_MS = 7 * 24 * 3_600_000;

/** Hashes of the recordings that are in this browser; null before it was looked. */
export const $voices = atom<ReadonlySet<string> | null>(null);

let opening: Promise<VoiceStore> | undefined;
const store = (): Promise<VoiceStore> => (opening ??= openVoiceStore('fivespan-voices'));

/** Looks which recordings are here. */
export async function showVoices(): Promise<void> {
  $voices.set(new Set(await (await store()).hashes()));
}

/** What became of a file that was to be a voice. */
export type VoiceTaken =
  | { readonly kind: 'none chosen' }
  | { readonly kind: 'taken'; readonly voice: SceneVoice }
  | { readonly kind: 'refused'; readonly name: string; readonly fault: VoiceFault | 'no room' };

/**
 * Lets the user choose a recording and keeps it in this browser. Call from a key or click.
 * @param key the film's, which it speaks in
 * @param named all that lessons say of themselves: recordings whose hash is nowhere in it go when they are old
 */
export async function takeVoice(key: Key, named: () => Promise<readonly string[]>): Promise<VoiceTaken> {
  const [file] = await openFiles('.wav,.mp3,.flac,.m4a,audio/*');
  if (file === undefined) return { kind: 'none chosen' };
  const name = file.name.slice(0, LONGEST_VOICE_NAME);
  const heard = await hearVoice(file, BOUNDS).catch(() => ({ ok: false, fault: 'unreadable' }) as const);
  if (!heard.ok) return { kind: 'refused', name, fault: heard.fault };
  const hash = await hashOf(file);
  const kept = await store();
  try {
    const lessons = await named();
    await kept.sweep(nowMs() - UNNAMED_MS, (each) => lessons.some((text) => text.includes(each)));
    // its bytes, not the file: that may change or go
    await kept.put({ hash, at: nowMs(), bytes: new Blob([await file.arrayBuffer()], { type: file.type }) });
  } catch {
    return { kind: 'refused', name, fault: 'no room' };
  }
  await showVoices();
  const seconds = Math.round((heard.samples.length / FILM_SAMPLE_RATE) * 1000) / 1000;
  return { kind: 'taken', voice: { name, hash, seconds: Math.min(LONGEST_VOICE_SECONDS, seconds), key } };
}

async function bytesOf({ hash, url }: VoicePlace): Promise<Blob | null> {
  if (url === null) return (await (await store()).one(hash))?.bytes ?? null;
  return new Blob([new Uint8Array(await fetchBytes(url))]);
}

/** The sound of a recording. */
export async function fetchVoice(place: VoicePlace): Promise<FetchedVoice> {
  const bytes = await bytesOf(place);
  if (bytes === null || (await hashOf(bytes)) !== place.hash) return { ok: false, fault: 'gone' };
  return await hearVoice(bytes, BOUNDS);
}
