/** MIDI keyboards and pedals that are connected to this machine. */
import { atom } from 'nanostores';
import { readMidiMessage, type MidiMessage } from './midi-message.ts';

export type { MidiMessage } from './midi-message.ts';

/** How it stands with MIDI. */
export type MidiState =
  | { readonly kind: 'not asked' }
  | { readonly kind: 'asking' }
  // names of what is connected now; it changes as things are plugged in and out
  | { readonly kind: 'open'; readonly inputs: readonly string[] }
  // this browser has no MIDI
  | { readonly kind: 'none' }
  // the user, or a rule of the browser's, said no
  | { readonly kind: 'refused' };

export const $midi = atom<MidiState>({ kind: 'not asked' });

/** @param atMs when it was said, on the clock of `steadyMs` */
export type MidiListener = (message: MidiMessage, atMs: number) => void;
const listeners = new Set<MidiListener>();
const unplugged = new Set<() => void>();

/** Listens to all inputs. @returns how to stop */
export function onMidi(listener: MidiListener): () => void {
  listeners.add(listener);
  return () => listeners.delete(listener);
}

/** Told when something is no longer there, perhaps with its keys down. @returns how to stop */
export function onUnplugged(listener: () => void): () => void {
  unplugged.add(listener);
  return () => unplugged.delete(listener);
}

function hear({ data, timeStamp }: MIDIMessageEvent): void {
  const message = data === null ? undefined : readMidiMessage(data);
  if (message !== undefined) for (const listener of listeners) listener(message, timeStamp);
}

function connected(access: MIDIAccess): MIDIInput[] {
  return [...access.inputs.values()].filter(({ state }) => state === 'connected');
}

function follow(access: MIDIAccess): void {
  let heard = new Set<MIDIInput>();
  const look = (): void => {
    const inputs = connected(access);
    for (const input of inputs) if (!heard.has(input)) input.addEventListener('midimessage', hear);
    const gone = [...heard].filter((input) => !inputs.includes(input));
    for (const input of gone) input.removeEventListener('midimessage', hear);
    heard = new Set(inputs);
    if (gone.length > 0) for (const listener of unplugged) listener();
    $midi.set({ kind: 'open', inputs: inputs.map(({ name }) => name ?? '') });
  };
  access.addEventListener('statechange', look);
  look();
}

/** Asks the user for MIDI and follows what is plugged in from then on. Asking again after a refusal asks the browser again. */
export async function openMidi(): Promise<void> {
  const { kind } = $midi.get();
  if (kind === 'asking' || kind === 'open') return;
  if (!('requestMIDIAccess' in navigator)) {
    $midi.set({ kind: 'none' });
    return;
  }
  $midi.set({ kind: 'asking' });
  try {
    follow(await navigator.requestMIDIAccess());
  } catch {
    $midi.set({ kind: 'refused' });
  }
}

/** Whether the user has allowed MIDI here before: then it need not be asked again. */
export async function isMidiAllowed(): Promise<boolean> {
  try {
    const { state } = await navigator.permissions.query({ name: 'midi' as PermissionName });
    return state === 'granted' && 'requestMIDIAccess' in navigator;
  } catch {
    return false;
  }
}
