/** Performances as checks need them. */

/** Notes as a MIDI file of 1000 ticks a second. Source: Standard MIDI Files 1.1. */
export function midiOf(notes: readonly (readonly [seconds: number, key: number, length: number])[]): Buffer {
  const events = notes
    .flatMap(([seconds, key, length]) => [
      { ticks: Math.round(seconds * 1000), bytes: [0x90, key, 70] },
      { ticks: Math.round((seconds + length) * 1000), bytes: [0x80, key, 0] },
    ])
    .sort((a, b) => a.ticks - b.ticks);
  let now = 0;
  const track = events.flatMap(({ ticks, bytes }) => {
    const wait = ticks - now;
    now = ticks;
    return [...(wait > 127 ? [0x80 | (wait >> 7)] : []), wait & 0x7f, ...bytes];
  });
  // 500 ticks a quarter at 120 quarters a minute
  const body = [0, 0xff, 0x51, 3, 0x07, 0xa1, 0x20, ...track, 0, 0xff, 0x2f, 0];
  const head = Buffer.from([0x4d, 0x54, 0x68, 0x64, 0, 0, 0, 6, 0, 0, 0, 1, 500 >> 8, 500 & 0xff]);
  const chunk = Buffer.alloc(8);
  chunk.write('MTrk');
  chunk.writeUInt32BE(body.length, 4);
  return Buffer.concat([head, chunk, Buffer.from(body)]);
}
