/** The file that runs on the audio thread: two decks and a keyboard played by hand, mixed into one output. */
import { openBank } from '@fivespan/sound/bank';
import { Deck, MOST_FRAMES } from './deck.ts';
import { LiveKeys } from './live-keys.ts';
import type { AudioOrder, AudioReport, DeckName, LiveRecording } from './messages.ts';

// Of the audio worklet's own globals (Web Audio API 1.1, 1.32) TypeScript's libraries know nothing.
declare abstract class AudioWorkletProcessor {
  readonly port: MessagePort;
  abstract process(inputs: Float32Array[][], outputs: Float32Array[][]): boolean;
}
declare function registerProcessor(name: string, processor: new () => AudioWorkletProcessor): void;
declare const currentTime: number;
declare const sampleRate: number;

registerProcessor(
  'fivespan',
  class extends AudioWorkletProcessor {
    readonly #programme = this.#deck('programme');
    readonly #desk = this.#deck('desk');
    #live: LiveKeys | undefined;
    #liveLevel = 1;
    /** A bank that waits until nothing sounds, and recordings that came before it was opened. */
    #waitingBank: Uint8Array | undefined;
    #waitingRecordings: LiveRecording[] = [];
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
            this.#waitingBank = order.bytes;
            this.#waitingRecordings = [];
            this.#live = undefined;
            this.#openInSilence();
            break;
          case 'live recording':
            this.#waitingRecordings.push(order.recording);
            this.#takeRecordings();
            break;
          case 'note on':
            this.#live?.noteOn(order.midi, order.velocity);
            break;
          case 'note off':
            this.#live?.noteOff(order.midi);
            break;
          case 'live level':
            this.#liveLevel = order.level;
            break;
          case 'sustain':
            this.#live?.setSustain(order.down);
            break;
        }
      } catch (error) {
        this.#say({ kind: 'failed', message: String(error) });
      }
    }

    /** Opening the bank and making its synthesizer takes many blocks' time: what sounds would break off. */
    #openInSilence(): void {
      const bytes = this.#waitingBank;
      if (bytes === undefined || this.#programme.isBusy || this.#desk.isBusy) return;
      this.#waitingBank = undefined;
      void this.#openLive(bytes);
    }

    async #openLive(bytes: Uint8Array): Promise<void> {
      const bank = await openBank(bytes, 'live');
      if (bank.ok) {
        this.#live = new LiveKeys(bank.value, sampleRate);
        this.#takeRecordings();
      } else this.#say({ kind: 'failed', message: bank.issues[0]?.code ?? '' });
    }

    #takeRecordings(): void {
      const live = this.#live;
      if (live === undefined || live.left === 0) return;
      for (const { place, samples } of this.#waitingRecordings) live.take(place, samples);
      this.#waitingRecordings = [];
      if (live.left === 0) this.#say({ kind: 'live' });
    }

    process(_inputs: Float32Array[][], [output]: Float32Array[][]): boolean {
      const left = output?.[0];
      const right = output?.[1];
      if (left === undefined || right === undefined) return true;
      this.#openInSilence();
      this.#programme.process(left, right, left.length, currentTime);
      if (this.#desk.isBusy) {
        this.#desk.process(this.#left, this.#right, left.length, currentTime);
        this.#add(left, right);
      }
      if (this.#live !== undefined) {
        this.#live.process(this.#left, this.#right, left.length);
        this.#add(left, right, this.#liveLevel);
      }
      return true;
    }

    #add(left: Float32Array, right: Float32Array, level = 1): void {
      for (let index = 0; index < left.length; index++) {
        left[index] = (left[index] as number) + (this.#left[index] as number) * level;
        right[index] = (right[index] as number) + (this.#right[index] as number) * level;
      }
    }
  },
);
