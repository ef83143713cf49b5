import {
  beatTicksOf,
  formatKey,
  signatureOf,
  TICKS_PER_QUARTER,
  type PlayedProgramme,
  type ProgrammePlayer,
  type ProgrammeSegment,
} from '@fivespan/core';
import { writeMidi as writeBytes, type MidiEvent } from 'midi-file';
import { bytesAsText, inRange, microsecondsAQuarter, timeSignature, trackOf, type TimedEvent } from './timed-event.ts';

/** Programs on the wire, from 0. Source: General MIDI (docs/sources.md, 8); kits by their usual numbers (from memory). */
const PROGRAMS: Readonly<Record<ProgrammePlayer['instrument'], number>> = {
  grand: 0,
  'acoustic bass': 32,
  'jazz kit': 32,
  'brush kit': 40,
};

/** The percussion channel, from 0 (docs/sources.md, 8). */
const DRUM_CHANNEL = 9;

/** A segment with its place in the file. */
interface PlacedSegment extends ProgrammeSegment {
  readonly startTicks: number;
  readonly ticksASecond: number;
}

function placedSegments(segments: readonly ProgrammeSegment[]): PlacedSegment[] {
  let startTicks = 0;
  return segments.map((segment) => {
    const placed = { ...segment, startTicks, ticksASecond: (segment.tempoBpm * beatTicksOf(segment.meter)) / 60 };
    startTicks += segment.durationTicks;
    return placed;
  });
}

function ticksAt(segments: readonly PlacedSegment[], seconds: number): number {
  const segment = segments.findLast(({ startSeconds }) => startSeconds <= seconds) ?? segments[0];
  if (segment === undefined) throw new RangeError('segments must hold at least one');
  return Math.round(segment.startTicks + (seconds - segment.startSeconds) * segment.ticksASecond);
}

/** A drummer strays by less than this. */
const EARLIEST_SECONDS = 0.01;

/** A stroke on one may come this much before it; the kit is there by then. 48 ticks are 12 ms at the fastest tempo. */
const KIT_EARLIER_TICKS = 48;

/** Two kits share the percussion channel: each says so again wherever it comes in. */
function kitChanges(segments: readonly PlacedSegment[], own: readonly { readonly startSeconds: number }[]): number[] {
  const starts = new Set<number>();
  for (const { startSeconds } of own) {
    const at = segments.findLast((segment) => segment.startSeconds <= startSeconds + EARLIEST_SECONDS);
    if (at !== undefined) starts.add(Math.max(0, at.startTicks - KIT_EARLIER_TICKS));
  }
  return [...starts];
}

/** Tempo, metre and key where they change, a marker where a segment begins. */
function conductorTrack(title: string, segments: readonly PlacedSegment[]): TimedEvent[] {
  const events: TimedEvent[] = [];
  const add = (ticks: number, event: MidiEvent): number => events.push({ ticks, rank: 0, event });
  add(0, { deltaTime: 0, type: 'trackName', text: bytesAsText(title) });
  let tempo = 0;
  let key = '';
  let meter = '';
  for (const segment of segments) {
    const { startTicks, ticksASecond, bars, kind, time } = segment;
    const microseconds = microsecondsAQuarter((ticksASecond * 60) / TICKS_PER_QUARTER);
    if (microseconds !== tempo) add(startTicks, { deltaTime: 0, type: 'setTempo', microsecondsPerBeat: microseconds });
    tempo = microseconds;
    const signature = inRange('key signature', signatureOf(segment.key), -7, 7);
    const scale = segment.key.mode === 'major' ? 0 : 1;
    if (formatKey(segment.key) !== key) add(startTicks, { deltaTime: 0, type: 'keySignature', key: signature, scale });
    key = formatKey(segment.key);
    for (const bar of bars) {
      const written = `${bar.meter.count}/${bar.meter.unit}`;
      if (written !== meter) add(startTicks + bar.startTicks, timeSignature(bar.meter));
      meter = written;
    }
    const text = kind === 'chorus' ? `${key}, ${segment.tempoBpm}, chorus ${time}` : kind;
    add(startTicks, { deltaTime: 0, type: 'marker', text: bytesAsText(text) });
  }
  return events;
}

/**
 * A played programme as a Standard MIDI File, format 1, 960 ticks to the quarter: a track of tempi, metres, keys and markers, then
 * one for each player, drums on channel 10. Swing and drift are in the notes' times. The same music gives the same bytes.
 * Source: Standard MIDI Files 1.1 (docs/sources.md, 8).
 * @throws RangeError where a note or tempo is outside what the format holds
 * @example const bytes = writeProgrammeMidi('Lantern Street', playProgramme(chart, choices, programme)!)
 */
export function writeProgrammeMidi(title: string, { players, events, segments }: PlayedProgramme): Uint8Array {
  const placed = placedSegments(segments);
  const lengthTicks = placed.reduce((sum, { durationTicks }) => sum + durationTicks, 0);
  const kits = players.filter(({ plays }) => plays === 'drums').length;
  const isKitOf = ({ instrument }: ProgrammePlayer): boolean => instrument === 'jazz kit' || instrument === 'brush kit';
  let melodic = 0;
  const tracks = players.map((player, index) => {
    const isKit = isKitOf(player);
    const channel = isKit ? DRUM_CHANNEL : melodic++;
    const program = (ticks: number): TimedEvent => ({
      ticks,
      rank: 0,
      event: { deltaTime: 0, type: 'programChange', channel, programNumber: PROGRAMS[player.instrument] },
    });
    const own = events.filter((event) => event.player === index);
    const notes = own.flatMap(({ startSeconds, durationSeconds, midi, velocity }): TimedEvent[] => {
      const noteNumber = inRange('midi', midi, 0, 127);
      const start = inRange('startSeconds in ticks', ticksAt(placed, startSeconds), 0, lengthTicks);
      const end = Math.max(start + 1, ticksAt(placed, startSeconds + durationSeconds));
      const loud = inRange('velocity', velocity, 1, 127);
      return [
        { ticks: start, rank: 2, event: { deltaTime: 0, type: 'noteOn', channel, noteNumber, velocity: loud } },
        { ticks: end, rank: 1, event: { deltaTime: 0, type: 'noteOff', channel, noteNumber, velocity: 64 } },
      ];
    });
    const name: TimedEvent = { ticks: 0, rank: 0, event: { deltaTime: 0, type: 'trackName', text: player.name } };
    // the sticks of a metronome sound alike in any kit: where a drummer sits at one, it asks for no other
    const isAside = player.plays === 'metronome' && kits > 0;
    const programs = isAside ? [] : isKit && kits > 1 ? kitChanges(placed, own).map(program) : [program(0)];
    return [name, ...programs, ...notes];
  });
  const endTicks = Math.max(lengthTicks, ...tracks.flat().map(({ ticks }) => ticks));
  const header = { format: 1, numTracks: tracks.length + 1, ticksPerBeat: TICKS_PER_QUARTER } as const;
  const all = [conductorTrack(title, placed), ...tracks].map((track) => trackOf(track, endTicks));
  return Uint8Array.from(writeBytes({ header, tracks: all }, { running: false }));
}
