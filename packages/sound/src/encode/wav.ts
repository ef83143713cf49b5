import type { SoundEncoder } from './encoder.ts';
import { interleaved, whole, type BitDepth } from './pcm.ts';
import { checkTags, joined, SOFTWARE, tagText, utf8, type SoundTags } from './tags.ts';

const SCALE_16 = 2 ** 15;

/** Most bytes of a RIFF file: its sizes have 32 bits. */
const MOST_BYTES = 2 ** 32 - 2 ** 16;

/**
 * A RIFF WAVE file: linear samples, then title (`LIST INFO`) and chapters (`cue ` with their names in `LIST adtl`).
 * Source: Microsoft, Multimedia Programming Interface 1.0 (1991), from memory; 24 bits as WAVE_FORMAT_EXTENSIBLE.
 */
export function wavEncoder(sampleRate: number, bits: BitDepth, tags: SoundTags): SoundEncoder {
  checkTags(tags);
  let dataBytes = 0;
  return {
    add: (left, right, frames) => {
      const bytes = bits === 16 ? bytesOf16(left, right, frames) : bytesOf24(interleaved(left, right, frames, bits));
      dataBytes += bytes.length;
      if (dataBytes > MOST_BYTES) throw new RangeError('sound must be shorter: a WAVE file holds 4 GB');
      return bytes;
    },
    finish: () => {
      const after = joined([
        list('INFO', [chunk('INAM', zeroEnded(tags.title)), chunk('ISFT', zeroEnded(SOFTWARE))]),
        ...cues(tags, sampleRate),
      ]);
      const format = formatOf(sampleRate, bits);
      // 12 bytes of RIFF header, 8 of the data chunk's; what follows the data has even length, as the data has
      const head = joined([
        utf8('RIFF'),
        uint32(4 + format.length + 8 + dataBytes + after.length),
        utf8('WAVE'),
        format,
        utf8('data'),
        uint32(dataBytes),
      ]);
      return { head, tail: after };
    },
  };
}

/** The lower byte first, whatever the machine. */
function bytesOf16(left: Float32Array, right: Float32Array, frames: number): Uint8Array {
  const bytes = new Uint8Array(frames * 4);
  for (let index = 0, at = 0; index < frames; index++, at += 4) {
    const [one, other] = [whole(left[index] as number, SCALE_16), whole(right[index] as number, SCALE_16)];
    bytes[at] = one;
    bytes[at + 1] = one >> 8;
    bytes[at + 2] = other;
    bytes[at + 3] = other >> 8;
  }
  return bytes;
}

function bytesOf24(samples: Int32Array): Uint8Array {
  const bytes = new Uint8Array(samples.length * 3);
  for (let index = 0; index < samples.length; index++) {
    const sample = samples[index] as number;
    bytes[index * 3] = sample;
    bytes[index * 3 + 1] = sample >> 8;
    bytes[index * 3 + 2] = sample >> 16;
  }
  return bytes;
}

const PCM = 1;
const EXTENSIBLE = 0xfffe;
/** KSDATAFORMAT_SUBTYPE_PCM after its first two bytes. */
const PCM_SUBTYPE = [0, 0, 0, 0, 0x10, 0, 0x80, 0, 0, 0xaa, 0, 0x38, 0x9b, 0x71];
const FRONT_LEFT_AND_RIGHT = 3;

function formatOf(sampleRate: number, bits: BitDepth): Uint8Array {
  const frameBytes = (bits / 8) * 2;
  const basic = (format: number): Uint8Array =>
    joined([
      uint16(format),
      uint16(2),
      uint32(sampleRate),
      uint32(sampleRate * frameBytes),
      uint16(frameBytes),
      uint16(bits),
    ]);
  if (bits === 16) return chunk('fmt ', basic(PCM));
  const extension = joined([
    uint16(22),
    uint16(bits),
    uint32(FRONT_LEFT_AND_RIGHT),
    uint16(PCM),
    Uint8Array.from(PCM_SUBTYPE),
  ]);
  return chunk('fmt ', joined([basic(EXTENSIBLE), extension]));
}

function cues({ chapters }: SoundTags, sampleRate: number): Uint8Array[] {
  if (chapters.length === 0) return [];
  const points = chapters.map(({ startSeconds }, index) => {
    const frame = uint32(Math.round(startSeconds * sampleRate));
    return joined([uint32(index + 1), frame, utf8('data'), uint32(0), uint32(0), frame]);
  });
  const labels = chapters.map(({ title }, index) => chunk('labl', joined([uint32(index + 1), zeroEnded(title)])));
  return [chunk('cue ', joined([uint32(chapters.length), ...points])), list('adtl', labels)];
}

const list = (kind: string, chunks: readonly Uint8Array[]): Uint8Array =>
  chunk('LIST', joined([utf8(kind), ...chunks]));

/** A chunk; its content is filled up to an even length, its size says the true one. */
function chunk(id: string, content: Uint8Array): Uint8Array {
  return joined([utf8(id), uint32(content.length), content, new Uint8Array(content.length % 2)]);
}

const zeroEnded = (text: string): Uint8Array => joined([utf8(tagText(text)), new Uint8Array(1)]);

const uint16 = (value: number): Uint8Array => Uint8Array.of(value & 0xff, value >>> 8);

const uint32 = (value: number): Uint8Array =>
  Uint8Array.of(value & 0xff, (value >>> 8) & 0xff, (value >>> 16) & 0xff, value >>> 24);
