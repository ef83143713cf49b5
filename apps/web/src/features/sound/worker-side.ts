/** The worker's side of sound: the one store of rendered notes, and how what was rendered is laid out for the audio thread. */
import { openBank } from '@fivespan/sound/bank';
import { NoteStore, type Prepared, type RenderedNote } from '@fivespan/sound/engine';
import { fetchBank, type PieceSettings, type PieceWindow } from '../../platform/audio/index.ts';
import type { SoundSource } from './sound-source.ts';

/** What the worker keeps; the audio thread keeps as much again at most (piece-supply.ts). Together under 200 MB. */
const STORE_BYTES = 96_000_000;

let source: SoundSource | undefined;
let opening: Promise<NoteStore> | undefined;

async function open({ bankUrl, sampleRate }: SoundSource): Promise<NoteStore> {
  const bank = await openBank(await fetchBank(bankUrl), 'web');
  if (!bank.ok) throw new Error(bank.issues[0]?.code ?? 'sound.bank-unreadable');
  return new NoteStore(bank.value, sampleRate, STORE_BYTES);
}

/** The store, opened when it is first asked for. */
export function noteStore(wanted: SoundSource): Promise<NoteStore> {
  if (opening === undefined || source?.sampleRate !== wanted.sampleRate) {
    source = wanted;
    opening = open(wanted);
    opening.catch(() => (opening = undefined));
  }
  return opening;
}

/** A rendered note whose sound can be given away: the store keeps its own. */
export function copyOf(note: RenderedNote): RenderedNote {
  const left = note.left.slice();
  return { ...note, left, right: note.right === note.left ? left : note.right.slice() };
}

export function settingsOf({ playerCount, balance, endSeconds, slowestRate }: Prepared): PieceSettings {
  return { playerCount, balance, endSeconds, slowestRate };
}

/** A prepared stretch as a window. @param numberOf the number under which the audio thread knows a note, by its place in `notes` */
export function windowOf(
  prepared: Prepared,
  place: Pick<PieceWindow, 'index' | 'fromSeconds' | 'toSeconds'>,
  numberOf: (note: number) => number,
): PieceWindow {
  const { startSeconds, leftSeconds, note, player, gainLeft, gainRight } = prepared;
  return { ...place, startSeconds, leftSeconds, note: note.map(numberOf), player, gainLeft, gainRight };
}
