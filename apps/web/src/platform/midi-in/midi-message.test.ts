import { expect, test } from 'vitest';
import { readMidiMessage } from './midi-message.ts';

// Source: MIDI 1.0 Detailed Specification, table 2 (from memory): status nibble 9 note on, 8 note off, B control change
test.each([
  [[0x90, 60, 100], { kind: 'note on', midi: 60, velocity: 100 }],
  [[0x9f, 0, 127], { kind: 'note on', midi: 0, velocity: 127 }],
  [[0x93, 60, 0], { kind: 'note off', midi: 60 }],
  [[0x80, 60, 64], { kind: 'note off', midi: 60 }],
  [[0xb0, 64, 127], { kind: 'controller', controller: 64, value: 127 }],
])('%j', (bytes, message) => {
  expect(readMidiMessage(Uint8Array.from(bytes))).toEqual(message);
});

test.each([[[0xf8]], [[]], [[0x90, 60]], [[0xe0, 0, 64]], [[0x90, 200, 100]], [[0xf0, 1, 2]], [[0x90, 60, 100, 1]]])(
  '%j is nothing for us',
  (bytes) => {
    expect(readMidiMessage(Uint8Array.from(bytes))).toBeUndefined();
  },
);
