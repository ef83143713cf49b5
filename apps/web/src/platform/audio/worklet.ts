/** The file that runs on the audio thread: two decks and a keyboard played by hand, mixed into one output. */
import { openBank, type Bank } from '@fivespan/sound/bank';
import { SoundEngine, Synthesizer } from '@fivespan/sound/engine';
import { Deck, MOST_FRAMES } from './deck.ts';
import type { AudioOrder, AudioReport, DeckName } from './messages.ts';

// Of the audio worklet's own globals (Web Audio API 1.1, 1.32) TypeScript's libraries know nothing.
declare abstract class AudioWorkletProcessor {
  readonly port: MessagePort;
  abstract process(inputs: Float32Array[][], outputs: Float32Array[][]): boolean;
}
declare function registerProcessor(name: string, processor: new () => AudioWorkletProcessor): void;
declare const currentTime: number;
declare const sampleRate: number;

type Recording = Bank['soundBank']['samples'][number];

/** The recordings of the grand, each once: what is played by hand. */
function grandRecordings({ soundBank }: Bank): Recording[] {
  const grand = soundBank.presets.find(({ isGMGSDrum, program }) => !isGMGSDrum && program === 0);
  const instruments = grand?.zones.map(({ instrument }) => instrument) ?? [];
  return [...new Set(instruments.flatMap(({ zones }) => zones.map(({ sample }) => sample)))];
}

registerProcessor(
  'fivespan',
  class extends AudioWorkletProcessor {
    readonly #programme = this.#deck('programme');
    readonly #desk = this.#deck('desk');
    #live: SoundEngine | undefined;
    #liveBank: Bank | undefined;
    #recordings: Recording[] = [];
    readonly #left = new Float32Array(MOST_FRAMES);
    readonly #right = new Float32Array(MOST_FRAMES);

    constructor() {
      super();
      this.port.addEventListener('message', ({ data }: MessageEvent<AudioOrder>) => this.#obey(data));
      this.port.start();
    }

    #deck(deck: DeckName): Deck {
      return new Deck(sampleRate, (report) => this.#say({ kind: 'deck', deck, report }));
    }

    #say(report: AudioReport): void {
      this.port.postMessage(report);
    }

    #obey(order: AudioOrder): void {
      try {
        switch (order.kind) {
          case 'deck':
            (order.deck === 'desk' ? this.#desk : this.#programme).obey(order.order);
            break;
          case 'live bank':
            void this.#openLive(order.bytes);
            break;
          case 'live decode':
            this.#decode();
            break;
          case 'note on':
            this.#live?.noteOn('grand', order.midi, order.velocity);
            break;
          case 'note off':
            this.#live?.noteOff('grand', order.midi);
            break;
          case 'sustain':
            this.#live?.setSustain(order.down);
            break;
        }
      } catch (error) {
        this.#say({ kind: 'failed', message: String(error) });
      }
    }

    async #openLive(bytes: Uint8Array): Promise<void> {
      const bank = await openBank(bytes, 'live');
      if (!bank.ok) {
        this.#say({ kind: 'failed', message: bank.issues[0]?.code ?? '' });
        return;
      }
      this.#recordings = grandRecordings(bank.value);
      this.#liveBank = bank.value;
      this.#say({ kind: 'live', left: this.#recordings.length });
    }

    #decode(): void {
      this.#recordings.pop()?.getAudioData();
      // before the first note: none may wait for a recording
      if (this.#recordings.length === 0 && this.#liveBank !== undefined) {
        this.#live ??= new SoundEngine(sampleRate, new Synthesizer(this.#liveBank, sampleRate));
      }
      this.#say({ kind: 'live', left: this.#recordings.length });
    }

    process(_inputs: Float32Array[][], [output]: Float32Array[][]): boolean {
      const left = output?.[0];
      const right = output?.[1];
      if (left === undefined || right === undefined) return true;
      this.#programme.process(left, right, left.length, currentTime);
      if (this.#desk.isBusy) {
        this.#desk.process(this.#left, this.#right, left.length, currentTime);
        this.#add(left, right);
      }
      if (this.#live !== undefined) {
        this.#live.process(this.#left, this.#right, left.length);
        this.#add(left, right);
      }
      return true;
    }

    #add(left: Float32Array, right: Float32Array): void {
      for (let index = 0; index < left.length; index++) {
        left[index] = (left[index] as number) + (this.#left[index] as number);
        right[index] = (right[index] as number) + (this.#right[index] as number);
      }
    }
  },
);
