/** A MIDI keyboard that is connected: it sounds at once, and what is pressed is known. */
import { atom } from 'nanostores';
import { BANK_URL, fetchBank, type AudioOut } from '../../platform/audio/index.ts';
import { steadyMs } from '../../platform/clock/index.ts';
import { isMidiAllowed, onMidi, onUnplugged, openMidi, type MidiMessage } from '../../platform/midi-in/index.ts';
import { runJob } from '../../platform/workers/index.ts';
import type { LiveDecoded, LiveOrder } from './live-job.ts';
import { $settings } from '../settings/index.ts';
import { soundOut } from './sound-out.ts';
import { SOUND_HOME } from './sound-source.ts';

export { $midi, onMidi } from '../../platform/midi-in/index.ts';

/** Keys that are down. */
export const $pressed = atom<ReadonlySet<number>>(new Set());

/** Whether a key that is struck sounds already. */
export const $keyboardSound = atom<'silent' | 'opening' | 'sounds' | 'failed'>('silent');

const strikes = new Set<(midi: number) => void>();

/** Told of each key as it is struck, on whatever keyboard. @returns how to stop */
export function onStrike(listener: (midi: number) => void): () => void {
  strikes.add(listener);
  return () => strikes.delete(listener);
}

const played = new Set<(message: MidiMessage, atMs: number) => void>();

/**
 * Told of all that is played, on whatever keyboard: keys down and up, pedals.
 * @param listener with the moment it was said, on the clock of `steadyMs`
 * @returns how to stop
 */
export function onPlayed(listener: (message: MidiMessage, atMs: number) => void): () => void {
  played.add(listener);
  return () => played.delete(listener);
}

/** The damper pedal, by its number as a MIDI controller. */
const DAMPER = 64;

/** Controllers that do something else than damp: those who assign one say so. */
const elsewhere = new Set<number>();

/** Takes a controller for other use, so that it no longer damps. @returns how to give it back */
export function takeController(controller: number): () => void {
  elsewhere.add(controller);
  return () => elsewhere.delete(controller);
}

let isFollowed = false;

/** Asks for the user's keyboards; from then on they sound. Call from a key or click. */
export async function connectKeyboard(): Promise<void> {
  if (!isFollowed) {
    isFollowed = true;
    onMidi((message, atMs) => void play(message, atMs));
    onUnplugged(releaseAll);
  }
  await openMidi();
  await openKeyboardSound();
}

/** As `connectKeyboard`, where the user has allowed it before; else nothing. */
export async function connectKnownKeyboard(): Promise<void> {
  if (await isMidiAllowed()) await connectKeyboard();
}

async function openKeyboardSound(): Promise<void> {
  if ($keyboardSound.get() === 'opening' || $keyboardSound.get() === 'sounds') return;
  $keyboardSound.set('opening');
  try {
    const out = await soundOut();
    $settings.subscribe(({ keyboardLevel }) => out.setLiveLevel(keyboardLevel));
    const isOpen = out.openLive(await fetchBank(BANK_URL));
    await Promise.all([isOpen, giveRecordings(out)]);
    $keyboardSound.set('sounds');
  } catch {
    $keyboardSound.set('failed');
  }
}

/** Has the grand's recordings decoded by the sound worker, for the audio thread has no time for it. */
async function giveRecordings(out: AudioOut): Promise<void> {
  let total = 1;
  for (let place = 0; place < total; place++) {
    // oxlint-disable-next-line no-await-in-loop -- one at a time: others get their turn
    const decoded = await runJob<LiveOrder, LiveDecoded>(
      'live recording',
      { bankUrl: BANK_URL, place },
      { home: SOUND_HOME },
    );
    total = decoded.total;
    out.giveLive(decoded.recording);
  }
}

/** As loud as a key of the computer sounds: moderate. */
const COMPUTER_VELOCITY = 72;

/** Strikes a key that is on no MIDI keyboard. Call from a key or click. */
export function strikeKey(key: number): void {
  void openKeyboardSound();
  void play({ kind: 'note on', midi: key, velocity: COMPUTER_VELOCITY });
}

export function letGoKey(key: number): void {
  void play({ kind: 'note off', midi: key });
}

async function play(message: MidiMessage, atMs: number = steadyMs()): Promise<void> {
  for (const listener of played) listener(message, atMs);
  if (message.kind === 'note on') {
    $pressed.set(new Set([...$pressed.get(), message.midi]));
    for (const listener of strikes) listener(message.midi);
  }
  if (message.kind === 'note off') $pressed.set(new Set([...$pressed.get()].filter((key) => key !== message.midi)));
  const out = await soundOut();
  if (message.kind === 'note on') {
    // a key on a keyboard is no click to the browser: where it allows sound already, this is nothing
    void out.wake();
    if ($settings.get().keyboardSounds) out.noteOn(message.midi, message.velocity);
  } else if (message.kind === 'note off') out.noteOff(message.midi);
  else if (message.controller === DAMPER && !elsewhere.has(DAMPER)) out.setSustain(message.value >= 64);
}

/** Lets everything go: the keyboard is gone, and can no longer say so itself. */
function releaseAll(): void {
  const pressed = $pressed.get();
  $pressed.set(new Set());
  void soundOut().then((out) => {
    for (const key of pressed) out.noteOff(key);
    out.setSustain(false);
  });
}
