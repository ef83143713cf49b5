import {
  barTicksOf,
  beatTicksOf,
  signatureOf,
  TICKS_PER_QUARTER,
  type Lesson,
  type Meter,
  type Take,
} from '@fivespan/core';
import { writeMidi as writeBytes, type MidiEvent } from 'midi-file';
import { bytesAsText, inRange, microsecondsAQuarter, timeSignature, trackOf, type TimedEvent } from './timed-event.ts';

/** The percussion channel, from 0, and the click's key on it: side stick. Source: General MIDI (docs/sources.md, 8). */
const DRUM_CHANNEL = 9;
const CLICK_KEY = 37;
const CLICK = { one: 100, other: 70 } as const;

/** Acoustic grand piano, General MIDI program 1 counted from one. */
const GRAND_PIANO = 0;

/** The sustain pedal. Source: MIDI 1.0, controller 64. */
const DAMPER = 64;

interface PlacedBar {
  readonly startTicks: number;
  readonly durationTicks: number;
  readonly meter: Meter;
}

/**
 * A kept take as a Standard MIDI File, format 1: a track of tempo, metre, key and markers (`count-in`, `bar 1`, each further
 * chorus, each chord), one of the click, one of what was played. `fivespan take` reads it back. The same take gives the same bytes.
 * Source: Standard MIDI Files 1.1 (docs/sources.md, 8).
 * @param lesson the take's lesson in the take's key
 * @throws RangeError where a note or tempo is outside what the format holds
 */
export function writeTakeMidi(
  take: Take,
  { score, analysis, plan }: Pick<Lesson, 'score' | 'analysis' | 'plan'>,
): Uint8Array {
  const { tempoBpm, countInBars } = take.programme;
  const { meter } = score;
  const barTicks = barTicksOf(meter);
  const ticksASecond = (tempoBpm * beatTicksOf(meter)) / 60;
  const fromBarOne = (micros: number): number => Math.round(((micros - take.barOneMicros) / 1_000_000) * ticksASecond);
  const first = Math.min(0, ...take.notes.map(({ startMicros }) => fromBarOne(startMicros)));
  const leadBars = Math.max(countInBars, Math.ceil(-first / barTicks));
  const lead = leadBars * barTicks;
  const ticksAt = (micros: number): number => lead + fromBarOne(micros);
  const lastTicks = take.notes.reduce(
    (last, { startMicros, durationMicros }) => Math.max(last, ticksAt(startMicros + durationMicros)),
    lead,
  );
  const chorusTicks = Math.max(analysis.form.endTicks, barTicks);
  const choruses = Math.max(1, Math.ceil((lastTicks - lead) / chorusTicks));
  const starts = Array.from({ length: choruses }, (_, chorus) => lead + chorus * chorusTicks);
  const full = score.bars.filter(({ isPickup }) => !isPickup);
  const bars: PlacedBar[] = [
    ...Array.from({ length: leadBars }, (_, bar) => ({ startTicks: bar * barTicks, durationTicks: barTicks, meter })),
    ...starts.flatMap((start) => full.map((bar) => ({ ...bar, startTicks: start + bar.startTicks }))),
  ];

  const conductor: TimedEvent[] = [];
  const add = (ticks: number, event: MidiEvent): number => conductor.push({ ticks, rank: 0, event });
  const mark = (ticks: number, text: string): number =>
    add(ticks, { deltaTime: 0, type: 'marker', text: bytesAsText(text) });
  const { key } = analysis;
  add(0, { deltaTime: 0, type: 'trackName', text: bytesAsText(score.title) });
  add(0, {
    deltaTime: 0,
    type: 'setTempo',
    microsecondsPerBeat: microsecondsAQuarter((ticksASecond * 60) / TICKS_PER_QUARTER),
  });
  const scale = key.mode === 'major' ? 0 : 1;
  add(0, { deltaTime: 0, type: 'keySignature', key: inRange('key signature', signatureOf(key), -7, 7), scale });
  let written = '';
  for (const bar of bars) {
    const text = `${bar.meter.count}/${bar.meter.unit}`;
    if (text !== written) add(bar.startTicks, timeSignature(bar.meter));
    written = text;
  }
  if (lead > 0) mark(0, 'count-in');
  for (const [chorus, start] of starts.entries()) {
    mark(start, chorus === 0 ? 'bar 1' : `chorus ${chorus + 1}`);
    for (const { analysed } of plan.slots) {
      const at = start + analysed.played.startTicks;
      if (at >= 0 && (chorus === 0 || analysed.played.startTicks >= 0)) mark(at, analysed.played.slot.chord.symbol);
    }
  }

  const strike = (channel: number, noteNumber: number, velocity: number, ticks: number, end: number): TimedEvent[] => [
    { ticks, rank: 2, event: { deltaTime: 0, type: 'noteOn', channel, noteNumber, velocity } },
    {
      ticks: Math.max(ticks + 1, end),
      rank: 1,
      event: { deltaTime: 0, type: 'noteOff', channel, noteNumber, velocity: 64 },
    },
  ];
  const click: TimedEvent[] = [
    { ticks: 0, rank: 0, event: { deltaTime: 0, type: 'trackName', text: 'Click' } },
    ...bars.flatMap(({ startTicks, durationTicks, meter: own }) => {
      const step = beatTicksOf(own);
      return Array.from({ length: Math.floor(durationTicks / step) }, (_, beat) => {
        const at = startTicks + beat * step;
        return strike(DRUM_CHANNEL, CLICK_KEY, beat === 0 ? CLICK.one : CLICK.other, at, at + step / 4);
      }).flat();
    }),
  ];
  // what came on the drums' channel was no drum
  const channelOf = (channel: number): number => (channel === DRUM_CHANNEL ? 0 : channel);
  const channels = [...new Set(take.notes.map(({ channel }) => channelOf(channel)))];
  const piano: TimedEvent[] = [
    { ticks: 0, rank: 0, event: { deltaTime: 0, type: 'trackName', text: 'Take' } },
    ...channels.map((channel): TimedEvent => ({
      ticks: 0,
      rank: 0,
      event: { deltaTime: 0, type: 'programChange', channel, programNumber: GRAND_PIANO },
    })),
    ...take.notes.flatMap(({ startMicros, durationMicros, key: noteNumber, velocity, channel }) =>
      strike(channelOf(channel), noteNumber, velocity, ticksAt(startMicros), ticksAt(startMicros + durationMicros)),
    ),
    ...take.pedals.map(({ atMicros, value, channel }): TimedEvent => ({
      ticks: Math.max(0, ticksAt(atMicros)),
      rank: 1,
      event: { deltaTime: 0, type: 'controller', channel: channelOf(channel), controllerType: DAMPER, value },
    })),
  ];
  const tracks = [conductor, click, piano];
  const endTicks = Math.max(...tracks.flat().map(({ ticks }) => ticks), starts.at(-1) ?? 0);
  const header = { format: 1, numTracks: tracks.length, ticksPerBeat: TICKS_PER_QUARTER } as const;
  return Uint8Array.from(
    writeBytes({ header, tracks: tracks.map((track) => trackOf(track, endTicks)) }, { running: false }),
  );
}
