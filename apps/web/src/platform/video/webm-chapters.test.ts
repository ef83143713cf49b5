import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { EncodedPacket, EncodedVideoPacketSource, Output, StreamTarget, WebMOutputFormat } from 'mediabunny';
import { describe, expect, it } from 'vitest';
import { CHAPTERS_TAG, roomForChapters, withWebmChapters } from './webm-chapters.ts';
import type { VideoChapter } from './mp4-chapters.ts';

const NO_FFPROBE = !existsSync('/usr/bin/ffprobe');

/** A WebM of packets that no one decodes, written as films are, with chapters put in as they go by. */
async function filmWith(chapters: readonly VideoChapter[]): Promise<Uint8Array> {
  let file = new Uint8Array(0);
  const target = new StreamTarget(
    new WritableStream({
      write: ({ data, position }: { data: Uint8Array<ArrayBuffer>; position: number }) => {
        const bytes = withWebmChapters(data, position, chapters);
        expect(bytes.length).toBe(data.length);
        if (file.length < position + bytes.length) {
          const longer = new Uint8Array(position + bytes.length);
          longer.set(file);
          file = longer;
        }
        file.set(bytes, position);
      },
    }),
    { chunked: true, chunkSize: 2 ** 16 },
  );
  const output = new Output({ format: new WebMOutputFormat(), target });
  output.setMetadataTags({ raw: { [CHAPTERS_TAG]: roomForChapters(chapters) } });
  const source = new EncodedVideoPacketSource('vp9');
  output.addVideoTrack(source, { frameRate: 30 });
  await output.start();
  const decoderConfig = { codec: 'vp09.00.31.08', codedWidth: 64, codedHeight: 36 };
  for (let frame = 0; frame < 300; frame++) {
    const bytes = new Uint8Array(900).fill(frame);
    const packet = new EncodedPacket(bytes, frame % 60 === 0 ? 'key' : 'delta', frame / 30, 1 / 30);
    await source.add(packet, { decoderConfig });
  }
  await output.finalize();
  return file;
}

/** Chapters as Debian's ffprobe reads them. */
function probed(bytes: Uint8Array): { readonly start: number; readonly title: string }[] {
  const folder = mkdtempSync(join(tmpdir(), 'fivespan-webm-'));
  try {
    const file = join(folder, 'film.webm');
    writeFileSync(file, bytes);
    const asked = ['-v', 'error', '-show_chapters', '-show_packets', '-of', 'json', file];
    const { chapters, packets } = JSON.parse(execFileSync('ffprobe', asked, { maxBuffer: 1e8 }).toString()) as {
      chapters: { start_time: string; tags: { title: string } }[];
      packets: unknown[];
    };
    expect(packets).toHaveLength(300);
    return chapters.map(({ start_time, tags }) => ({ start: Number(start_time), title: tags.title }));
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

describe.skipIf(NO_FFPROBE)('chapters of a WebM', () => {
  it.each([
    [1, 'one'],
    [6, 'some, with letters of several bytes: E♭ major'],
    [60, 'as many as a film has scenes'],
  ])('are read by ffprobe with all packets in their places: %i', async (count, title) => {
    const chapters = Array.from({ length: count }, (_, index) => ({
      startSeconds: index * 0.15,
      title: `${title} ${index + 1}`,
    }));
    const found = probed(await filmWith(chapters));
    expect(found).toEqual(
      chapters.map(({ startSeconds, title: own }) => ({
        start: expect.closeTo(startSeconds, 6) as number,
        title: own,
      })),
    );
  });
});
