import type { SoundEncoder } from './encoder.ts';
import { checkTags, joined, SOFTWARE, tagText, utf8, type SoundTags } from './tags.ts';

/** Constant bit rates that are offered, in kbit/s. */
export type Mp3Bitrate = 128 | 160 | 192 | 256 | 320;

/**
 * An MP3 file through LAME, at a constant bit rate so that every player knows its length. Title and chapters are ID3v2.4 frames
 * (id3.org: ID3v2.4.0; ID3v2 Chapter Frame Addendum 1.0, from memory). Decoders add about 25 ms of silence before the sound.
 * @param sampleRate 44100 or 48000
 * @param program the encoder's WebAssembly, where the host forbids it to fetch the one inside it
 */
export async function mp3Encoder(
  sampleRate: number,
  bitrate: Mp3Bitrate,
  tags: SoundTags,
  program?: Uint8Array,
): Promise<SoundEncoder> {
  checkTags(tags);
  const { createEncoder, createMp3Encoder } = await import('wasm-media-encoders');
  const encoder = program === undefined ? await createMp3Encoder() : await createEncoder('audio/mpeg', program);
  encoder.configure({ sampleRate, channels: 2, bitrate });
  let framesSoFar = 0;
  return {
    add: (left, right, frames) => {
      framesSoFar += frames;
      // The bytes belong to the encoder until the next call: keep a copy.
      return encoder.encode([left.subarray(0, frames), right.subarray(0, frames)]).slice();
    },
    finish: () => {
      const tail = encoder.finalize().slice();
      return { head: id3(tags, framesSoFar / sampleRate), tail };
    },
  };
}

const UTF8 = 3;
const TOP_LEVEL_AND_ORDERED = 0b11;
/** The addendum's value for 'no byte offset: use the time'. */
const NO_OFFSET = 0xffffffff;

function id3(tags: SoundTags, endSeconds: number): Uint8Array {
  const frames = [text('TIT2', tags.title), text('TSSE', SOFTWARE)];
  const ids = tags.chapters.map((_, index) => joined([utf8(`chapter${index + 1}`), new Uint8Array(1)]));
  if (ids.length > 0) {
    if (ids.length > 255) throw new RangeError(`chapters must be at most 255 in an MP3, not ${ids.length}`);
    const contents = joined([utf8('contents'), Uint8Array.of(0, TOP_LEVEL_AND_ORDERED, ids.length), ...ids]);
    frames.push(frame('CTOC', contents));
  }
  for (const [index, { startSeconds, title }] of tags.chapters.entries()) {
    const end = tags.chapters[index + 1]?.startSeconds ?? endSeconds;
    frames.push(
      frame(
        'CHAP',
        joined([
          ids[index] as Uint8Array,
          uint32(Math.round(startSeconds * 1000)),
          uint32(Math.round(end * 1000)),
          uint32(NO_OFFSET),
          uint32(NO_OFFSET),
          text('TIT2', title),
        ]),
      ),
    );
  }
  const content = joined(frames);
  return joined([utf8('ID3'), Uint8Array.of(4, 0, 0), synchsafe(content.length), content]);
}

const text = (id: string, value: string): Uint8Array => frame(id, joined([Uint8Array.of(UTF8), utf8(tagText(value))]));

const frame = (id: string, content: Uint8Array): Uint8Array =>
  joined([utf8(id), synchsafe(content.length), new Uint8Array(2), content]);

/** Four bytes of seven bits, so that no tag looks like the start of sound. */
const synchsafe = (value: number): Uint8Array =>
  Uint8Array.of((value >>> 21) & 0x7f, (value >>> 14) & 0x7f, (value >>> 7) & 0x7f, value & 0x7f);

const uint32 = (value: number): Uint8Array =>
  Uint8Array.of(value >>> 24, (value >>> 16) & 0xff, (value >>> 8) & 0xff, value & 0xff);
