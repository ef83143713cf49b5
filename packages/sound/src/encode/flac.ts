import type { SoundEncoder } from './encoder.ts';
import { interleaved, type BitDepth } from './pcm.ts';
import { checkTags, joined, SOFTWARE, tagText, utf8, type SoundTags } from './tags.ts';

/** The reference encoder's default compression. */
const COMPRESSION = 5;

/** Frames handed over at once: what a browser's stack and the encoder's heap take easily. */
const MOST_FRAMES = 8192;

const STREAMINFO = 0;
const VORBIS_COMMENT = 4;
const LAST_BLOCK = 0x80;
/** Bytes of "fLaC" and of the STREAMINFO block with its header. */
const MARKER_BYTES = 4;
const STREAMINFO_BYTES = 4 + 34;

/**
 * A FLAC file (RFC 9639) through libFLAC: without loss. Title and chapters are Vorbis comments; chapters as CHAPTERnnn and
 * CHAPTERnnnNAME (common practice).
 */
export async function flacEncoder(sampleRate: number, bits: BitDepth, tags: SoundTags): Promise<SoundEncoder> {
  checkTags(tags);
  const { default: flac } = await import('libflacjs/dist/libflac.min.js');
  if (!flac.isReady()) await new Promise<void>((resolve) => flac.on('ready', () => resolve()));
  const encoder = flac.create_libflac_encoder(sampleRate, 2, bits, COMPRESSION, 0, false, 0);
  if (encoder === 0)
    throw new RangeError(`sampleRate and bits must be what FLAC can hold, not ${sampleRate} and ${bits}`);
  let waiting: Uint8Array[] = [];
  let info: { min_framesize: number; max_framesize: number; total_samples: number; md5sum: string } | undefined;
  const begun = flac.init_encoder_stream(
    encoder,
    (data) => {
      waiting.push(data.slice());
    },
    (metadata) => {
      info = metadata;
    },
  );
  if (begun !== 0) throw new Error(`libFLAC refused to begin: ${begun}`);
  let head: Uint8Array | undefined;
  const taken = (): Uint8Array => {
    const bytes = joined(waiting);
    waiting = [];
    if (head !== undefined) return bytes;
    const start = audioStart(bytes);
    head = bytes.slice(MARKER_BYTES, MARKER_BYTES + STREAMINFO_BYTES);
    return bytes.subarray(start);
  };
  return {
    add: (left, right, frames) => {
      for (let at = 0; at < frames; at += MOST_FRAMES) {
        const run = Math.min(MOST_FRAMES, frames - at);
        const samples = interleaved(left.subarray(at, at + run), right.subarray(at, at + run), run, bits);
        if (!flac.FLAC__stream_encoder_process_interleaved(encoder, samples, run)) {
          throw new Error('libFLAC could not encode');
        }
      }
      return taken();
    },
    finish: () => {
      const ended = flac.FLAC__stream_encoder_finish(encoder);
      flac.FLAC__stream_encoder_delete(encoder);
      const tail = taken();
      if (!ended || head === undefined || info === undefined) throw new Error('libFLAC could not finish');
      const streamInfo = withTotals(head, info);
      streamInfo[0] = STREAMINFO;
      return { head: joined([utf8('fLaC'), streamInfo, comments(tags)]), tail };
    },
  };
}

/** Where the metadata end that libFLAC wrote. */
function audioStart(bytes: Uint8Array): number {
  let at = MARKER_BYTES;
  for (;;) {
    const header = bytes[at] as number;
    const length = ((bytes[at + 1] as number) << 16) | ((bytes[at + 2] as number) << 8) | (bytes[at + 3] as number);
    at += 4 + length;
    if ((header & LAST_BLOCK) !== 0) return at;
  }
}

/** STREAMINFO with what is known only at the end: frame sizes, number of samples, checksum (RFC 9639, section 8.2). */
function withTotals(
  block: Uint8Array,
  info: { min_framesize: number; max_framesize: number; total_samples: number; md5sum: string },
): Uint8Array {
  const out = block.slice();
  const put = (at: number, value: number, bytes: number): void => {
    for (let index = 0; index < bytes; index++)
      out[at + index] = Math.floor(value / 2 ** (8 * (bytes - 1 - index))) & 0xff;
  };
  put(4 + 4, info.min_framesize, 3);
  put(4 + 7, info.max_framesize, 3);
  // 36 bits: the upper four share a byte with the bit depth
  out[4 + 13] = ((out[4 + 13] as number) & 0xf0) | (Math.floor(info.total_samples / 2 ** 32) & 0x0f);
  put(4 + 14, info.total_samples % 2 ** 32, 4);
  for (let index = 0; index < 16; index++)
    out[4 + 18 + index] = parseInt(info.md5sum.slice(index * 2, index * 2 + 2), 16);
  return out;
}

function comments({ title, chapters }: SoundTags): Uint8Array {
  const fields = [`TITLE=${tagText(title)}`, `ENCODER=${SOFTWARE}`];
  for (const [index, chapter] of chapters.entries()) {
    const name = `CHAPTER${String(index + 1).padStart(3, '0')}`;
    fields.push(`${name}=${clock(chapter.startSeconds)}`, `${name}NAME=${tagText(chapter.title)}`);
  }
  const text = (value: string): Uint8Array => {
    const bytes = utf8(value);
    return joined([littleEndian(bytes.length), bytes]);
  };
  const content = joined([text(SOFTWARE), littleEndian(fields.length), ...fields.map(text)]);
  const size = content.length;
  return joined([Uint8Array.of(VORBIS_COMMENT | LAST_BLOCK, size >>> 16, (size >>> 8) & 0xff, size & 0xff), content]);
}

const littleEndian = (value: number): Uint8Array =>
  Uint8Array.of(value & 0xff, (value >>> 8) & 0xff, (value >>> 16) & 0xff, value >>> 24);

/** Hours, minutes, seconds: 00:01:29.090. */
function clock(seconds: number): string {
  const milliseconds = Math.round(seconds * 1000);
  const two = (value: number): string => String(value).padStart(2, '0');
  const whole = Math.floor(milliseconds / 1000);
  return `${two(Math.floor(whole / 3600))}:${two(Math.floor(whole / 60) % 60)}:${two(whole % 60)}.${String(milliseconds % 1000).padStart(3, '0')}`;
}
