import {
  barTicksOf,
  beatTicksOf,
  cutText,
  midi,
  TICKS_PER_QUARTER,
  type Finger,
  type HandSide,
  type Issue,
  type Result,
} from '@fivespan/core';
import { insertBytes, type HandNote, type Insertion } from '../musicxml/index.ts';
import { scanMidi, type KeyEvent, type ScannedFile, type ScannedTrack } from './track-scan.ts';

/** Which track is asked for, counted from 1 as they stand in the file; left out, the names or the notes decide. */
export interface TrackChoice {
  readonly side: HandSide;
  readonly track?: number;
}

/** One hand of a MIDI file, ready to be fingered. */
export interface MidiHand {
  readonly notes: readonly HandNote[];
  /** For each note the event that strikes it. */
  readonly events: readonly KeyEvent[];
  readonly track: ScannedTrack;
  readonly file: Uint8Array;
}

/**
 * Keys struck within this are struck at once: notes of one chord lie up to some 30 ms apart, those of fast runs and
 * trills 50 ms and more. Common practice.
 */
const AT_ONCE_SECONDS = 0.03;

/** The channel of the drums, counted from 0. Source: General MIDI, channel 10. */
export const DRUM_CHANNEL = 9;

const MIDDLE_C = 60;

/** Where the file says nothing. Source: Standard MIDI Files 1.1: 120 quarters a minute. */
const USUAL_TEMPO = 500_000;
const USUAL_METER = { count: 4, unit: 4 };

/** How a track's name tells its hand. Common practice. */
export const HAND_NAMES: Readonly<Record<HandSide, RegExp>> = {
  right: /\bright\b|\br\.?\s?h\b|\btreble\b|\bupper\b/iu,
  left: /\bleft\b|\bl\.?\s?h\b|\bbass clef\b|\blower\b/iu,
};

/** More tracks than this are not listed one by one. */
const MOST_LISTED = 12;

interface ChosenTrack {
  readonly number: number;
  readonly track: ScannedTrack;
  readonly isParted: boolean;
}

function downs(track: ScannedTrack): KeyEvent[] {
  return track.keys.filter((each) => each.kind === 'down' && each.channel !== DRUM_CHANNEL);
}

/** A name in one line; UTF-8 where it is, else Latin-1. */
export function nameOf({ name }: Pick<ScannedTrack, 'name'>): string {
  const bytes = Uint8Array.from(name, (each) => each.charCodeAt(0));
  const plain = new TextDecoder('utf-8').decode(bytes).replaceAll(/[\p{Cc}\s\uFFFD]+/gu, ' ');
  return cutText(plain.trim(), 60);
}

function chooseTrack({ tracks }: ScannedFile, { side, track }: TrackChoice): Result<ChosenTrack> {
  const playing = tracks.flatMap((each, index) =>
    downs(each).length > 0 ? [{ number: index + 1, track: each, isParted: false }] : [],
  );
  const described = playing.slice(0, MOST_LISTED).map(({ number, track: each }) => {
    const name = nameOf(each);
    return `${number}${name === '' ? '' : ` '${name}'`} (${downs(each).length} notes)`;
  });
  const more = playing.length > MOST_LISTED ? [`and ${playing.length - MOST_LISTED} more`] : [];
  const fail = (asked: string): Result<never> => ({
    ok: false,
    issues: [
      { code: 'fingering.which-track', args: { side, asked, tracks: [...described, ...more].join('; ') }, place: {} },
    ],
  });
  if (track !== undefined || playing.length === 0) {
    const found = playing.find(({ number }) => number === track);
    return found === undefined
      ? fail(track === undefined ? 'track' : `track ${track}`)
      : { ok: true, value: found, warnings: [] };
  }
  const named = playing.filter((each) => HAND_NAMES[side].test(nameOf(each.track)));
  const [byName] = named;
  if (byName !== undefined && named.length === 1) return { ok: true, value: byName, warnings: [] };
  const [only, ...others] = playing;
  if (only === undefined || others.length > 0) return fail('');
  const warnings: Issue[] = [{ code: 'fingering.hands-parted', args: { side, track: only.number }, place: {} }];
  return { ok: true, value: { ...only, isParted: true }, warnings };
}

/** Reads a line that changes with time, forwards. */
function along<Change extends { readonly ticks: number }>(
  changes: readonly Change[],
  usual: Change,
): (ticks: number) => Change {
  let next = 0;
  let current = usual;
  return (ticks) => {
    for (; (changes[next]?.ticks ?? Number.POSITIVE_INFINITY) <= ticks; next++) current = changes[next] as Change;
    return current;
  };
}

/** Bar numbers, beats and seconds of places that never go back. */
function timekeeping({ ticksAQuarter, tempi, meters }: ScannedFile) {
  const tempoAt = along(tempi, { ticks: 0, microsecondsAQuarter: USUAL_TEMPO });
  let bar = 1;
  let barStart = 0;
  let meter: { readonly ticks: number; readonly count: number; readonly unit: number } = { ticks: 0, ...USUAL_METER };
  let nextMeter = 0;
  const scale = ticksAQuarter / TICKS_PER_QUARTER;
  const countBarsTo = (ticks: number): void => {
    const barTicks = barTicksOf(meter) * scale;
    const bars = Math.floor((ticks - barStart) / barTicks);
    bar += bars;
    barStart += bars * barTicks;
  };
  return (ticks: number) => {
    for (; (meters[nextMeter]?.ticks ?? Number.POSITIVE_INFINITY) <= ticks; nextMeter++) {
      const change = meters[nextMeter] as (typeof meters)[number];
      countBarsTo(change.ticks);
      // a metre begins a bar, also where it cuts one short
      if (change.ticks > barStart) {
        bar++;
        barStart = change.ticks;
      }
      meter = change;
    }
    countBarsTo(ticks);
    const secondsATick = tempoAt(ticks).microsecondsAQuarter / 1_000_000 / ticksAQuarter;
    return { bar, beatTicks: beatTicksOf(meter), atOnceTicks: AT_ONCE_SECONDS / secondsATick };
  };
}

/** For each key that goes down, when it comes up or is struck again; the track's end where it never does. */
export function releases(track: ScannedTrack): Map<KeyEvent, number> {
  const ends = new Map<KeyEvent, number>();
  const down = new Map<number, KeyEvent>();
  for (const each of track.keys) {
    const id = each.channel * 128 + each.key;
    const open = down.get(id);
    if (open !== undefined) ends.set(open, each.ticks);
    if (each.kind === 'down') down.set(id, each);
    else down.delete(id);
  }
  const last = track.keys.at(-1)?.ticks ?? 0;
  for (const open of down.values()) ends.set(open, last);
  return ends;
}

/**
 * Reads the notes of one hand out of a Standard MIDI File of format 0 or 1: the track asked for, else the one whose name
 * tells the hand, else, where a single track holds all notes, its notes from middle C up (right) or below it (left), which
 * is reported. Keys struck within 30 ms are struck at once. Drums are left out.
 * @example readMidiHand(bytes, { side: 'left', track: 3 })
 */
export function readMidiHand(file: Uint8Array, choice: TrackChoice): Result<MidiHand> {
  const scanned = scanMidi(file);
  if (!scanned.ok) return scanned;
  const chosen = chooseTrack(scanned.value, choice);
  if (!chosen.ok) return chosen;
  const { track, number, isParted } = chosen.value;
  const isOfHand = (key: number): boolean => !isParted || key >= MIDDLE_C === (choice.side === 'right');
  const events = downs(track).filter((each) => isOfHand(each.key));
  if (events.length === 0) {
    const where = `track ${number}, ${choice.side === 'right' ? 'from middle C up' : 'below middle C'},`;
    const args = { side: choice.side, where, remedy: `--track ${number} takes the whole track for one hand` };
    return { ok: false, issues: [{ code: 'fingering.no-notes', args, place: {} }] };
  }
  const scale = TICKS_PER_QUARTER / scanned.value.ticksAQuarter;
  const timeAt = timekeeping(scanned.value);
  const ends = releases(track);
  let strike = -1;
  let strikeStart = Number.NEGATIVE_INFINITY;
  let struck = new Set<number>();
  const notes = events.map((event): HandNote => {
    const { bar, beatTicks, atOnceTicks } = timeAt(event.ticks);
    if (event.ticks - strikeStart > atOnceTicks || struck.has(event.key)) {
      strike++;
      strikeStart = event.ticks;
      struck = new Set();
    }
    struck.add(event.key);
    const startTicks = Math.round(event.ticks * scale);
    const durationTicks = Math.round((ends.get(event) ?? event.ticks) * scale) - startTicks;
    return {
      bar,
      startTicks,
      durationTicks,
      beatTicks,
      name: null,
      midi: midi(event.key),
      fixed: event.finger,
      strike,
    };
  });
  return { ok: true, value: { notes, events, track, file }, warnings: chosen.warnings };
}

/** Lyric, and where the track already sings, text. Source: Standard MIDI Files 1.1, FF 05 and FF 01. */
const LYRIC = 0x05;
const TEXT = 0x01;

function bytesOf32(value: number): Uint8Array {
  const bytes = new Uint8Array(4);
  new DataView(bytes.buffer).setUint32(0, value);
  return bytes;
}

/**
 * A copy of the file with each finger as a lyric event (`1` to `5`) right before the key goes down, at the same moment;
 * as a text event where the track has lyrics already. A MIDI file has no fingerings of its own. Nothing else changes:
 * every byte of the file stays but the length of the track. Where the file leaves out a status byte (running status),
 * which a meta event ends, it is written. A note that has its finger already, so written, is left as it is.
 * @param fingers for each note of the hand, in order.
 * @throws RangeError where fingers and notes differ in number.
 */
export function writeMidiFingers({ events, track, file }: MidiHand, fingers: readonly Finger[]): Uint8Array {
  if (fingers.length !== events.length) throw new RangeError(`fingers must be ${events.length}, not ${fingers.length}`);
  const type = track.hasLyrics ? TEXT : LYRIC;
  const insertions = events.flatMap(({ at, leftOutStatus, finger }, index): Insertion[] => {
    if (finger !== null) return [];
    const digit = 0x30 + (fingers[index] as Finger);
    // the note's own distance stands before this place and so becomes the lyric's; the note follows at distance 0
    return [{ at, bytes: Uint8Array.of(0xff, type, 1, digit, 0, ...(leftOutStatus === null ? [] : [leftOutStatus])) }];
  });
  const grown = insertions.reduce((sum, each) => sum + each.bytes.length, track.length);
  const copy = insertBytes(file, insertions);
  // the length stands before everything put in, so its place is the same
  copy.set(bytesOf32(grown), track.lengthAt);
  return copy;
}
