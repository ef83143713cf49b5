/** How far ahead the limiter looks, and how soon it lets go. From memory: usual values for music. */
const LOOK_AHEAD_SECONDS = 0.005;
const RELEASE_SECONDS = 0.08;

/** Gains are kept in steps of 2^-30: then sums of them are exact, and a window of ones has a mean of exactly 1. */
const STEPS = 2 ** 30;

/**
 * Keeps every sample at or below a ceiling by turning down both sides together, smoothly, before a peak arrives. Sound comes out
 * `delayFrames` later. What needs no limiting passes bit for bit.
 *
 * Why nothing gets past: the gain of a frame is the mean, over the look-ahead, of the smallest gain that any frame of the
 * look-ahead needs; each of those values is at most what this frame needs, so their mean is too.
 */
export class Limiter {
  readonly delayFrames: number;
  readonly #window: number;
  readonly #ceiling: number;
  readonly #release: number;
  readonly #left: Float32Array;
  readonly #right: Float32Array;
  /** The last window's held gains and their sum, in steps. */
  readonly #held: Float64Array;
  #sum: number;
  #current = STEPS;
  /** Candidates for the smallest needed gain of the window: frames ascending, gains ascending, the smallest first. */
  readonly #queueFrame: Float64Array;
  readonly #queueGain: Float64Array;
  #queueFirst = 0;
  #queueLast = 0;
  #frame = 0;
  /** Where in the window the next frame is put. */
  #place = 0;
  /**
   * How many frames running needed nothing and were given nothing; after a whole window of them sound is only delayed.
   */
  #clear = 0;
  #lowest = STEPS;

  /** @param ceiling largest sample that may come out, above 0, at most 1 */
  constructor(sampleRate: number, ceiling: number) {
    if (!(ceiling > 0 && ceiling <= 1)) throw new RangeError(`ceiling must be above 0 and at most 1, not ${ceiling}`);
    this.delayFrames = Math.round(LOOK_AHEAD_SECONDS * sampleRate);
    this.#window = this.delayFrames + 1;
    this.#ceiling = ceiling;
    this.#release = 1 - Math.exp(-1 / (RELEASE_SECONDS * sampleRate));
    this.#left = new Float32Array(this.#window);
    this.#right = new Float32Array(this.#window);
    this.#held = new Float64Array(this.#window).fill(STEPS);
    this.#sum = STEPS * this.#window;
    this.#queueFrame = new Float64Array(this.#window);
    this.#queueGain = new Float64Array(this.#window);
  }

  /** The most it has turned down so far, as a gain; 1 where it never had to. */
  get lowestGain(): number {
    return this.#lowest / STEPS;
  }

  /** Replaces the frames by those of `delayFrames` before, limited. The first `delayFrames` that come out are silence. */
  process(left: Float32Array, right: Float32Array, frames: number): void {
    for (let index = 0; index < frames;) {
      if (this.#clear >= this.#window) index = this.#pass(left, right, index, frames);
      if (index < frames) index = this.#limit(left, right, index, frames);
    }
  }

  /** Delays what needs no limiting, where nothing of the window does. @returns the first frame that does, or `to` */
  #pass(left: Float32Array, right: Float32Array, from: number, to: number): number {
    const ceiling = this.#ceiling;
    const [keptLeft, keptRight] = [this.#left, this.#right];
    const size = this.#window;
    let place = this.#place;
    let index = from;
    for (; index < to; index++) {
      const inLeft = left[index] as number;
      const inRight = right[index] as number;
      if (Math.abs(inLeft) > ceiling || Math.abs(inRight) > ceiling) break;
      keptLeft[place] = inLeft;
      keptRight[place] = inRight;
      if (++place === size) place = 0;
      // the oldest is where the next will be put
      left[index] = keptLeft[place] as number;
      right[index] = keptRight[place] as number;
    }
    this.#place = place;
    if (index > from) {
      this.#frame += index - from;
      // every frame of the window needs the same: the last speaks for all
      this.#queueFirst = 0;
      this.#queueLast = 1;
      this.#queueFrame[0] = this.#frame - 1;
      this.#queueGain[0] = STEPS;
    }
    return index;
  }

  /** Limits frame by frame until nothing of the window needs it. @returns the first frame after that, or `to` */
  #limit(left: Float32Array, right: Float32Array, from: number, to: number): number {
    const [ceiling, release, size] = [this.#ceiling, this.#release, this.#window];
    const [keptLeft, keptRight, held] = [this.#left, this.#right, this.#held];
    let place = this.#place;
    let current = this.#current;
    let sum = this.#sum;
    let clear = this.#clear;
    let index = from;
    while (index < to) {
      const inLeft = left[index] as number;
      const inRight = right[index] as number;
      const peak = Math.max(Math.abs(inLeft), Math.abs(inRight));
      const least = this.#leastWith(peak > ceiling ? Math.floor((STEPS * ceiling) / peak) - 1 : STEPS);
      // Down at once; up slowly and never past what is needed.
      if (least <= current) current = least;
      else current = Math.min(least, current + Math.ceil((least - current) * release));
      sum += current - (held[place] as number);
      held[place] = current;
      keptLeft[place] = inLeft;
      keptRight[place] = inRight;
      if (++place === size) place = 0;
      const mean = sum / size;
      const gain = mean / STEPS;
      left[index] = (keptLeft[place] as number) * gain;
      right[index] = (keptRight[place] as number) * gain;
      if (mean < this.#lowest) this.#lowest = mean;
      this.#frame++;
      index++;
      clear = current === STEPS ? clear + 1 : 0;
      if (clear >= size) break;
    }
    this.#place = place;
    this.#current = current;
    this.#sum = sum;
    this.#clear = clear;
    return index;
  }

  /** The smallest needed gain of the window that ends with this frame. */
  #leastWith(gain: number): number {
    const size = this.#window;
    const [frames, gains] = [this.#queueFrame, this.#queueGain];
    let last = this.#queueLast;
    while (last > this.#queueFirst && (gains[(last - 1) % size] as number) >= gain) last--;
    frames[last % size] = this.#frame;
    gains[last % size] = gain;
    this.#queueLast = last + 1;
    if ((frames[this.#queueFirst % size] as number) <= this.#frame - size) this.#queueFirst++;
    return gains[this.#queueFirst % size] as number;
  }
}
