/** A schedule as a Standard MIDI File, to be played by another synthesizer: format 0, half a millisecond to the tick. */
import { instrumentOf } from '@fivespan/sound/bank';
import type { Schedule } from '@fivespan/sound/engine';

const TICKS_A_SECOND = 1920;
const DRUM_CHANNEL = 9;

export function scheduleMidi({ players, events }: Schedule): Uint8Array {
  let melodic = 0;
  const channels = players.map(({ instrument }) => (instrumentOf(instrument).isKit ? DRUM_CHANNEL : melodic++));
  const messages: { tick: number; isOn: boolean; bytes: number[] }[] = [];
  for (const { startSeconds, durationSeconds, midi, velocity, player } of events) {
    const channel = channels[player] as number;
    const tick = (seconds: number): number => Math.round(seconds * TICKS_A_SECOND);
    messages.push({ tick: tick(startSeconds), isOn: true, bytes: [0x90 | channel, midi, velocity] });
    messages.push({ tick: tick(startSeconds + durationSeconds), isOn: false, bytes: [0x80 | channel, midi, 0] });
  }
  messages.sort((a, b) => a.tick - b.tick || Number(a.isOn) - Number(b.isOn));
  const track = [0, 0xff, 0x51, 3, 0x07, 0xa1, 0x20];
  for (const [index, { instrument }] of players.entries()) {
    track.push(0, 0xc0 | (channels[index] as number), instrumentOf(instrument).program);
  }
  let last = 0;
  for (const { tick, bytes } of messages) {
    track.push(...variableLength(tick - last), ...bytes);
    last = tick;
  }
  track.push(0, 0xff, 0x2f, 0);
  const header = [
    0x4d,
    0x54,
    0x68,
    0x64,
    0,
    0,
    0,
    6,
    0,
    0,
    0,
    1,
    (TICKS_A_SECOND / 2) >> 8,
    (TICKS_A_SECOND / 2) & 0xff,
  ];
  const size = track.length;
  return Uint8Array.from([
    ...header,
    0x4d,
    0x54,
    0x72,
    0x6b,
    size >>> 24,
    (size >>> 16) & 0xff,
    (size >>> 8) & 0xff,
    size & 0xff,
    ...track,
  ]);
}

function variableLength(value: number): number[] {
  const bytes = [value & 0x7f];
  for (let rest = value >>> 7; rest > 0; rest >>>= 7) bytes.unshift((rest & 0x7f) | 0x80);
  return bytes;
}
