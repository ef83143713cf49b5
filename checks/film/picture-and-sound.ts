/** What is seen in a decoded film and heard in it, each by itself. */

/** A pixel that differs by this much has changed; encoders blur less than that. */
const CHANGED = 60;
/** So many changed pixels are something moving. */
const MOVING_PIXELS = 40;

/** The frames that differ from the one before, of grey frames one after the other. */
export function framesThatMove(
  frames: Uint8Array,
  { width, height }: { readonly width: number; readonly height: number },
  leastPixels = MOVING_PIXELS,
): number[] {
  const size = width * height;
  const found: number[] = [];
  for (let frame = 1; (frame + 1) * size <= frames.length; frame++) {
    let changed = 0;
    for (let pixel = frame * size; pixel < (frame + 1) * size; pixel++) {
      if (Math.abs((frames[pixel] as number) - (frames[pixel - size] as number)) > CHANGED) changed++;
    }
    if (changed > leastPixels) found.push(frame);
  }
  return found;
}

/** The middle of what changes with a frame, in pixels from the left. */
export function whereItMoves(
  frames: Uint8Array,
  { width, height }: { readonly width: number; readonly height: number },
  frame: number,
): number {
  const size = width * height;
  let [sum, changed] = [0, 0];
  for (let pixel = frame * size; pixel < (frame + 1) * size; pixel++) {
    if (Math.abs((frames[pixel] as number) - (frames[pixel - size] as number)) <= CHANGED) continue;
    sum += pixel % width;
    changed++;
  }
  return sum / changed;
}

/** How much energy must rise over what was before, and over silence; how close two beginnings may be. */
const RISE = 3;
const SILENCE = 0.002;
const APART_SECONDS = 0.12;
const STEP_SECONDS = 0.005;
const STEPS_BEFORE = 6;

/** Seconds at which sound begins or begins anew: energy in steps of 5 ms against the 30 ms before. */
export function onsetsOf(samples: Float32Array, sampleRate: number): number[] {
  const step = Math.round(STEP_SECONDS * sampleRate);
  const energies: number[] = [];
  for (let at = 0; at + step <= samples.length; at += step) {
    let energy = 0;
    for (let index = at; index < at + step; index++) energy += (samples[index] as number) ** 2;
    energies.push(energy);
  }
  const found: number[] = [];
  for (let index = STEPS_BEFORE; index < energies.length; index++) {
    const before = energies.slice(index - STEPS_BEFORE, index).reduce((sum, each) => sum + each, 0) / STEPS_BEFORE;
    const seconds = (index * step) / sampleRate;
    const rises = (energies[index] as number) > Math.max(SILENCE, RISE * before);
    if (rises && seconds - (found.at(-1) ?? -1) > APART_SECONDS) found.push(seconds);
  }
  return found;
}
