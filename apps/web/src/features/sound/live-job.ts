import { openBank, recordingsOf } from '@fivespan/sound/bank';
import { fetchBank, type LiveRecording } from '../../platform/audio/index.ts';
import type { Job } from '../../platform/workers/index.ts';

export interface LiveOrder {
  readonly bankUrl: string;
  /** Which of the grand's recordings, from 0. */
  readonly place: number;
}

export interface LiveDecoded {
  readonly recording: LiveRecording;
  readonly total: number;
}

/** The grand's recordings: of a bank of its own, which is dropped with all that was decoded once the last was given out. */
let opening: Promise<ReturnType<typeof recordingsOf>> | undefined;

async function open(bankUrl: string): Promise<ReturnType<typeof recordingsOf>> {
  const bank = await openBank(await fetchBank(bankUrl), 'live');
  if (!bank.ok) throw new Error(bank.issues[0]?.code ?? 'sound.bank-unreadable');
  return recordingsOf(bank.value, 'grand');
}

/** Decodes one recording for the keyboard played by hand: one a job, so that what is waited for comes in between. */
export const liveJob: Job<LiveOrder, LiveDecoded> = async ({ bankUrl, place }) => {
  opening ??= open(bankUrl);
  opening.catch(() => (opening = undefined));
  const recordings = await opening;
  const recording = recordings[place];
  if (recording === undefined) throw new RangeError(`place must be below ${recordings.length}, not ${place}`);
  const samples = new Float32Array(recording.getAudioData());
  if (place === recordings.length - 1) opening = undefined;
  return { value: { recording: { place, samples }, total: recordings.length }, transfer: [samples.buffer] };
};
