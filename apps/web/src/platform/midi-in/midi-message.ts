/** What a keyboard or pedal says, as far as it is used here. Channels are not distinguished. */
export type MidiMessage =
  | { readonly kind: 'note on'; readonly midi: number; readonly velocity: number }
  | { readonly kind: 'note off'; readonly midi: number }
  | { readonly kind: 'controller'; readonly controller: number; readonly value: number };

const NOTE_OFF = 0x80;
const NOTE_ON = 0x90;
const CONTROL_CHANGE = 0xb0;

/**
 * Reads a message. Source: MIDI 1.0 Detailed Specification, table 2 (channel voice messages); a note on of velocity 0 is a note off.
 * @returns undefined for anything else: clocks, aftertouch, what is damaged
 * @example readMidiMessage([0x90, 60, 100]) // → { kind: 'note on', midi: 60, velocity: 100 }
 */
export function readMidiMessage(bytes: ArrayLike<number>): MidiMessage | undefined {
  const [status = 0, first = 128, second = 128] = Array.from(bytes);
  if (bytes.length !== 3 || first > 127 || second > 127) return undefined;
  switch (status & 0xf0) {
    case NOTE_ON:
      return second === 0 ? { kind: 'note off', midi: first } : { kind: 'note on', midi: first, velocity: second };
    case NOTE_OFF:
      return { kind: 'note off', midi: first };
    case CONTROL_CHANGE:
      return { kind: 'controller', controller: first, value: second };
    default:
      return undefined;
  }
}
