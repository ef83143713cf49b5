import { SoundEngine, type Prepared, type RenderedNote } from '@fivespan/sound/engine';
import type {
  DeckOrder,
  DeckReport,
  DeckState,
  PieceSettings,
  LoopSeconds,
  PieceWindow,
  StretchSeconds,
} from './messages.ts';

/** A report is also given when nothing has changed for this long, so that nobody follows an old one for ever. */
const REPORT_SECONDS = 0.5;

/**
 * Plays a piece that comes window by window: the audio thread's part, without any of that thread's own things. Only `process`
 * runs against the clock; it neither decodes nor allocates but for a note's few numbers. Where a window is late the deck
 * holds and goes on when it comes: no note is lost.
 */
export class Deck {
  readonly #engine: SoundEngine;
  readonly #sampleRate: number;
  readonly #report: (report: DeckReport) => void;
  readonly #aside = [new Float32Array(MOST_FRAMES), new Float32Array(MOST_FRAMES)] as const;
  #piece: PieceSettings | undefined;
  #number = 0;
  #windows: readonly PieceWindow[] = [];
  /** By number; undefined where one was forgotten: no window that is there names it. */
  #notes: (RenderedNote | undefined)[] = [];
  #state: DeckState = 'paused';
  #loop: LoopSeconds | undefined;
  #jump: StretchSeconds | undefined;
  #rate = 1;
  #isChanged = false;
  #loopPasses = 0;
  /** Of loops that rest: the engine counts its own. */
  #restedPasses = 0;
  #unreported = 0;

  /** @param report told of every change of state, place or speed, after the block in which it happened */
  constructor(sampleRate: number, report: (report: DeckReport) => void) {
    this.#engine = new SoundEngine(sampleRate);
    this.#sampleRate = sampleRate;
    this.#report = report;
  }

  /** Whether there is anything to compute. */
  get isBusy(): boolean {
    return this.#isChanged || this.#state === 'playing' || this.#engine.soundingNotes > 0;
  }

  obey(order: DeckOrder): void {
    switch (order.kind) {
      case 'begin':
        this.#begin(order.number, order.piece);
        break;
      case 'put':
        this.#put(order.delivery.window, order.delivery.notes, order.delivery.forgotten);
        break;
      case 'drop':
        this.#windows = this.#windows.filter(({ index }) => !order.windows.includes(index));
        this.#load();
        break;
      case 'seek':
        this.#engine.seek(order.seconds);
        this.#isChanged = true;
        if (this.#state === 'ended') this.#state = 'paused';
        break;
      case 'play':
        if (this.#piece === undefined || this.#state === 'playing') break;
        // whether the first window is there is seen at the next block
        this.#set('playing');
        this.#engine.play();
        break;
      case 'pause':
        this.#engine.pause();
        if (this.#state !== 'ended') this.#set('paused');
        break;
      case 'rate':
        this.#rate = order.rate;
        this.#engine.setRate(order.rate);
        this.#isChanged = true;
        break;
      case 'loop':
        this.#loop = order.loop ?? undefined;
        // a loop that rests goes two ways in turn: the deck turns it
        this.#engine.setLoop(this.#loop?.rest === null ? this.#loop : undefined);
        break;
      case 'jump':
        this.#jump = order.jump ?? undefined;
        break;
      case 'player':
        this.#engine.setMuted(order.player, order.muted);
        this.#engine.setSolo(order.player, order.solo);
        this.#engine.setLevel(order.player, order.level);
        break;
    }
  }

  #set(state: DeckState): void {
    if (this.#state === state) return;
    this.#state = state;
    this.#isChanged = true;
  }

  #begin(number: number, piece: PieceSettings): void {
    this.#engine.pause();
    this.#engine.setLoop(undefined);
    this.#engine.seek(0);
    this.#piece = piece;
    this.#number = number;
    this.#windows = [];
    this.#notes = [];
    this.#loop = undefined;
    this.#jump = undefined;
    this.#rate = 1;
    this.#load();
    this.#engine.setRate(1);
    this.#state = 'paused';
    this.#isChanged = true;
  }

  #put(
    window: PieceWindow,
    notes: readonly { readonly number: number; readonly note: RenderedNote }[],
    forgotten: readonly number[],
  ): void {
    for (const number of forgotten) this.#notes[number] = undefined;
    for (const { number, note } of notes) this.#notes[number] = note;
    this.#windows = [...this.#windows.filter(({ index }) => index !== window.index), window].toSorted(
      (a, b) => a.index - b.index,
    );
    this.#load();
    if (this.#state === 'waiting' && this.#isThere()) {
      this.#set('playing');
      this.#engine.play();
    }
  }

  /** Lays what is there end to end for the engine. */
  #load(): void {
    const piece = this.#piece;
    if (piece === undefined) return;
    const windows = this.#windows;
    const prepared: Prepared = {
      sampleRate: this.#sampleRate,
      endSeconds: piece.endSeconds,
      playerCount: piece.playerCount,
      startSeconds: joined(Float64Array, windows, 'startSeconds'),
      leftSeconds: joined(Float64Array, windows, 'leftSeconds'),
      note: joined(Int32Array, windows, 'note'),
      player: joined(Int32Array, windows, 'player'),
      gainLeft: joined(Float32Array, windows, 'gainLeft'),
      gainRight: joined(Float32Array, windows, 'gainRight'),
      balance: piece.balance,
      notes: this.#notes as RenderedNote[],
      slowestRate: piece.slowestRate,
    };
    this.#engine.load(prepared);
  }

  /** Where what is there ends, seen from a place in the piece: the place itself where nothing is. */
  #thereUntil(seconds: number): number {
    let until = seconds;
    // windows ascend
    for (let index = 0; index < this.#windows.length; index++) {
      const window = this.#windows[index] as PieceWindow;
      if (window.fromSeconds <= until + EDGE_SECONDS && window.toSeconds > until) until = window.toSeconds;
    }
    return until;
  }

  /** Whether everything is there that the next block may need. */
  #isThere(): boolean {
    const end = this.#piece?.endSeconds ?? 0;
    const block = (MOST_FRAMES * this.#rate) / this.#sampleRate;
    const position = this.#engine.positionSeconds;
    const turn = this.#turnAfter(position);
    const last = turn === undefined ? position + block : Math.min(position + block, turn.turnSeconds);
    if (this.#thereUntil(position) < Math.min(end, last) - EDGE_SECONDS) return false;
    if (turn === undefined || position + block < turn.turnSeconds) return true;
    return this.#thereUntil(turn.onSeconds) >= Math.min(end, turn.onSeconds + block) - EDGE_SECONDS;
  }

  /** Where the position will next go elsewhere, and where to. */
  #turnAfter(position: number): { readonly turnSeconds: number; readonly onSeconds: number } | undefined {
    const jump = this.#jump;
    if (jump !== undefined && position < jump.fromSeconds) return this.#turn(jump.fromSeconds, jump.toSeconds);
    const loop = this.#loop;
    if (loop === undefined) return undefined;
    const { rest } = loop;
    if (rest === null) return this.#turn(loop.toSeconds, loop.fromSeconds);
    // a place is a whole frame, and a block may end on the very turn
    const edge = 2 / this.#sampleRate;
    const isResting = position >= rest.fromSeconds - edge && position < rest.toSeconds + edge;
    if (isResting) return this.#turn(rest.toSeconds, loop.fromSeconds);
    return position < loop.toSeconds + edge ? this.#turn(loop.toSeconds, rest.fromSeconds) : undefined;
  }

  readonly #turning = { turnSeconds: 0, onSeconds: 0 };
  #turn(turnSeconds: number, onSeconds: number): { readonly turnSeconds: number; readonly onSeconds: number } {
    this.#turning.turnSeconds = turnSeconds;
    this.#turning.onSeconds = onSeconds;
    return this.#turning;
  }

  /**
   * Writes the next block over the beginning of both channels.
   * @param frames at most MOST_FRAMES
   * @param contextSeconds the audio clock at the block's first frame
   */
  process(left: Float32Array, right: Float32Array, frames: number, contextSeconds: number): void {
    const engine = this.#engine;
    if (this.#state === 'playing' && !this.#isThere()) {
      engine.pause();
      this.#set('waiting');
    }
    const jump = this.#jump;
    // what the engine does not turn by itself
    const turn =
      jump !== undefined
        ? this.#turn(jump.fromSeconds, jump.toSeconds)
        : this.#loop?.rest == null
          ? undefined
          : this.#turnAfter(engine.positionSeconds);
    const toTurn =
      turn !== undefined && engine.playing
        ? Math.round(((turn.turnSeconds - engine.positionSeconds) * this.#sampleRate) / this.#rate)
        : Infinity;
    if (turn !== undefined && toTurn < frames) {
      if (jump === undefined && turn.onSeconds === this.#loop?.rest?.fromSeconds) this.#restedPasses++;
      this.#processTurn(left, right, frames, Math.max(0, toTurn), turn.onSeconds);
      this.#jump = undefined;
    } else engine.process(left, right, frames);
    const passes = engine.loopPasses + this.#restedPasses;
    if (passes !== this.#loopPasses) {
      this.#loopPasses = passes;
      this.#isChanged = true;
    }
    if (this.#state === 'playing' && engine.finished) {
      engine.pause();
      this.#set('ended');
    }
    this.#unreported += frames;
    if (this.#isChanged || (this.#state === 'playing' && this.#unreported > REPORT_SECONDS * this.#sampleRate)) {
      this.#isChanged = false;
      this.#unreported = 0;
      this.#report({
        contextSeconds: contextSeconds + frames / this.#sampleRate,
        piece: this.#number,
        positionSeconds: engine.positionSeconds,
        rate: this.#state === 'playing' ? this.#rate : 0,
        state: this.#state,
        loopPasses: this.#loopPasses,
      });
    }
  }

  /** A block in the middle of which the position goes elsewhere, on the very frame. */
  #processTurn(left: Float32Array, right: Float32Array, frames: number, before: number, toSeconds: number): void {
    const engine = this.#engine;
    const [asideLeft, asideRight] = this.#aside;
    const after = frames - before;
    if (before > 0) engine.process(left, right, before);
    engine.seek(toSeconds);
    engine.process(asideLeft, asideRight, after);
    for (let index = 0; index < after; index++) {
      left[before + index] = asideLeft[index] as number;
      right[before + index] = asideRight[index] as number;
    }
    this.#isChanged = true;
  }
}

/** Blocks are 128 frames today; the standard foresees others (Web Audio API 1.1, render quantum size). */
export const MOST_FRAMES = 1024;

/** Windows that are this close touch. */
const EDGE_SECONDS = 1e-6;

type Columns = 'startSeconds' | 'leftSeconds' | 'note' | 'player' | 'gainLeft' | 'gainRight';

function joined<Kind extends Float64Array | Float32Array | Int32Array>(
  kind: new (length: number) => Kind,
  windows: readonly PieceWindow[],
  column: Columns,
): Kind {
  const all = new kind(windows.reduce((sum, window) => sum + window[column].length, 0));
  let at = 0;
  for (const window of windows) {
    all.set(window[column], at);
    at += window[column].length;
  }
  return all;
}
