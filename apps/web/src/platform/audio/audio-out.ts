import { DeckClock } from './deck-clock.ts';
import type {
  AudioOrder,
  AudioReport,
  DeckName,
  DeckOrder,
  DeckReport,
  LiveRecording,
  WindowDelivery,
} from './messages.ts';
// as a worker: the only way in which the bundler makes one self-contained file of it
import workletUrl from './worklet.ts?worker&url';

/** Rates for which everything is measured; another one is left to the browser to convert. */
const RATES: readonly number[] = [44_100, 48_000];

/** A change of loudness takes this long, so that it does not click. */
const LEVEL_SECONDS = 0.02;

/** So long after the last sound the audio thread is put to sleep: it would use up a battery for silence. */
const SLEEP_AFTER_MS = 30_000;

/** What a listener to a deck is told. */
export type DeckListener = (report: DeckReport) => void;

/** The page's end of the audio thread. */
export class AudioOut {
  readonly #context: AudioContext;
  readonly #node: AudioWorkletNode;
  readonly #level: GainNode;
  readonly #clocks: Readonly<Record<DeckName, DeckClock>> = { programme: new DeckClock(), desk: new DeckClock() };
  readonly #listeners: Readonly<Record<DeckName, Set<DeckListener>>> = { programme: new Set(), desk: new Set() };
  readonly #interrupted = new Set<() => void>();
  readonly #sounding = new Set<DeckName>();
  #isLive = false;
  #isAsleep = false;
  #sleeping: ReturnType<typeof setTimeout> | undefined;
  #whenLive: { readonly resolve: () => void; readonly reject: (error: Error) => void } | undefined;

  constructor(context: AudioContext) {
    this.#context = context;
    this.#node = new AudioWorkletNode(context, 'fivespan', { numberOfInputs: 0, outputChannelCount: [2] });
    this.#level = new GainNode(context, { gain: 0 });
    this.#node.connect(this.#level).connect(context.destination);
    this.#node.port.addEventListener('message', ({ data }: MessageEvent<AudioReport>) => this.#hear(data));
    this.#node.port.start();
    context.addEventListener('statechange', () => {
      // a call, or another program that takes the loudspeaker
      if (context.state !== 'running' && !this.#isAsleep) for (const listener of this.#interrupted) listener();
    });
  }

  /** Sets the audio thread going. It is silent until the user has asked for sound: see `wake`. */
  static async open(): Promise<AudioOut> {
    let context = new AudioContext({ latencyHint: 'interactive' });
    if (!RATES.includes(context.sampleRate)) {
      await context.close();
      context = new AudioContext({ latencyHint: 'interactive', sampleRate: 48_000 });
    }
    await context.audioWorklet.addModule(workletUrl);
    return new AudioOut(context);
  }

  get sampleRate(): number {
    return this.#context.sampleRate;
  }

  /** Whether what is ordered now sounds at once. */
  get isAwake(): boolean {
    return !this.#isAsleep && this.#context.state === 'running';
  }

  /** Call from a key or click: browsers let nothing sound before. */
  async wake(): Promise<void> {
    this.#isAsleep = false;
    this.#sleepLater();
    if (this.#context.state !== 'running') await this.#context.resume();
  }

  /** @param listener told when the system takes the sound away. @returns how to stop listening */
  onInterrupted(listener: () => void): () => void {
    this.#interrupted.add(listener);
    return () => this.#interrupted.delete(listener);
  }

  #sleepLater(): void {
    clearTimeout(this.#sleeping);
    if (this.#sounding.size > 0 || this.#isLive) return;
    this.#sleeping = setTimeout(() => {
      this.#isAsleep = true;
      void this.#context.suspend();
    }, SLEEP_AFTER_MS);
  }

  /** @param level linear, 0 to 1 */
  setLevel(level: number): void {
    const { gain } = this.#level;
    if (this.#context.state === 'running') gain.setTargetAtTime(level, this.#context.currentTime, LEVEL_SECONDS / 4);
    else gain.value = level;
  }

  order(deck: DeckName, order: DeckOrder): void {
    this.#send({ kind: 'deck', deck, order });
  }

  /** Hands a window over; its sound is moved, not copied, and is gone from here. */
  put(deck: DeckName, delivery: WindowDelivery): void {
    this.#send({ kind: 'deck', deck, order: { kind: 'put', delivery } }, soundOf(delivery));
  }

  /** @returns how to stop listening */
  listen(deck: DeckName, listener: DeckListener): () => void {
    this.#listeners[deck].add(listener);
    return () => this.#listeners[deck].delete(listener);
  }

  /** Where a deck is in what leaves the loudspeaker now. Undefined before it has said anything. */
  positionNow(deck: DeckName): ReturnType<DeckClock['at']> {
    return this.#clocks[deck].at(this.#heardSeconds());
  }

  /** The moment of the audio clock that is heard now: what was computed for later is still on its way. */
  #heardSeconds(): number {
    const { currentTime, outputLatency, baseLatency } = this.#context;
    const { contextTime, performanceTime } = this.#context.getOutputTimestamp();
    if (
      contextTime !== undefined &&
      performanceTime !== undefined &&
      contextTime > 0 &&
      this.#context.state === 'running'
    ) {
      return Math.min(currentTime, contextTime + (performance.now() - performanceTime) / 1000);
    }
    return currentTime - (outputLatency || baseLatency || 0);
  }

  /**
   * Makes ready for notes played by hand: the bank here, its recordings by `giveLive`. While something sounds the audio thread
   * waits with opening it, for that takes longer than a block.
   * @param bytes the bank; moved
   * @returns resolves when keys sound
   */
  openLive(bytes: Uint8Array): Promise<void> {
    this.#isLive = true;
    this.#send({ kind: 'live bank', bytes }, [bytes.buffer]);
    return new Promise((resolve, reject) => {
      this.#whenLive = { resolve, reject };
    });
  }

  /** @param recording decoded; moved */
  giveLive(recording: LiveRecording): void {
    this.#send({ kind: 'live recording', recording }, [recording.samples.buffer]);
  }

  noteOn(midi: number, velocity: number): void {
    this.#send({ kind: 'note on', midi, velocity });
  }

  noteOff(midi: number): void {
    this.#send({ kind: 'note off', midi });
  }

  /** How loud what is played by hand is. @param level linear, 1 as it was recorded */
  setLiveLevel(level: number): void {
    this.#send({ kind: 'live level', level });
  }

  setSustain(down: boolean): void {
    this.#send({ kind: 'sustain', down });
  }

  #send(order: AudioOrder, transfer: readonly Transferable[] = []): void {
    this.#node.port.postMessage(order, [...transfer]);
  }

  #hear(report: AudioReport): void {
    switch (report.kind) {
      case 'deck':
        this.#clocks[report.deck].add(report.report);
        if (report.report.state === 'playing' || report.report.state === 'waiting') this.#sounding.add(report.deck);
        else this.#sounding.delete(report.deck);
        this.#sleepLater();
        for (const listener of this.#listeners[report.deck]) listener(report.report);
        break;
      case 'live':
        this.#whenLive?.resolve();
        break;
      case 'failed': {
        const error = new Error(`the audio thread: ${report.message}`);
        this.#whenLive?.reject(error);
        reportError(error);
        break;
      }
    }
  }
}

/** The bytes of a delivery, each once: for handing them over. */
export function soundOf({ notes }: WindowDelivery): Transferable[] {
  return [...new Set(notes.flatMap(({ note }) => [note.left.buffer, note.right.buffer]))] as ArrayBuffer[];
}

let opening: Promise<AudioOut> | undefined;

/** The one way out for all sound, opened when it is first asked for. Rejects where the browser has none. */
export function audioOut(): Promise<AudioOut> {
  opening ??= AudioOut.open();
  // a failure is no answer for ever: the next asker tries again
  opening.catch(() => (opening = undefined));
  return opening;
}
