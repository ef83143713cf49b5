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
    for (let index = 0; index < frames; index++) {
      const inLeft = left[index] as number;
      const inRight = right[index] as number;
      const peak = Math.max(Math.abs(inLeft), Math.abs(inRight));
      const least = this.#leastWith(peak > this.#ceiling ? Math.floor((STEPS * this.#ceiling) / peak) - 1 : STEPS);
      // Down at once; up slowly and never past what is needed.
      if (least <= this.#current) this.#current = least;
      else this.#current = Math.min(least, this.#current + Math.ceil((least - this.#current) * this.#release));
      const place = this.#frame % this.#window;
      this.#sum += this.#current - (this.#held[place] as number);
      this.#held[place] = this.#current;
      this.#left[place] = inLeft;
      this.#right[place] = inRight;
      const oldest = (this.#frame + 1) % this.#window;
      const mean = this.#sum / this.#window;
      const gain = mean / STEPS;
      left[index] = (this.#left[oldest] as number) * gain;
      right[index] = (this.#right[oldest] as number) * gain;
      if (mean < this.#lowest) this.#lowest = mean;
      this.#frame++;
    }
  }

  /** The smallest needed gain of the window that ends with this frame. */
  #leastWith(gain: number): number {
    const size = this.#window;
    while (this.#queueLast > this.#queueFirst && (this.#queueGain[(this.#queueLast - 1) % size] as number) >= gain) {
      this.#queueLast--;
    }
    this.#queueFrame[this.#queueLast % size] = this.#frame;
    this.#queueGain[this.#queueLast % size] = gain;
    this.#queueLast++;
    if ((this.#queueFrame[this.#queueFirst % size] as number) <= this.#frame - size) this.#queueFirst++;
    return this.#queueGain[this.#queueFirst % size] as number;
  }
}
