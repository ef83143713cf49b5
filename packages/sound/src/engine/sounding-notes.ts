import {
  addFour,
  addMoving,
  addReleased,
  addReleasedPair,
  addSteady,
  addSteadyPair,
  addTwo,
  GAIN,
  GAIN_RIGHT,
  STEP,
} from './mix.ts';
import { PEAK_STEP_FRAMES, SILENCE, type RenderedNote } from './rendered-note.ts';
import { MOST_PLAYERS, type PlayerGains } from './player-gains.ts';
import { releaseGain, silentFrom, type Release } from './release.ts';

/** Notes that can sound at once; a trio with long cymbals has about 30. Above it the oldest makes room. */
const SLOTS = 256;

/** Frames mixed in one go at most: three arrays of them stay in the processor's nearest cache. */
export const MOST_MIXED_FRAMES = 1024;

/** Notes added in one loop. */
const TOGETHER = 4;
const NOTHING = new Float32Array(0);

/**
 * The notes that sound now, oldest first. That order is the order of adding and so part of what comes out: equal notes give
 * equal samples however the output is cut. Notes with the same sound on both sides go through a bus
 * of their player, which is then laid between left and right, at half the cost.
 */
export class SoundingNotes {
  readonly #fade: Release;
  readonly #left = new Float64Array(MOST_MIXED_FRAMES);
  readonly #right = new Float64Array(MOST_MIXED_FRAMES);
  /** One bus for each player. */
  readonly #middle = Array.from({ length: MOST_PLAYERS }, () => new Float64Array(MOST_MIXED_FRAMES));
  /** Right over left of each bus; not a number while nothing is on it. */
  readonly #middleBalance = new Float64Array(MOST_PLAYERS);
  /** Notes of one player waiting to be added to their bus together. */
  #waitingPlayer = 0;
  readonly #waiting: Float32Array[] = [NOTHING, NOTHING, NOTHING, NOTHING];
  readonly #waitingAt = new Int32Array(TOGETHER);
  readonly #waitingGain = new Float64Array(TOGETHER);
  #waitingCount = 0;
  readonly #gains = new Float64Array(3);
  #count = 0;
  readonly #notes: (RenderedNote | undefined)[] = Array.from({ length: SLOTS }, () => undefined);
  readonly #releases: (Release | undefined)[] = Array.from({ length: SLOTS }, () => undefined);
  readonly #startFrame = new Float64Array(SLOTS);
  readonly #leaveFrame = new Float64Array(SLOTS);
  readonly #endFrame = new Float64Array(SLOTS);
  readonly #leaveSeconds = new Float64Array(SLOTS);
  readonly #gainLeft = new Float64Array(SLOTS);
  readonly #gainRight = new Float64Array(SLOTS);
  readonly #balance = new Float64Array(SLOTS);
  readonly #player = new Int32Array(SLOTS);

  /** @param fade how a note ends that is held longer than it was rendered, or stopped */
  constructor(fade: Release) {
    this.#fade = fade;
  }

  get count(): number {
    return this.#count;
  }

  /** Begins a note at frame `now`; it is left at `leaveFrame`, in the schedule at `leaveSeconds` (Infinity: never). */
  begin(
    note: RenderedNote,
    now: number,
    leaveFrame: number,
    leaveSeconds: number,
    player: number,
    gainLeft: number,
    gainRight: number,
    balance: number,
  ): void {
    if (this.#count === SLOTS) this.#remove(0);
    const slot = this.#count++;
    this.#notes[slot] = note;
    this.#releases[slot] = note.release;
    this.#startFrame[slot] = now;
    this.#leaveSeconds[slot] = leaveSeconds;
    this.#gainLeft[slot] = gainLeft;
    this.#gainRight[slot] = gainRight;
    this.#balance[slot] = balance;
    this.#player[slot] = player;
    this.#leaveAt(slot, leaveFrame);
  }

  /** Leaves at frame `now` every note that is still held; those that are never left ring on. */
  leaveAll(now: number): void {
    for (let slot = 0; slot < this.#count; slot++) {
      if (this.#isHeld(slot, now)) this.#leaveAt(slot, now);
    }
  }

  /** When the held notes are left after the tempo changed: at this frame plus the seconds still to go, times `framesASecond`. */
  retime(now: number, nowSeconds: number, framesASecond: number): void {
    for (let slot = 0; slot < this.#count; slot++) {
      if (!this.#isHeld(slot, now)) continue;
      this.#leaveAt(slot, now + Math.round(((this.#leaveSeconds[slot] as number) - nowSeconds) * framesASecond));
    }
  }

  /** A player's notes of an exclusive class make way for the next: down by `release` from frame `now`. */
  choke(player: number, exclusiveClass: number, now: number, release: Release): void {
    for (let slot = 0; slot < this.#count; slot++) {
      if (this.#player[slot] !== player || this.#notes[slot]?.exclusiveClass !== exclusiveClass) continue;
      if ((this.#startFrame[slot] as number) < now && this.#releases[slot] !== release) this.#end(slot, now, release);
    }
  }

  /** Fades everything from frame `now`. */
  fadeAll(now: number): void {
    for (let slot = 0; slot < this.#count; slot++) this.#end(slot, now, this.#fade);
  }

  #isHeld(slot: number, now: number): boolean {
    return (this.#leaveFrame[slot] as number) > now && this.#leaveSeconds[slot] !== Infinity;
  }

  /** Sets when a note is left, and with it when it ends. */
  #leaveAt(slot: number, frame: number): void {
    const note = this.#notes[slot] as RenderedNote;
    const start = this.#startFrame[slot] as number;
    const end = start + note.left.length;
    let leave = Math.max(start, frame);
    if (note.isCut && leave > end - this.#fade.frames) {
      leave = Math.max(start, end - this.#fade.frames);
      this.#releases[slot] = this.#fade;
    }
    this.#leaveFrame[slot] = leave;
    const gain = Math.max(this.#gainLeft[slot] as number, this.#gainRight[slot] as number);
    const release = this.#releases[slot] as Release;
    const floor = SILENCE / gain;
    const silent =
      leave < end
        ? silentFrom(release, note.peaksAhead, PEAK_STEP_FRAMES, gain, SILENCE, leave - start)
        : audibleSteps(note.peaksAhead, floor) * PEAK_STEP_FRAMES;
    this.#endFrame[slot] = Math.min(end, start + silent);
  }

  /** Takes a note down by another release from now on, from the loudness it has. */
  #end(slot: number, now: number, release: Release): void {
    const released = now - (this.#leaveFrame[slot] as number);
    if (released > 0) {
      const fallen = releaseGain(this.#releases[slot] as Release, released);
      this.#gainLeft[slot] = (this.#gainLeft[slot] as number) * fallen;
      this.#gainRight[slot] = (this.#gainRight[slot] as number) * fallen;
    }
    this.#releases[slot] = release;
    this.#leaveSeconds[slot] = Infinity;
    this.#leaveAt(slot, now);
  }

  /** Writes frames `now` … `now + run` (at most MOST_MIXED_FRAMES) of all notes to the outputs from `offset` on. */
  mix(left: Float32Array, right: Float32Array, offset: number, run: number, now: number, gains: PlayerGains): void {
    const busLeft = this.#left;
    const busRight = this.#right;
    busLeft.fill(0, 0, run);
    busRight.fill(0, 0, run);
    this.#middleBalance.fill(NaN);
    for (let slot = 0; slot < this.#count; slot++) {
      const player = this.#player[slot] as number;
      const gain = gains.gain[player] as number;
      const step = gains.step[player] as number;
      if (gain === 0 && step === 0) continue;
      const note = this.#notes[slot] as RenderedNote;
      const gainLeft = this.#gainLeft[slot] as number;
      const gainRight = this.#gainRight[slot] as number;
      this.#gains[GAIN] = gain * gainLeft;
      this.#gains[STEP] = step * gainLeft;
      if (note.left === note.right && this.#isOnBus(player, slot, run)) {
        // Those waiting come first: the order of adding is always the notes' order.
        if (player !== this.#waitingPlayer) this.#addWaiting(run);
        this.#waitingPlayer = player;
        if (step === 0 && this.#isSteady(slot, now + run)) {
          this.#wait(note.left, (now - (this.#startFrame[slot] as number)) | 0, run);
          continue;
        }
        this.#addWaiting(run);
        this.#add(this.#middle[player] as Float64Array, note.left, slot, run, now);
      } else if (step === 0 && (this.#leaveFrame[slot] as number) <= now) {
        const frames = Math.min(run, (this.#endFrame[slot] as number) - now) | 0;
        const at = (now - (this.#startFrame[slot] as number)) | 0;
        const released = (now - (this.#leaveFrame[slot] as number)) | 0;
        this.#gains[GAIN_RIGHT] = gain * gainRight;
        addReleasedPair(busLeft, busRight, 0, note, at, frames, this.#gains, this.#releases[slot] as Release, released);
      } else if (step === 0 && this.#isSteady(slot, now + run)) {
        this.#gains[GAIN_RIGHT] = gain * gainRight;
        addSteadyPair(busLeft, busRight, note, (now - (this.#startFrame[slot] as number)) | 0, run, this.#gains);
      } else {
        this.#add(busLeft, note.left, slot, run, now);
        this.#gains[GAIN] = gain * gainRight;
        this.#gains[STEP] = step * gainRight;
        this.#add(busRight, note.right, slot, run, now);
      }
    }
    this.#addWaiting(run);
    this.#layOut(left, right, offset, run);
  }

  /** The buses together, into the outputs: the last player's bus on the way there. */
  #layOut(left: Float32Array, right: Float32Array, offset: number, run: number): void {
    const busLeft = this.#left;
    const busRight = this.#right;
    let last = MOST_PLAYERS - 1;
    while (last >= 0 && Number.isNaN(this.#middleBalance[last])) last--;
    for (let player = 0; player < last; player++) {
      const balance = this.#middleBalance[player] as number;
      if (Number.isNaN(balance)) continue;
      const middle = this.#middle[player] as Float64Array;
      for (let index = 0; index < run; index++) {
        const both = middle[index] as number;
        busLeft[index] = (busLeft[index] as number) + both;
        busRight[index] = (busRight[index] as number) + both * balance;
      }
    }
    if (last < 0) {
      for (let index = 0; index < run; index++) {
        left[offset + index] = busLeft[index] as number;
        right[offset + index] = busRight[index] as number;
      }
      return;
    }
    const balance = this.#middleBalance[last] as number;
    const middle = this.#middle[last] as Float64Array;
    for (let index = 0; index < run; index++) {
      const both = middle[index] as number;
      left[offset + index] = (busLeft[index] as number) + both;
      right[offset + index] = (busRight[index] as number) + both * balance;
    }
  }

  /** Whether a note can go on its player's bus: not beside notes from before that player was moved to another place. */
  #isOnBus(player: number, slot: number, run: number): boolean {
    const balance = this.#balance[slot] as number;
    const present = this.#middleBalance[player] as number;
    if (!Number.isNaN(present)) return present === balance;
    this.#middleBalance[player] = balance;
    (this.#middle[player] as Float64Array).fill(0, 0, run);
    return true;
  }

  /** Whether a note is neither left nor over before a frame. */
  #isSteady(slot: number, frame: number): boolean {
    return (this.#leaveFrame[slot] as number) >= frame && (this.#endFrame[slot] as number) >= frame;
  }

  #wait(source: Float32Array, at: number, run: number): void {
    this.#waiting[this.#waitingCount] = source;
    this.#waitingAt[this.#waitingCount] = at;
    this.#waitingGain[this.#waitingCount] = this.#gains[GAIN] as number;
    if (++this.#waitingCount < TOGETHER) return;
    addFour(this.#middle[this.#waitingPlayer] as Float64Array, this.#waiting, this.#waitingAt, this.#waitingGain, run);
    this.#waitingCount = 0;
  }

  #addWaiting(run: number): void {
    if (this.#waitingCount === 0) return;
    const bus = this.#middle[this.#waitingPlayer] as Float64Array;
    if (this.#waitingCount === 1) {
      const gain = this.#gains[GAIN] as number;
      this.#gains[GAIN] = this.#waitingGain[0] as number;
      addSteady(bus, 0, this.#waiting[0] as Float32Array, this.#waitingAt[0] as number, run, this.#gains);
      this.#gains[GAIN] = gain;
    } else if (this.#waitingCount === 2) addTwo(bus, this.#waiting, this.#waitingAt, this.#waitingGain, run);
    else {
      // the fourth adds nothing
      this.#waiting[3] = this.#waiting[2] as Float32Array;
      this.#waitingAt[3] = this.#waitingAt[2] as number;
      this.#waitingGain[3] = 0;
      addFour(bus, this.#waiting, this.#waitingAt, this.#waitingGain, run);
    }
    this.#waitingCount = 0;
  }

  #add(out: Float64Array, source: Float32Array, slot: number, run: number, now: number): void {
    // `| 0`: whole numbers for the compiler too; indices kept as floating-point numbers cost the inner loops twice their time.
    const frames = Math.min(run, (this.#endFrame[slot] as number) - now) | 0;
    const leave = (this.#leaveFrame[slot] as number) - now;
    const held = Math.max(0, Math.min(frames, leave)) | 0;
    const at = (now - (this.#startFrame[slot] as number)) | 0;
    const gains = this.#gains;
    const step = gains[STEP] as number;
    if (held > 0) {
      if (step === 0) addSteady(out, 0, source, at, held, gains);
      else addMoving(out, 0, source, at, held, gains);
    }
    if (frames > held) {
      const gain = gains[GAIN] as number;
      gains[GAIN] = gain + held * step;
      addReleased(
        out,
        held,
        source,
        at + held,
        frames - held,
        gains,
        this.#releases[slot] as Release,
        (held - leave) | 0,
      );
      gains[GAIN] = gain;
    }
  }

  /** Forgets notes that have ended by frame `now`, keeping the order of the others. */
  drop(now: number): void {
    for (let slot = this.#count - 1; slot >= 0; slot--) {
      if ((this.#endFrame[slot] as number) <= now) this.#remove(slot);
    }
  }

  #remove(slot: number): void {
    const last = --this.#count;
    for (let each = slot; each < last; each++) {
      this.#notes[each] = this.#notes[each + 1];
      this.#releases[each] = this.#releases[each + 1];
      this.#startFrame[each] = this.#startFrame[each + 1] as number;
      this.#leaveFrame[each] = this.#leaveFrame[each + 1] as number;
      this.#endFrame[each] = this.#endFrame[each + 1] as number;
      this.#leaveSeconds[each] = this.#leaveSeconds[each + 1] as number;
      this.#gainLeft[each] = this.#gainLeft[each + 1] as number;
      this.#gainRight[each] = this.#gainRight[each + 1] as number;
      this.#balance[each] = this.#balance[each + 1] as number;
      this.#player[each] = this.#player[each + 1] as number;
    }
    this.#notes[last] = undefined;
    this.#releases[last] = undefined;
  }
}

/** Steps from the start on until nothing above the floor is to come. */
function audibleSteps(peaksAhead: Float32Array, floor: number): number {
  let low = 0;
  let high = peaksAhead.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((peaksAhead[middle] as number) > floor) low = middle + 1;
    else high = middle;
  }
  return low;
}
