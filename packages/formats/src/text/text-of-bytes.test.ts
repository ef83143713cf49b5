import { expect, test } from 'vitest';
import { textOfBytes } from './text-of-bytes.ts';

test('bytes are read as UTF-8 or, with its mark, UTF-16; neither is null', () => {
  expect(textOfBytes(new TextEncoder().encode('\uFEFFB♭'))).toBe('B♭');
  expect(textOfBytes(new Uint8Array([0xff, 0xfe, 0x42, 0x00, 0x6d, 0x26]))).toBe('B♭');
  expect(textOfBytes(new Uint8Array([0xfe, 0xff, 0x00, 0x42, 0x26, 0x6d]))).toBe('B♭');
  expect(textOfBytes(new Uint8Array([0x42, 0x00, 0x6d, 0x26]))).toBeNull();
  expect(textOfBytes(new Uint8Array([0xe9, 0x41]))).toBeNull();
});
