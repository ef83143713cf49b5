/** Recordings as checks need them: a tone in words, as a WAV file. */

const RATE = 44_100;

/** A tone of 2 kHz in bursts like words, as loud as a quiet voice, 16 bits. */
export function spokenTone({
  words,
  wordSeconds,
  pauseSeconds,
}: {
  readonly words: number;
  readonly wordSeconds: number;
  readonly pauseSeconds: number;
}): Int16Array {
  const whole = wordSeconds + pauseSeconds;
  return Int16Array.from({ length: Math.round(words * whole * RATE) }, (_, at) =>
    (at / RATE) % whole < wordSeconds ? 3000 * Math.sin((2 * Math.PI * 2000 * at) / RATE) : 0,
  );
}

/** One channel as a WAV file. Source: Multimedia Programming Interface and Data Specifications 1.0, from memory. */
export function wavOf(samples: Int16Array): Buffer {
  const head = Buffer.alloc(44);
  head.write('RIFF');
  head.writeUInt32LE(36 + samples.byteLength, 4);
  head.write('WAVEfmt ', 8);
  head.writeUInt32LE(16, 16);
  head.writeUInt16LE(1, 20);
  head.writeUInt16LE(1, 22);
  head.writeUInt32LE(RATE, 24);
  head.writeUInt32LE(RATE * 2, 28);
  head.writeUInt16LE(2, 32);
  head.writeUInt16LE(16, 34);
  head.write('data', 36);
  head.writeUInt32LE(samples.byteLength, 40);
  return Buffer.concat([head, Buffer.from(samples.buffer, samples.byteOffset, samples.byteLength)]);
}
