import { withHands, type HandSide, type HeardNote, type Result, type TempoPlace } from '@fivespan/core';
import { DRUM_CHANNEL, HAND_NAMES, nameOf, releases } from './finger-copy.ts';
import { scanMidi, type ScannedFile, type ScannedTrack } from './track-scan.ts';

/** A take in a MIDI file: who played what when, and what the file says of its time. */
export interface MidiTake {
  /** Seconds from the file's start, in order. */
  readonly notes: readonly HeardNote[];
  /** Quarters a minute as the file states it at first; null where it states none. */
  readonly quartersAMinute: number | null;
  /** Whether it states several: times then follow the beats, as if all were at the first. */
  readonly changesTempo: boolean;
  /** Where its times part from the clock's: from each place on one of its seconds lasts `rate` seconds. Empty where it keeps one tempo. */
  readonly clock: readonly TempoPlace[];
  readonly markers: readonly { readonly seconds: number; readonly text: string }[];
}

/** Beyond this nobody played it in one go. */
const MOST_NOTES = 50_000;
const LONGEST_SECONDS = 4000;

/** Where the file says nothing. Source: Standard MIDI Files 1.1: 120 quarters a minute. */
const USUAL_MICROSECONDS = 500_000;

/** Tracks that play along and are no hands. Common practice. */
const PLAYS_ALONG = /\bbass\b(?! clef)|\bdrums?\b|\bclick\b|\bmetronome\b|\bcount\b/iu;

interface Group {
  readonly side: HandSide | null;
  readonly notes: Omit<HeardNote, 'hand'>[];
}

/** Ticks to seconds: along the file's tempi, or as at the first where it changes them. */
function secondsIn({ ticksAQuarter, tempi }: ScannedFile): (ticks: number) => number {
  const micros = tempi[0]?.microsecondsAQuarter ?? USUAL_MICROSECONDS;
  return (ticks) => (ticks / ticksAQuarter) * (micros / 1_000_000);
}

/** How the first tempo's seconds lie on a clock where the file changes its tempo. */
function clockIn(file: ScannedFile): TempoPlace[] {
  const secondsAt = secondsIn(file);
  const first = file.tempi[0]?.microsecondsAQuarter ?? USUAL_MICROSECONDS;
  const places: TempoPlace[] = [];
  for (const { ticks, microsecondsAQuarter } of file.tempi.toSorted((a, b) => a.ticks - b.ticks)) {
    const seconds = secondsAt(ticks);
    const last = places.at(-1);
    const clockSeconds = last === undefined ? seconds : last.clockSeconds + (seconds - last.seconds) * last.rate;
    places.push({ seconds, clockSeconds, rate: microsecondsAQuarter / first });
  }
  return places;
}

function sideOf(track: ScannedTrack): HandSide | null {
  const name = nameOf(track);
  if (HAND_NAMES.right.test(name)) return 'right';
  return HAND_NAMES.left.test(name) ? 'left' : null;
}

/** The notes of each track and channel. */
function groupsOf(file: ScannedFile): Group[] {
  const secondsAt = secondsIn(file);
  const groups: Group[] = [];
  for (const track of file.tracks) {
    const side = sideOf(track);
    if (side === null && PLAYS_ALONG.test(nameOf(track))) continue;
    const ends = releases(track);
    const byChannel = new Map<number, Group>();
    for (const event of track.keys) {
      if (event.kind !== 'down' || event.channel === DRUM_CHANNEL) continue;
      const group = byChannel.get(event.channel) ?? { side, notes: [] };
      byChannel.set(event.channel, group);
      const startSeconds = secondsAt(event.ticks);
      const durationSeconds = Math.max(0, secondsAt(ends.get(event) ?? event.ticks) - startSeconds);
      group.notes.push({ startSeconds, durationSeconds, key: event.key, velocity: event.velocity });
    }
    groups.push(...byChannel.values());
  }
  return groups.filter(({ notes }) => notes.length > 0);
}

/**
 * Reads a take out of a Standard MIDI File of format 0 or 1. Hands are distinguished by the tracks' names, else by two tracks or
 * channels that lie apart, else by how they move (docs/takes.md). Drums, clicks and bass players are left out.
 * @example readTakeMidi(bytes)
 */
export function readTakeMidi(bytes: Uint8Array): Result<MidiTake> {
  const scanned = scanMidi(bytes);
  if (!scanned.ok) return scanned;
  const file = scanned.value;
  const fail = (code: 'take.no-notes' | 'take.too-long', what: string): Result<never> => ({
    ok: false,
    issues: [{ code, args: { what }, place: {} }],
  });
  const groups = groupsOf(file);
  const count = groups.reduce((sum, { notes }) => sum + notes.length, 0);
  if (count === 0) return fail('take.no-notes', '');
  if (count > MOST_NOTES) return fail('take.too-long', `${count} notes`);
  const last = groups.reduce((latest, { notes }) => Math.max(latest, notes.at(-1)?.startSeconds ?? 0), 0);
  if (last > LONGEST_SECONDS) return fail('take.too-long', `${Math.round(last / 60)} minutes`);
  const secondsAt = secondsIn(file);
  const [tempo] = file.tempi;
  const tempi = new Set(file.tempi.map(({ microsecondsAQuarter }) => microsecondsAQuarter));
  return {
    ok: true,
    value: {
      notes: withHands(groups),
      quartersAMinute: tempo === undefined ? null : 60_000_000 / tempo.microsecondsAQuarter,
      changesTempo: tempi.size > 1,
      clock: tempi.size > 1 ? clockIn(file) : [],
      markers: file.markers.map(({ ticks, text }) => ({ seconds: secondsAt(ticks), text: nameOf({ name: text }) })),
    },
    warnings: [],
  };
}
