import {
  DEFAULT_CHOICES,
  inTurn,
  parseKey,
  playProgramme,
  readChart,
  type Key,
  type PlayedProgramme,
  NO_AIDS,
} from '@fivespan/core';
import { parseMidi, type MidiEvent } from 'midi-file';
import { describe, expect, it } from 'vitest';
import { writeProgrammeMidi } from './programme-midi.ts';

function programme(tempi: readonly number[]): PlayedProgramme {
  const chart = readChart('key: Eb major\nA:\n| Fm7 | Bb7 | Ebmaj7 | % |\n');
  if (!chart.ok) throw new TypeError('text must be a chart');
  const keys = ['Eb major', 'Ab major'].map((key) => parseKey(key) as Key);
  const players = ['right hand', 'left hand', 'bass', 'drums'] as const;
  const choruses = inTurn({ keys, tempi, choruses: 1, players });
  return playProgramme(chart.value, DEFAULT_CHOICES, {
    setUp: 'trio',
    swing: 'measured',
    voicings: 'rootless',
    countInBars: 1,
    aids: NO_AIDS,
    choruses,
  })!;
}

/** Events of a file in seconds, by its own tempo track. */
function inSeconds(bytes: Uint8Array): { seconds: number; event: MidiEvent }[] {
  const { tracks } = parseMidi(bytes);
  const timed = tracks.flatMap((track) => {
    let ticks = 0;
    return track.map((event) => ({ ticks: (ticks += event.deltaTime), event }));
  });
  const tempi = timed
    .flatMap(({ ticks, event }) => (event.type === 'setTempo' ? [{ ticks, us: event.microsecondsPerBeat }] : []))
    .sort((a, b) => a.ticks - b.ticks);
  const secondsAt = (ticks: number): number =>
    tempi.reduce((sum, { ticks: from, us }, index) => {
      const to = Math.min(ticks, tempi[index + 1]?.ticks ?? ticks);
      return to > from ? sum + ((to - from) / 960) * (us / 1e6) : sum;
    }, 0);
  return timed.map(({ ticks, event }) => ({ seconds: secondsAt(ticks), event }));
}

describe('writeProgrammeMidi', () => {
  it.each([[[120]], [[60, 137]], [[132, 70, 132]]])('at %j puts every note where it was played', (tempi) => {
    const played = programme(tempi);
    const notes = inSeconds(writeProgrammeMidi('Try', played)).filter(({ event }) => event.type === 'noteOn');
    expect(notes).toHaveLength(played.events.length);
    const wanted = played.events.map(({ startSeconds }) => startSeconds);
    const heard = notes.map(({ seconds }) => seconds).toSorted((a, b) => a - b);
    // half a tick at 60 is half a millisecond; the tempo is written in whole microseconds
    for (const [index, seconds] of heard.entries()) expect(Math.abs(seconds - wanted[index]!)).toBeLessThan(0.002);
  });

  it('puts the drums on channel 10 with the kit that plays, and says which at every change', () => {
    const timed = inSeconds(writeProgrammeMidi('Try', programme([132, 70, 132])));
    const kits = timed.flatMap(({ seconds, event }) =>
      event.type === 'programChange' && event.channel === 9 ? [{ seconds, program: event.programNumber }] : [],
    );
    kits.sort((a, b) => a.seconds - b.seconds);
    const changes = kits.filter(({ program }, index) => kits[index - 1]?.program !== program);
    expect(changes.map(({ program }) => program)).toEqual([32, 40, 32]);
  });

  it('marks every segment and ends where the music does', () => {
    const played = programme([120]);
    const timed = inSeconds(writeProgrammeMidi('Try', played));
    const markers = timed.flatMap(({ event }) => (event.type === 'marker' ? [event.text] : []));
    expect(markers).toEqual(['count-in', 'Eb major, 120, chorus 1', 'Ab major, 120, chorus 1', 'ending']);
    const ends = timed.filter(({ event }) => event.type === 'endOfTrack');
    for (const { seconds } of ends) expect(seconds).toBeCloseTo(played.endSeconds, 2);
  });
});
