/** From this many values on the engine's own sort is quicker. */
const FEW = 24;

/** Ascending. Without a comparing function to call, since medians of a few strokes are taken thousands of times a take. */
function ascending(values: readonly number[]): ArrayLike<number> {
  if (values.length > FEW) return new Float64Array(values).sort();
  // a plain copy: making a typed array of nine values costs more than sorting them
  const sorted = values.slice();
  for (let at = 1; at < sorted.length; at++) {
    const value = sorted[at] as number;
    let place = at;
    for (; place > 0 && (sorted[place - 1] as number) > value; place--) sorted[place] = sorted[place - 1] as number;
    sorted[place] = value;
  }
  return sorted;
}

/** A quantile between the values it falls between; NaN of none. */
function quantile(values: readonly number[], share: number): number {
  const sorted = ascending(values);
  const at = share * (sorted.length - 1);
  const low = sorted[Math.floor(at)] ?? Number.NaN;
  return low + (at - Math.floor(at)) * ((sorted[Math.ceil(at)] ?? low) - low);
}

export const median = (values: readonly number[]): number => quantile(values, 0.5);

/** The mean; NaN of no values. */
export function mean(values: readonly number[]): number {
  let sum = 0;
  for (let at = 0; at < values.length; at++) sum += values[at] as number;
  return sum / values.length;
}

/** The standard deviation about the mean. */
export function deviation(values: readonly number[]): number {
  const middle = mean(values);
  return Math.sqrt(mean(values.map((each) => (each - middle) ** 2)));
}

/** A standard deviation that a few far values do not move: 1.4826 times the median distance from the median (Hampel 1974, from memory). */
export function sturdyDeviation(values: readonly number[]): number {
  const middle = median(values);
  return 1.4826 * median(values.map((each) => Math.abs(each - middle)));
}

/** The mean of what is left without the outer fifth on either side. */
export function trimmedMean(values: readonly number[]): number {
  const sorted = ascending(values);
  const cut = Math.floor(sorted.length / 5);
  let sum = 0;
  for (let at = cut; at < sorted.length - cut; at++) sum += sorted[at] as number;
  return sum / (sorted.length - 2 * cut);
}

/** A straight line through points by least squares, with the standard error of its slope; null of fewer than three points or of one place. */
export function lineThrough(
  points: readonly { readonly at: number; readonly value: number }[],
): { readonly slope: number; readonly error: number } | null {
  const count = points.length;
  let [sumAt, sum] = [0, 0];
  for (const { at, value } of points) {
    sumAt += at;
    sum += value;
  }
  const [middleAt, middle] = [sumAt / count, sum / count];
  let [spread, along] = [0, 0];
  for (const { at, value } of points) {
    spread += (at - middleAt) ** 2;
    along += (at - middleAt) * (value - middle);
  }
  if (count < 3 || spread === 0) return null;
  const slope = along / spread;
  let rest = 0;
  for (const { at, value } of points) rest += (value - middle - slope * (at - middleAt)) ** 2;
  return { slope, error: Math.sqrt(rest / (count - 2) / spread) };
}

/** How sure a figure is that lies this many standard errors from where it would say something else: 0 to 1. */
export function sureOf(errors: number): number {
  const sure = 1 - Math.exp(-0.4 * Math.max(0, errors));
  return Math.round(sure * 100) / 100;
}

/** The chance of at most `hits` in `tries` where each has this chance. */
export function chanceOfAtMost(hits: number, tries: number, chance: number): number {
  let term = (1 - chance) ** tries;
  let sum = term;
  for (let k = 1; k <= hits; k++) {
    term *= ((tries - k + 1) / k) * (chance / (1 - chance));
    sum += term;
  }
  return Math.min(1, sum);
}
