import { describe, expect, test } from 'vitest';
import { readTake, writeTake } from './take-document.ts';
import type { Take } from './take.ts';

const take: Take = {
  engine: 4,
  lesson: 'a-lesson',
  edition: 2,
  document: '{"version":3}',
  programme: { tempoBpm: 132, key: 'Eb major', countInBars: 2, isToClick: true },
  barOneMicros: 3_636_363,
  delayMs: 12.5,
  notes: [
    { startMicros: 10, durationMicros: 200_000, key: 60, velocity: 64, channel: 0 },
    { startMicros: 500_000, durationMicros: 1, key: 127, velocity: 127, channel: 15 },
  ],
  pedals: [{ atMicros: 3, value: 127, channel: 0 }],
};

const codeOf = (text: string): string => {
  const read = readTake(text);
  return read.ok ? 'fine' : (read.issues[0]?.code ?? '');
};

describe('a kept take', () => {
  test('is read as it was written, byte for byte', () => {
    const read = readTake(writeTake(take));
    expect(read).toEqual({ ok: true, value: take, warnings: [] });
    expect(read.ok && writeTake(read.value)).toBe(writeTake(take));
  });

  test('of a newer program, damaged, or with anything out of bounds: told, never thrown', () => {
    const text = writeTake(take);
    expect(codeOf(text.replace('"version":1', '"version":2'))).toBe('take.newer');
    for (const [from, to] of [
      ['"version":1', '"version":"1"'],
      ['127,127,15', '128,127,15'],
      ['127,127,15', '127,0,15'],
      ['127,127,15', '127,127,16'],
      ['500000,1', '500000,-1'],
      ['500000,1', '5e99,1'],
      ['132', '1e9'],
      ['"delayMs":12.5', '"delayMs":null'],
      ['"pedals"', '"padels"'],
      ['{"version', '{"more":1,"version'],
    ] as const) {
      expect(text).toContain(from);
      expect(codeOf(text.replace(from, to)), to).toBe('take.damaged');
    }
    for (let length = 0; length < text.length; length += 7) expect(codeOf(text.slice(0, length))).toBe('take.damaged');
    expect(codeOf('[]')).toBe('take.damaged');
    expect(codeOf('x'.repeat(13_000_000))).toBe('take.too-long');
  });
});
