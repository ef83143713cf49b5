/**
 * Sources: the formats' own standards, read here by separate small readers: RIFF WAVE (Microsoft 1991), FLAC (RFC 9639, decoded by
 * libFLAC's decoder), ID3v2.4 with its Chapter Frame Addendum and MPEG-1 frame headers
 * (ISO/IEC 11172-3). All from memory; loudness after BS.1770 by our meter, which has its own check.
 */
import { createHash } from 'node:crypto';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import {
  LoudnessMeter,
  soundFile,
  TARGET_LUFS,
  type Keeping,
  type ScratchFile,
  type SoundFile,
  type SoundFormat,
  type SoundTags,
} from '@fivespan/sound/encode';
import { NoteStore, type Schedule } from '@fivespan/sound/engine';
import { beforeAll, describe, expect, test } from 'vitest';
import { testBank } from '../sound-bank.ts';
import { trioSchedule } from '../trio-schedule.ts';

/** What we use of libFLAC's decoder. */
interface FlacDecoder {
  create_libflac_decoder(verify: boolean): number;
  init_decoder_stream(
    decoder: number,
    read: (wanted: number) => { buffer: Uint8Array; readDataLength: number; error: boolean },
    write: (channels: readonly Uint8Array[]) => void,
    error: (code: number, description: string) => void,
    metadata: (streamInfo: { total_samples: number; sampleRate: number } | undefined) => void,
  ): number;
  FLAC__stream_decoder_process_until_end_of_stream(decoder: number): number;
  /** 1 where the samples' checksum was right. */
  FLAC__stream_decoder_finish(decoder: number): number;
  FLAC__stream_decoder_delete(decoder: number): void;
}

/** The decoder comes with the encoder's package: found from the workspace that has it. */
const flac = createRequire(join(import.meta.dirname, '../..', 'packages', 'sound', 'package.json'))(
  'libflacjs/dist/libflac.min.js',
) as FlacDecoder;

const RATE = 44_100;
const TAGS: SoundTags = {
  title: 'Practice in E♭',
  chapters: [
    { startSeconds: 0, title: 'E♭ major' },
    { startSeconds: 1.5, title: 'A♭ major, second time' },
  ],
};

let store: NoteStore;
let schedule: Schedule;

beforeAll(async () => {
  store = new NoteStore(await testBank(), RATE);
  const { players, events } = trioSchedule(1, 9);
  schedule = { players, events: events.filter(({ startSeconds }) => startSeconds < 5), endSeconds: 5 };
});

async function fileOf(format: SoundFormat, piece = schedule): Promise<SoundFile & { bytes: Buffer }> {
  const file = await soundFile(store, piece, format, TAGS);
  if (file === undefined) throw new Error('cancelled');
  return { ...file, bytes: Buffer.concat(file.parts) };
}

/** A RIFF file's chunks: name and content. */
function chunksOf(bytes: Buffer, from = 12, to = bytes.length): Map<string, Buffer> {
  const chunks = new Map<string, Buffer>();
  for (let at = from; at + 8 <= to;) {
    const size = bytes.readUInt32LE(at + 4);
    const id = bytes.toString('latin1', at, at + 4);
    const content = bytes.subarray(at + 8, at + 8 + size);
    chunks.set(id === 'LIST' ? `LIST ${content.toString('latin1', 0, 4)}` : id, content);
    at += 8 + size + (size % 2);
  }
  return chunks;
}

/** The samples of a WAVE file as whole numbers, left and right in turn. */
function wavSamples(bytes: Buffer, bits: number): number[] {
  const data = chunksOf(bytes).get('data') ?? Buffer.alloc(0);
  const width = bits / 8;
  return Array.from({ length: data.length / width }, (_, index) => data.readIntLE(index * width, width));
}

describe.each([16, 24] as const)('WAVE, %d bits', (bits) => {
  test('header, samples, title and chapters are where the standard has them', async () => {
    const file = await fileOf({ kind: 'wav', bits });
    const { bytes } = file;
    expect(bytes.toString('latin1', 0, 4) + bytes.toString('latin1', 8, 12)).toBe('RIFFWAVE');
    expect(bytes.readUInt32LE(4)).toBe(bytes.length - 8);
    const chunks = chunksOf(bytes);
    const format = chunks.get('fmt ') ?? Buffer.alloc(0);
    expect(format.readUInt16LE(0)).toBe(bits === 16 ? 1 : 0xfffe);
    expect([
      format.readUInt16LE(2),
      format.readUInt32LE(4),
      format.readUInt32LE(8),
      format.readUInt16LE(12),
      format.readUInt16LE(14),
    ]).toEqual([2, RATE, (RATE * 2 * bits) / 8, (2 * bits) / 8, bits]);
    expect(chunks.get('data')?.length).toBe(Math.round(file.seconds * RATE) * ((2 * bits) / 8));
    const info = chunksOf(chunks.get('LIST INFO') ?? Buffer.alloc(0), 4);
    expect(info.get('INAM')?.toString('utf8')).toBe('Practice in E♭\0');
    const cue = chunks.get('cue ') ?? Buffer.alloc(0);
    expect(cue.readUInt32LE(0)).toBe(2);
    expect(cue.readUInt32LE(4 + 24 + 20)).toBe(1.5 * RATE);
    expect((chunks.get('LIST adtl') ?? Buffer.alloc(0)).toString('utf8')).toContain('A♭ major, second time');
  });

  test('FLAC holds the very same samples, and its checksum is right', async () => {
    const samples = wavSamples((await fileOf({ kind: 'wav', bits })).bytes, bits);
    const { bytes } = await fileOf({ kind: 'flac', bits });
    const decoded = decodedFlac(bytes, bits);
    expect(decoded.samples.length).toBe(samples.length);
    expect(decoded.samples.every((sample, index) => sample === samples[index])).toBe(true);
    expect(decoded).toMatchObject({ ended: true, total: samples.length / 2, rate: RATE });
    // STREAMINFO ends with the MD5 of the samples as they lie in a WAVE file (RFC 9639, section 8.2)
    const data = chunksOf((await fileOf({ kind: 'wav', bits })).bytes).get('data') ?? Buffer.alloc(0);
    expect(bytes.toString('hex', 26, 42)).toBe(createHash('md5').update(data).digest('hex'));
    const text = bytes.toString('utf8', 0, 1000);
    expect(text).toContain('TITLE=Practice in E♭');
    expect(text).toContain('CHAPTER002=00:00:01.500');
    expect(text).toContain('CHAPTER002NAME=A♭ major, second time');
  });
});

function decodedFlac(bytes: Buffer, bits: number): { samples: number[]; ended: boolean; total: number; rate: number } {
  const decoder = flac.create_libflac_decoder(true);
  const samples: number[] = [];
  let at = 0;
  let total = 0;
  let rate = 0;
  // libFLAC's JavaScript hands 24-bit samples over in four bytes
  const width = bits === 24 ? 4 : 2;
  flac.init_decoder_stream(
    decoder,
    (wanted) => {
      const chunk = new Uint8Array(bytes.subarray(at, Math.min(bytes.length, at + wanted)));
      at += chunk.length;
      return { buffer: chunk, readDataLength: chunk.length, error: false };
    },
    ([left, right]) => {
      const sides = [Buffer.from(left ?? []), Buffer.from(right ?? [])] as const;
      for (let frame = 0; frame < sides[0].length / width; frame++) {
        for (const side of sides) samples.push(side.readIntLE(frame * width, width));
      }
    },
    (code, description) => {
      throw new Error(`libFLAC: ${code} ${description}`);
    },
    (metadata) => {
      total = metadata?.total_samples ?? 0;
      rate = metadata?.sampleRate ?? 0;
    },
  );
  flac.FLAC__stream_decoder_process_until_end_of_stream(decoder);
  const ended = flac.FLAC__stream_decoder_finish(decoder) === 1;
  flac.FLAC__stream_decoder_delete(decoder);
  return { samples, ended, total, rate };
}

describe('MP3', () => {
  const synchsafe = (bytes: Buffer, at: number): number =>
    [0, 1, 2, 3].reduce((value, index) => (value << 7) | (bytes[at + index] ?? 0), 0);

  test('an ID3v2.4 tag with title and chapters, then frames without a gap to the end, as long as the sound', async () => {
    const { bytes, seconds } = await fileOf({ kind: 'mp3', bitrate: 192 });
    expect(bytes.toString('latin1', 0, 3)).toBe('ID3');
    expect(bytes[3]).toBe(4);
    const tagEnd = 10 + synchsafe(bytes, 6);
    const frames: [string, Buffer][] = [];
    for (let at = 10; at < tagEnd;) {
      const size = synchsafe(bytes, at + 4);
      frames.push([bytes.toString('latin1', at, at + 4), bytes.subarray(at + 10, at + 10 + size)]);
      at += 10 + size;
    }
    expect(frames.map(([id]) => id)).toEqual(['TIT2', 'TSSE', 'CTOC', 'CHAP', 'CHAP']);
    expect(frames[0]?.[1].toString('utf8', 1)).toBe('Practice in E♭');
    const chapter = frames[4]?.[1] ?? Buffer.alloc(0);
    const afterId = chapter.indexOf(0) + 1;
    expect([chapter.readUInt32BE(afterId), chapter.readUInt32BE(afterId + 4)]).toEqual([
      1500,
      Math.round(seconds * 1000),
    ]);
    expect(chapter.toString('utf8')).toContain('A♭ major, second time');

    let count = 0;
    let at = tagEnd;
    while (at < bytes.length) {
      // 11 bits of sync, MPEG-1, layer III
      expect((bytes.readUInt16BE(at) & 0xfffe) === 0xfffa, `frame ${count} begins`).toBe(true);
      expect((bytes[at + 2] ?? 0) >> 2).toBe((0b1011 << 2) | 0b00); // 192 kbit/s, 44.1 kHz
      const padding = ((bytes[at + 2] ?? 0) >> 1) & 1;
      at += Math.floor((144 * 192_000) / RATE) + padding;
      count++;
    }
    expect(at).toBe(bytes.length);
    const length = (count * 1152) / RATE;
    expect(length).toBeGreaterThanOrEqual(seconds);
    expect(length).toBeLessThan(seconds + 0.1);
  });
});

describe('every file', () => {
  test('is as loud as every other, nothing clips, and ends in silence', async () => {
    const soft: Schedule = {
      ...schedule,
      events: schedule.events.map((event) => ({ ...event, velocity: Math.max(1, event.velocity - 30) })),
    };
    const bassAlone: Schedule = { ...schedule, events: schedule.events.filter(({ player }) => player === 1) };
    for (const piece of [schedule, soft, bassAlone]) {
      const { bytes } = await fileOf({ kind: 'wav', bits: 24 }, piece);
      const samples = wavSamples(bytes, 24);
      const left = Float32Array.from({ length: samples.length / 2 }, (_, frame) => (samples[frame * 2] ?? 0) / 2 ** 23);
      const right = Float32Array.from(
        { length: samples.length / 2 },
        (_, frame) => (samples[frame * 2 + 1] ?? 0) / 2 ** 23,
      );
      const meter = new LoudnessMeter(RATE);
      meter.add(left, right, left.length);
      // the limiter takes a little from what it limits
      expect(Math.abs((meter.integratedLufs ?? 0) - TARGET_LUFS)).toBeLessThan(0.7);
      expect(meter.peak).toBeLessThanOrEqual(10 ** (-1.5 / 20) + 2 ** -22);
      // −90 dB at the end: no cut
      expect(Math.max(...left.slice(-64).map(Math.abs))).toBeLessThan(3.2e-5);
    }
  });

  test('silence stays silence and is no error', async () => {
    const { bytes, playedLufs, gain } = await fileOf(
      { kind: 'wav', bits: 16 },
      { ...schedule, events: [], endSeconds: 1 },
    );
    expect([playedLufs, gain]).toEqual([undefined, 1]);
    expect(wavSamples(bytes, 16)).toEqual(Array.from({ length: 2 * RATE }, () => 0));
  });

  test('has the same bytes again', async () => {
    const once = await fileOf({ kind: 'flac', bits: 16 });
    expect((await fileOf({ kind: 'flac', bits: 16 })).bytes.equals(once.bytes)).toBe(true);
  });

  /** A scratch file as the command line has it, with room for so many samples. */
  function scratchWith(room: number): ScratchFile & { readonly reads: number } {
    const kept: Float32Array[] = [];
    let size = 0;
    const file = {
      reads: 0,
      write: (samples: Float32Array) => {
        kept.push(samples.slice());
        return (size += samples.length) <= room;
      },
      read: (into: Float32Array) => {
        into.set(kept.shift() ?? []);
        file.reads++;
      },
    };
    return file;
  }

  test('is the same wherever the piece waits between measuring and writing: memory, a scratch file, a full one, nowhere', async () => {
    const short = { ...schedule, endSeconds: 1 };
    const [roomy, full] = [scratchWith(Infinity), scratchWith(30_000)];
    const made = async (keeping: Keeping): Promise<string> => {
      const file = await soundFile(store, short, { kind: 'wav', bits: 16 }, TAGS, {}, undefined, keeping);
      return createHash('sha256')
        .update(Buffer.concat(file?.parts ?? []))
        .digest('hex');
    };
    const inMemory = await made({ inMemorySeconds: 1, scratch: roomy });
    expect(roomy.reads).toBe(0);
    expect(await made({ inMemorySeconds: 0.99, scratch: roomy })).toBe(inMemory);
    expect(roomy.reads).toBeGreaterThan(0);
    expect(await made({ inMemorySeconds: 0, scratch: full })).toBe(inMemory);
    expect(full.reads).toBe(0);
    expect(await made({ inMemorySeconds: 0 })).toBe(inMemory);
  });

  test('a loop has exactly its frames and is not limited', async () => {
    const file = await soundFile(store, { ...schedule, endSeconds: 3 }, { kind: 'wav', bits: 16 }, TAGS, {
      isLoop: true,
    });
    expect(file?.seconds).toBe(3);
    expect(file?.limiterGain).toBe(1);
  });

  test('can be cancelled, also in the second pass', async () => {
    let reached = 0;
    const file = await soundFile(
      store,
      schedule,
      { kind: 'mp3', bitrate: 192 },
      TAGS,
      {},
      {
        report: (done, total) => {
          reached = done / total;
        },
        cancelled: () => reached > 0.7,
      },
    );
    expect(file).toBeUndefined();
    expect(reached).toBeLessThan(0.9);
  });

  test('chapters out of order are refused by name', async () => {
    const chapters = [
      { startSeconds: 2, title: 'b' },
      { startSeconds: 1, title: 'a' },
    ];
    await expect(soundFile(store, schedule, { kind: 'wav', bits: 16 }, { title: '', chapters })).rejects.toThrow(
      /^startSeconds /u,
    );
  });
});
