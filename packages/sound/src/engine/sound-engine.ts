import { instrumentOf, type InstrumentId } from '../bank/index.ts';
import type { RenderedNote } from './rendered-note.ts';
import { MOST_PLAYERS, PlayerGains } from './player-gains.ts';
import { MASTER_GAIN, type Prepared } from './prepared.ts';
import { makeRelease, type Release } from './release.ts';
import { MOST_MIXED_FRAMES, SoundingNotes } from './sounding-notes.ts';
import { BLOCK_FRAMES, type Synthesizer } from './synthesizer.ts';
import { soundingVelocity } from './velocity.ts';

/** Time in which a level moves and a stopped note fades: short to the hand, long enough not to click (common practice). */
const FADE_SECONDS = 0.01;
/** A fade of FADE_SECONDS to −60 dB, as a release of 96 dB. */
const FADE_RELEASE_SECONDS = FADE_SECONDS * 1.6;

/** A closed hi-hat cuts an open one within this time, 96 dB: −2320 timecents, the synthesizer's own. */
const CHOKE_RELEASE_SECONDS = 2 ** (-2320 / 1200);

/** Shortest stretch that can be repeated. */
const SHORTEST_LOOP_SECONDS = 0.05;

/** A stretch that is played again and again. */
export interface Loop {
  readonly fromSeconds: number;
  readonly toSeconds: number;
}

/**
 * Plays a prepared schedule: the one engine for files, workers and the audio thread. Every note begins and is left on its exact
 * frame, however the output is cut into blocks. `process` neither decodes nor allocates; commands take effect at the next block.
 *
 * Two clocks: the audio clock counts frames since the engine was made and never jumps; the position is where in the schedule
 * the music is, and moves with tempo, loop and seeking.
 */
export class SoundEngine {
  readonly sampleRate: number;
  readonly #live: Synthesizer | undefined;
  readonly #liveLeft = new Float32Array(BLOCK_FRAMES);
  readonly #liveRight = new Float32Array(BLOCK_FRAMES);
  readonly #choke: Release;
  readonly #sounding: SoundingNotes;
  readonly #gains: PlayerGains;

  #prepared: Prepared | undefined;
  #next = 0;
  #playing = false;
  #now = 0;
  /** At audio frame `anchorFrame` the position was `anchorSeconds`; from there it moves at `rate`. */
  readonly #clock = { anchorFrame: 0, anchorSeconds: 0, rate: 1 };
  #loop: Loop | undefined;
  #loopPasses = 0;

  /**
   * @param sampleRate frames a second, as the prepared schedules have it
   * @param live plays live notes: a synthesizer on a bank whose recordings are decoded
   */
  constructor(sampleRate: number, live?: Synthesizer) {
    if (live !== undefined && live.sampleRate !== sampleRate) {
      throw new RangeError(`live must have the engine's ${sampleRate} frames a second, not ${live.sampleRate}`);
    }
    this.sampleRate = sampleRate;
    this.#live = live;
    this.#choke = makeRelease(Math.round(CHOKE_RELEASE_SECONDS * sampleRate));
    this.#sounding = new SoundingNotes(makeRelease(Math.round(FADE_RELEASE_SECONDS * sampleRate)));
    this.#gains = new PlayerGains(Math.round(FADE_SECONDS * sampleRate));
  }

  /** Frames given out since the engine was made. */
  get audioFrame(): number {
    return this.#now;
  }

  /** Where in the schedule the music is at `audioFrame`, in seconds. */
  get positionSeconds(): number {
    const { anchorFrame, anchorSeconds, rate } = this.#clock;
    return this.#playing ? anchorSeconds + ((this.#now - anchorFrame) * rate) / this.sampleRate : anchorSeconds;
  }

  get playing(): boolean {
    return this.#playing;
  }

  /** Times that the loop has begun again. */
  get loopPasses(): number {
    return this.#loopPasses;
  }

  /** Scheduled notes that still sound. */
  get soundingNotes(): number {
    return this.#sounding.count;
  }

  /** Whether the piece is over and its last note has died away. */
  get finished(): boolean {
    return (
      this.#prepared !== undefined && this.positionSeconds >= this.#prepared.endSeconds && this.#sounding.count === 0
    );
  }

  /**
   * Takes another schedule from the present position on: the next window of a long piece, another key, other players. What
   * sounds rings on.
   */
  load(prepared: Prepared): void {
    if (prepared.sampleRate !== this.sampleRate) {
      throw new RangeError(`prepared must have ${this.sampleRate} frames a second, not ${prepared.sampleRate}`);
    }
    if (prepared.playerCount > MOST_PLAYERS) {
      throw new RangeError(`prepared must have at most ${MOST_PLAYERS} players, not ${prepared.playerCount}`);
    }
    this.#prepared = prepared;
    if (this.#clock.rate < prepared.slowestRate) this.setRate(prepared.slowestRate);
    this.#next = this.#firstFrom(this.#now);
  }

  /** Plays on from where it is. */
  play(): void {
    if (this.#playing) return;
    this.#clock.anchorFrame = this.#now;
    this.#playing = true;
  }

  /** Holds: what sounds fades within 10 ms, the position stays. Live notes go on. */
  pause(): void {
    if (!this.#playing) return;
    this.#clock.anchorSeconds = this.positionSeconds;
    this.#playing = false;
    this.#sounding.fadeAll(this.#now);
  }

  /** Goes to a place in the schedule. Notes that would already sound there are not begun in their middle. */
  seek(seconds: number): void {
    if (!(seconds >= 0)) throw new RangeError(`seconds must be 0 or more, not ${seconds}`);
    this.#sounding.fadeAll(this.#now);
    this.#clock.anchorSeconds = seconds;
    this.#clock.anchorFrame = this.#now;
    this.#next = this.#firstFrom(this.#now);
  }

  /**
   * Begins in the middle with everything that sounds there, as if the schedule had been played from its start: for rendering a
   * long piece in parts side by side. Only for a loaded engine that has given out nothing yet.
   * @param frame audio frame to go on from, counted from the schedule's start
   */
  resumeAt(frame: number): void {
    const prepared = this.#prepared;
    if (this.#now !== 0 || prepared === undefined) throw new RangeError('resumeAt needs a fresh, loaded engine');
    this.#playing = true;
    while (this.#next < prepared.startSeconds.length) {
      const start = this.#frameOf(prepared.startSeconds[this.#next] as number);
      if (start >= frame) break;
      this.#now = start;
      this.#sounding.drop(start);
      this.#begin(prepared, this.#next++);
    }
    this.#now = frame;
    this.#sounding.drop(frame);
  }

  /**
   * Plays faster or slower from now on; notes that sound are left accordingly.
   * @param rate share of the schedule's own tempo, at least what the schedule was prepared for, at most 10
   */
  setRate(rate: number): void {
    const slowest = this.#prepared?.slowestRate ?? 0.1;
    if (!(rate >= slowest && rate <= 10)) throw new RangeError(`rate must be ${slowest} to 10, not ${rate}`);
    this.#clock.anchorSeconds = this.positionSeconds;
    this.#clock.anchorFrame = this.#now;
    this.#clock.rate = rate;
    this.#sounding.retime(this.#now, this.#clock.anchorSeconds, this.sampleRate / rate);
  }

  /** Repeats a stretch from now on, or no longer. Past its end, the repeat begins at once. */
  setLoop(loop: Loop | undefined): void {
    if (loop !== undefined && !(loop.fromSeconds >= 0 && loop.toSeconds - loop.fromSeconds >= SHORTEST_LOOP_SECONDS)) {
      throw new RangeError(`loop must begin at 0 or later and last ${SHORTEST_LOOP_SECONDS} s at least`);
    }
    this.#loop = loop;
  }

  /** Whether a player is silent; their notes go on unheard. Before the first frame it holds at once, later within 10 ms. */
  setMuted(player: number, muted: boolean): void {
    this.#gains.setMuted(player, muted, this.#now === 0);
  }

  /** While anyone is solo, only those who are are heard. */
  setSolo(player: number, solo: boolean): void {
    this.#gains.setSolo(player, solo, this.#now === 0);
  }

  /** @param level linear, 1 as the schedule has it, 0 to 4 */
  setLevel(player: number, level: number): void {
    this.#gains.setLevel(player, level, this.#now === 0);
  }

  /** Strikes a key at the next block: someone plays along. */
  noteOn(instrument: InstrumentId, midi: number, velocity: number): void {
    if (this.#live === undefined) throw new TypeError('live notes need an engine made with a live synthesizer');
    if (!Number.isInteger(midi) || midi < 0 || midi > 127) {
      throw new RangeError(`midi must be a whole number from 0 to 127, not ${midi}`);
    }
    this.#live.noteOn(instrumentOf(instrument), midi, soundingVelocity(velocity));
  }

  noteOff(instrument: InstrumentId, midi: number): void {
    this.#live?.noteOff(instrumentOf(instrument), midi);
  }

  /** The live player's damper pedal. */
  setSustain(down: boolean): void {
    this.#live?.setSustain(down);
  }

  /**
   * Writes the next frames over both channels.
   * @param frames at most the arrays' length; all of it by default
   */
  process(left: Float32Array, right: Float32Array, frames = left.length): void {
    let offset = 0;
    while (offset < frames) {
      const most = Math.min(frames - offset, MOST_MIXED_FRAMES);
      const run = this.#gains.steadyFor(this.#advance(most));
      this.#sounding.mix(left, right, offset, run, this.#now, this.#gains);
      this.#gains.advance(run);
      this.#now += run;
      offset += run;
      this.#sounding.drop(this.#now);
    }
    if (this.#live?.sounding === true) this.#addLive(this.#live, left, right, frames);
  }

  /** Begins what is due now; returns the frames until something changes, at most `most`. */
  #advance(most: number): number {
    const prepared = this.#prepared;
    if (!this.#playing || prepared === undefined) return most;
    let run = most;
    const loop = this.#loop;
    if (loop !== undefined) {
      if (this.#frameOf(loop.toSeconds) <= this.#now) this.#beginAgain(loop);
      run = Math.min(run, this.#frameOf(loop.toSeconds) - this.#now);
    }
    while (this.#next < prepared.startSeconds.length) {
      const wait = this.#frameOf(prepared.startSeconds[this.#next] as number) - this.#now;
      if (wait > 0) return Math.min(run, wait);
      this.#begin(prepared, this.#next++);
    }
    return run;
  }

  #beginAgain({ fromSeconds }: Loop): void {
    this.#sounding.leaveAll(this.#now);
    this.#clock.anchorFrame = this.#now;
    this.#clock.anchorSeconds = fromSeconds;
    this.#next = this.#firstFrom(this.#now);
    this.#loopPasses++;
  }

  /** The audio frame of a place in the schedule. */
  #frameOf(seconds: number): number {
    const { anchorFrame, anchorSeconds, rate } = this.#clock;
    return anchorFrame + Math.round(((seconds - anchorSeconds) * this.sampleRate) / rate);
  }

  /** The first event that begins at an audio frame or later. */
  #firstFrom(frame: number): number {
    const starts = this.#prepared?.startSeconds;
    if (starts === undefined) return 0;
    if (!this.#playing) this.#clock.anchorFrame = frame;
    let low = 0;
    let high = starts.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (this.#frameOf(starts[middle] as number) < frame) low = middle + 1;
      else high = middle;
    }
    return low;
  }

  #begin(prepared: Prepared, event: number): void {
    const note = prepared.notes[prepared.note[event] as number] as RenderedNote;
    const player = prepared.player[event] as number;
    const leaveSeconds = prepared.leftSeconds[event] as number;
    if (note.exclusiveClass !== 0) this.#sounding.choke(player, note.exclusiveClass, this.#now, this.#choke);
    this.#sounding.begin(
      note,
      this.#now,
      this.#frameOf(leaveSeconds),
      leaveSeconds,
      player,
      prepared.gainLeft[event] as number,
      prepared.gainRight[event] as number,
      prepared.balance[player] as number,
    );
  }

  #addLive(live: Synthesizer, left: Float32Array, right: Float32Array, frames: number): void {
    live.claimFilters();
    for (let offset = 0; offset < frames; offset += BLOCK_FRAMES) {
      const run = Math.min(BLOCK_FRAMES, frames - offset);
      this.#liveLeft.fill(0);
      this.#liveRight.fill(0);
      live.process(this.#liveLeft, this.#liveRight, 0, run);
      for (let index = 0; index < run; index++) {
        left[offset + index] = (left[offset + index] as number) + (this.#liveLeft[index] as number) * MASTER_GAIN;
        right[offset + index] = (right[offset + index] as number) + (this.#liveRight[index] as number) * MASTER_GAIN;
      }
    }
  }
}
