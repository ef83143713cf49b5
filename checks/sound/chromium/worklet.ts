/** Runs in Chromium's audio worklet: opens the bank there, says when it is ready, then plays block by block. */
import type { Prepared } from '@fivespan/sound/engine';
import { bankOf, Playing } from './sounds.ts';

// Of the audio worklet's own globals (Web Audio API 1.1, 1.32) TypeScript's libraries know nothing.
declare abstract class AudioWorkletProcessor {
  readonly port: MessagePort;
  abstract process(inputs: Float32Array[][], outputs: Float32Array[][]): boolean;
}
declare function registerProcessor(
  name: string,
  processor: new (options: { processorOptions: { bytes: Uint8Array; prepared: Prepared } }) => AudioWorkletProcessor,
): void;

registerProcessor(
  'fivespan-check',
  class extends AudioWorkletProcessor {
    #playing: Playing | undefined;

    constructor({
      processorOptions: { bytes, prepared },
    }: {
      processorOptions: { bytes: Uint8Array; prepared: Prepared };
    }) {
      super();
      bankOf(bytes).then(
        (bank) => {
          this.#playing = new Playing(bank, prepared);
          this.port.postMessage('ready');
        },
        (error: unknown) => this.port.postMessage(String(error)),
      );
    }

    process(_inputs: Float32Array[][], [output]: Float32Array[][]): boolean {
      const [left, right] = output ?? [];
      if (left !== undefined && right !== undefined) this.#playing?.next(left, right);
      return true;
    }
  },
);
