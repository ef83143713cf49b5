/** Bytes to put in, before the byte at this place. */
export interface Insertion {
  readonly at: number;
  readonly bytes: Uint8Array;
}

/**
 * The same bytes with others put in between; nothing is taken away.
 * @param insertions in any order; of those at one place the first stays first.
 * @throws RangeError where a place is outside the bytes.
 */
export function insertBytes(bytes: Uint8Array, insertions: readonly Insertion[]): Uint8Array {
  const sorted = [...insertions].sort((a, b) => a.at - b.at);
  const length = sorted.reduce((sum, each) => sum + each.bytes.length, bytes.length);
  const out = new Uint8Array(length);
  let from = 0;
  let to = 0;
  for (const { at, bytes: added } of sorted) {
    if (!Number.isInteger(at) || at < 0 || at > bytes.length) {
      throw new RangeError(`at must be a place in ${bytes.length} bytes, not ${at}`);
    }
    out.set(bytes.subarray(from, at), to);
    to += at - from;
    out.set(added, to);
    to += added.length;
    from = at;
  }
  out.set(bytes.subarray(from), to);
  return out;
}
