/** Most players of one schedule. */
export const MOST_PLAYERS = 32;

/** Who is heard and how loud: mute, solo and level of each player, moving without a click. Nothing allocates after the making. */
export class PlayerGains {
  /** Each player's gain now, and what it moves by each frame. */
  readonly gain = new Float64Array(MOST_PLAYERS).fill(1);
  readonly step = new Float64Array(MOST_PLAYERS);
  readonly #target = new Float64Array(MOST_PLAYERS).fill(1);
  readonly #rampLeft = new Int32Array(MOST_PLAYERS);
  readonly #muted = new Uint8Array(MOST_PLAYERS);
  readonly #solo = new Uint8Array(MOST_PLAYERS);
  readonly #level = new Float64Array(MOST_PLAYERS).fill(1);
  readonly #rampFrames: number;

  /** @param rampFrames frames in which a gain moves to where it shall be */
  constructor(rampFrames: number) {
    this.#rampFrames = rampFrames;
  }

  setMuted(player: number, muted: boolean, atOnce: boolean): void {
    this.#muted[checkPlayer(player)] = muted ? 1 : 0;
    this.#retarget(atOnce);
  }

  setSolo(player: number, solo: boolean, atOnce: boolean): void {
    this.#solo[checkPlayer(player)] = solo ? 1 : 0;
    this.#retarget(atOnce);
  }

  setLevel(player: number, level: number, atOnce: boolean): void {
    if (!(level >= 0 && level <= 4)) throw new RangeError(`level must be 0 to 4, not ${level}`);
    this.#level[checkPlayer(player)] = level;
    this.#retarget(atOnce);
  }

  #retarget(atOnce: boolean): void {
    const anySolo = this.#solo.includes(1);
    for (let player = 0; player < MOST_PLAYERS; player++) {
      const heard = this.#muted[player] === 0 && (!anySolo || this.#solo[player] === 1);
      const target = heard ? (this.#level[player] as number) : 0;
      if (target === this.#target[player]) continue;
      this.#target[player] = target;
      if (atOnce) {
        this.gain[player] = target;
        continue;
      }
      this.step[player] = (target - (this.gain[player] as number)) / this.#rampFrames;
      this.#rampLeft[player] = this.#rampFrames;
    }
  }

  /** Frames until a gain stops moving, at most `most`: mix no further in one go. */
  steadyFor(most: number): number {
    let frames = most;
    for (let player = 0; player < MOST_PLAYERS; player++) {
      const ramp = this.#rampLeft[player] as number;
      if (ramp > 0 && ramp < frames) frames = ramp;
    }
    return frames;
  }

  /** Moves on by frames that have been mixed, no more than `steadyFor` allowed. */
  advance(frames: number): void {
    for (let player = 0; player < MOST_PLAYERS; player++) {
      const ramp = this.#rampLeft[player] as number;
      if (ramp === 0) continue;
      const rest = Math.max(0, ramp - frames);
      this.#rampLeft[player] = rest;
      if (rest === 0) {
        // exactly there, whatever the steps summed to
        this.gain[player] = this.#target[player] as number;
        this.step[player] = 0;
      } else this.gain[player] = (this.gain[player] as number) + frames * (this.step[player] as number);
    }
  }
}

function checkPlayer(player: number): number {
  if (!Number.isInteger(player) || player < 0 || player >= MOST_PLAYERS) {
    throw new RangeError(`player must be a whole number from 0 to ${MOST_PLAYERS - 1}, not ${player}`);
  }
  return player;
}
