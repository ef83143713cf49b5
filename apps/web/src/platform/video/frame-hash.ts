/** SHA-256 of bytes, in 64 hexadecimal digits. */
export async function hexOf(bytes: Uint8Array<ArrayBuffer>): Promise<string> {
  const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes));
  return [...digest].map((each) => each.toString(16).padStart(2, '0')).join('');
}

/** A hash over frames, in order: two films with the same one have the same frames before they are encoded. */
export class FrameHash {
  #text = '';

  /** Adds a frame that is seen so many times. */
  async add(planes: Uint8Array<ArrayBuffer>, frames: number): Promise<void> {
    this.#text += `${frames} ${await hexOf(planes)}
`;
  }

  async end(): Promise<string> {
    return await hexOf(new TextEncoder().encode(this.#text));
  }
}
