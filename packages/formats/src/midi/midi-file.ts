import {
  beatTicksOf,
  signatureOf,
  stavesOf,
  TICKS_PER_QUARTER,
  type Performance,
  type PlayedPart,
  type Score,
} from '@fivespan/core';
import { writeMidi as writeBytes, type MidiEvent } from 'midi-file';
import {
  bytesAsText,
  inRange,
  LARGEST_DELTA,
  microsecondsAQuarter,
  timeSignature,
  trackOf,
  type TimedEvent,
} from './timed-event.ts';

/** The players whose notes are in the file: the piano's, one chorus. A study is an exercise beside it. */
const TRACKS = stavesOf('piano').map((player, channel) => ({
  player,
  name: `${player.slice(0, 1).toUpperCase()}${player.slice(1)}`,
  channel,
}));

/** Acoustic grand piano, General MIDI program 1 counted from one. */
const GRAND_PIANO = 0;

function quartersAMinute(score: Score): number {
  return (score.tempoBpm * beatTicksOf(score.meter)) / TICKS_PER_QUARTER;
}

/** What describes the music: tempo, metres, keys, section markers. A pickup is a short bar of its own metre. */
function conductorEvents(score: Score, start: number): TimedEvent[] {
  const events: TimedEvent[] = [];
  const add = (ticks: number, event: MidiEvent): number => events.push({ ticks: ticks - start, rank: 0, event });
  const tempo = microsecondsAQuarter(quartersAMinute(score));
  add(start, { deltaTime: 0, type: 'trackName', text: bytesAsText(score.title) });
  add(start, { deltaTime: 0, type: 'setTempo', microsecondsPerBeat: tempo });
  let meter = '';
  let key = '';
  for (const bar of score.bars) {
    const beats = (bar.durationTicks * bar.meter.unit) / (TICKS_PER_QUARTER * 4);
    const ownMeter = bar.isPickup && Number.isInteger(beats) ? { count: beats, unit: bar.meter.unit } : bar.meter;
    const meterText = `${ownMeter.count}/${ownMeter.unit}`;
    if (meterText !== meter) add(bar.startTicks, timeSignature(ownMeter));
    meter = meterText;
    const signature = inRange('key signature', signatureOf(bar.key), -7, 7);
    const keyText = `${signature} ${bar.key.mode}`;
    const scale = bar.key.mode === 'major' ? 0 : 1;
    if (keyText !== key) add(bar.startTicks, { deltaTime: 0, type: 'keySignature', key: signature, scale });
    key = keyText;
    if (bar.section !== null) {
      add(bar.startTicks, { deltaTime: 0, type: 'marker', text: bytesAsText(bar.section) });
    }
  }
  return events;
}

function noteEvents(score: Score, part: PlayedPart, channel: number, lengthTicks: number): TimedEvent[] {
  const ticksOf = (seconds: number): number => Math.round((seconds * quartersAMinute(score) * TICKS_PER_QUARTER) / 60);
  const notes = part.notes.map((note) => {
    if (!(note.durationSeconds > 0))
      throw new RangeError(`durationSeconds must be positive, not ${note.durationSeconds}`);
    const startTicks = inRange('startSeconds in ticks', ticksOf(note.startSeconds), 0, lengthTicks - 1);
    const soundedEnd = Math.max(startTicks + 1, ticksOf(note.startSeconds + note.durationSeconds));
    return {
      noteNumber: inRange('midi', note.midi, 0, 127),
      velocity: inRange('velocity', note.velocity, 1, 127),
      startTicks,
      // the file lasts as long as the chart: a last note is damped with the last bar line
      endTicks: Math.min(soundedEnd, lengthTicks),
    };
  });
  return notes.flatMap(({ noteNumber, velocity, startTicks, endTicks }) => {
    // a key struck again before it was let go is let go first, else the first note-off would silence the second note
    const again = notes.find((other) => other.noteNumber === noteNumber && other.startTicks > startTicks);
    const off = again === undefined ? endTicks : Math.min(endTicks, again.startTicks);
    return [
      { ticks: startTicks, rank: 2, event: { deltaTime: 0, type: 'noteOn', channel, noteNumber, velocity } },
      { ticks: off, rank: 1, event: { deltaTime: 0, type: 'noteOff', channel, noteNumber, velocity: 64 } },
    ];
  });
}

/**
 * One chorus as a Standard MIDI File, format 1, 960 ticks to the quarter: a track with tempo, metres, keys and section
 * markers, then right hand and left hand on channels 1 and 2. Swing is in the notes' times, as played. All tracks end
 * exactly at the end of the last bar. Texts are UTF-8. The same music gives the same bytes.
 * Source: Standard MIDI Files 1.1 (docs/sources.md, 8).
 * @throws RangeError where a note, velocity, tempo or time is outside what the format holds or after the music's end.
 * @example const bytes = writeMidi(lesson.score, lesson.performance)
 */
export function writeMidi(score: Score, performance: Performance): Uint8Array {
  const start = score.bars[0]?.startTicks ?? 0;
  const lengthTicks = inRange('length of the music in ticks', score.endTicks - start, 1, LARGEST_DELTA);
  const tracks = [trackOf(conductorEvents(score, start), lengthTicks)];
  for (const { player, name, channel } of TRACKS) {
    const parts = performance.parts.filter((part) => part.player === player);
    const opening: TimedEvent[] = [
      { ticks: 0, rank: 0, event: { deltaTime: 0, type: 'trackName', text: bytesAsText(name) } },
      { ticks: 0, rank: 0, event: { deltaTime: 0, type: 'programChange', channel, programNumber: GRAND_PIANO } },
    ];
    const notes = parts.flatMap((part) => noteEvents(score, part, channel, lengthTicks));
    tracks.push(trackOf([...opening, ...notes], lengthTicks));
  }
  const header = { format: 1, numTracks: tracks.length, ticksPerBeat: TICKS_PER_QUARTER } as const;
  return Uint8Array.from(writeBytes({ header, tracks }, { running: false }));
}
