/**
 * A text from bytes: UTF-8, or UTF-16 with the mark of its order of bytes, as some editors save it. The mark itself goes.
 * @returns null where the bytes are neither, or hold the zero sign that no text has
 * @example textOfBytes(new Uint8Array([0xff, 0xfe, 0x46, 0])) // → 'F'
 */
export function textOfBytes(bytes: Uint8Array): string | null {
  const [first, second] = bytes;
  const encoding =
    first === 0xff && second === 0xfe ? 'utf-16le' : first === 0xfe && second === 0xff ? 'utf-16be' : 'utf-8';
  try {
    const text = new TextDecoder(encoding, { fatal: true }).decode(bytes);
    return text.includes('\u0000') ? null : text;
  } catch {
    return null;
  }
}
