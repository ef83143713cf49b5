/** Recording what is played: switched on by the player, written to the disk as it goes. */
import { ENGINE_VERSION, formatKey, writeLessonDocument, writeTake, type Take } from '@fivespan/core';
import { atom } from 'nanostores';
import { everySecond, newId, nowMs, steadyMs } from '../../platform/clock/index.ts';
import { $settings } from '../settings/index.ts';
import { headingOf, $open } from '../open-lesson/index.ts';
import { $moment, $playing, $practice, changeMix, heardNow, isSounding, pause, putDown } from '../playing/index.ts';
import { connectKeyboard, onPlayed } from '../sound/index.ts';
import { beginTake, finishTake, takeStore } from './take-shelf.ts';
import { KEY_DOWN, KEY_UP, notesOf, PEDAL, type TakeEvent } from './take-events.ts';
import { takePlace, type TakePlace } from './take-place.ts';
import type { TakeRecord } from '../../platform/storage/index.ts';

/** What is recorded just now. */
export interface Recording {
  readonly notes: number;
  /** Set where it cannot be written: it is still here as long as the page is. */
  readonly isUnwritten: boolean;
}

/** Whether what is played to the tune is recorded. Off whenever the page is opened: nobody is recorded unasked. */
export const $records = atom(false);

/** Null while nothing is recorded. */
export const $recording = atom<Recording | null>(null);

/** The take that has just ended and is looked at, or one that was reopened; null where none is. */
export const $takeShown = atom<TakeRecord | null>(null);

/** Whether the last stretch ended without a note: then there is nothing to say. */
export const $nothingPlayed = atom(false);

/** Bounds of a take (core, take-document.ts); a little less, so that the last note still has its end. */
const MOST_NOTES = 49_000;
const LONGEST_SECONDS = 3900;

/** So long the last chord is heard; then the take is answered, while its notes are still in the player's ear. Cymbals ring far longer. */
const ENDING_SECONDS = 3;

/** The damper pedal. Source: MIDI 1.0, controller 64. */
const DAMPER = 64;

interface Running {
  readonly record: TakeRecord;
  readonly take: Take;
  readonly stretch: number;
  readonly rate: number;
  readonly passesBefore: number;
  readonly barOneRaw: number;
  /** Keys that are down: when they were struck in the take, and by the clock. */
  readonly down: Map<number, { readonly atMicros: number; readonly clockMs: number }>;
  readonly events: TakeEvent[];
  written: number;
  notes: number;
  writing: Promise<void> | undefined;
}

let running: Running | undefined;
/** What the mix was before the demonstration was silenced. */
let wasMuted: boolean | null = null;

/** Switches recording on or off. Call from a key or click: the keyboard is asked for. */
export function switchRecording(on: boolean): void {
  $records.set(on);
  $nothingPlayed.set(false);
  if (on) void connectKeyboard();
  else void endTake();
  silenceDemonstration(on);
}

/** Whoever is recorded plays the line: the lesson's own is silent meanwhile. */
export function silenceDemonstration(on: boolean): void {
  const { muted } = $practice.get().mix['right hand'];
  if (on && !muted) {
    wasMuted = false;
    changeMix('right hand', { muted: true });
  } else if (!on && wasMuted === false) {
    wasMuted = null;
    changeMix('right hand', { muted: false });
  }
}

async function writeOut(now: Running): Promise<void> {
  while (now.written < now.events.length) {
    const events = now.events.slice(now.written);
    // oxlint-disable-next-line no-await-in-loop -- one after the other: what came meanwhile goes together
    await (await takeStore()).append(now.record.id, events);
    now.written += events.length;
  }
}

/** Writes what came, at once: while one write is under way the next ones gather. */
function write(now: Running): void {
  now.writing ??= writeOut(now)
    .catch(() => {
      const shown = $recording.get();
      if (shown !== null) $recording.set({ ...shown, isUnwritten: true });
    })
    .finally(() => {
      now.writing = undefined;
      if (now.written < now.events.length && $recording.get()?.isUnwritten !== true) write(now);
    });
}

function begin(place: TakePlace, rate: number, passesBefore: number): Running | undefined {
  const open = $open.get();
  if (open === null) return undefined;
  const { keyDelayMs } = $settings.get();
  const countInBars = Math.max(1, Math.ceil(-place.seconds / place.barSeconds));
  const barOneRaw = Math.round(countInBars * place.barSeconds * 1_000_000);
  const key = formatKey(place.key);
  const { chartText, choices, engine } = open;
  const take: Take = {
    engine: ENGINE_VERSION,
    lesson: open.id,
    edition: 0,
    document: writeLessonDocument({ chartText, choices, engine }),
    programme: { tempoBpm: place.tempoBpm, key, countInBars, isToClick: true },
    barOneMicros: barOneRaw + Math.round(keyDelayMs * 1000),
    delayMs: keyDelayMs,
    notes: [],
    pedals: [],
  };
  const record: TakeRecord = {
    id: newId(),
    lessonId: open.id,
    title: headingOf(chartText).title,
    key,
    tempoBpm: place.tempoBpm,
    at: nowMs(),
    state: 'recording',
    isOffered: false,
    remarks: [],
    take: writeTake(take),
  };
  const now: Running = {
    record,
    take,
    stretch: place.stretch,
    rate,
    passesBefore,
    barOneRaw,
    down: new Map(),
    events: [],
    written: 0,
    notes: 0,
    writing: undefined,
  };
  now.writing = beginTake(record)
    .catch(() => {
      $recording.set({ notes: now.notes, isUnwritten: true });
    })
    .finally(() => {
      now.writing = undefined;
      write(now);
    });
  $recording.set({ notes: 0, isUnwritten: false });
  return now;
}

function hear(message: Parameters<Parameters<typeof onPlayed>[0]>[0], atMs: number): void {
  if (!$records.get() || isElsewhere()) return;
  const heard = heardNow();
  if (heard === null) return;
  const clockMs = Math.min(steadyMs(), atMs);
  const rate = running?.rate ?? heard.rate;
  const positionSeconds = heard.positionSeconds - ((steadyMs() - clockMs) / 1000) * heard.rate;
  const place = takePlace(
    { ...heard, positionSeconds, passes: heard.passes - (running?.passesBefore ?? heard.passes) },
    rate,
  );
  if (place === null) return;
  const isFull =
    running !== undefined &&
    (running.notes >= MOST_NOTES || place.seconds > LONGEST_SECONDS || place.stretch !== running.stretch);
  if (running === undefined || isFull) {
    if (message.kind !== 'note on') return;
    if (isFull) {
      void endTake();
      hear(message, atMs);
      return;
    }
    running = begin(place, rate, heard.passes);
    if (running === undefined) return;
  }
  const now = running;
  const at = Math.max(0, now.barOneRaw + Math.round(place.seconds * 1_000_000));
  if (message.kind === 'note on') {
    now.events.push([at, KEY_DOWN, message.midi, message.velocity]);
    now.down.set(message.midi, { atMicros: at, clockMs });
    now.notes += 1;
    $recording.set({ notes: now.notes, isUnwritten: $recording.get()?.isUnwritten === true });
  } else if (message.kind === 'note off') {
    // a loop may have begun again meanwhile: how long a key was down is told by the clock
    const struck = now.down.get(message.midi);
    if (struck === undefined) return;
    now.down.delete(message.midi);
    now.events.push([
      struck.atMicros + Math.max(1, Math.round((clockMs - struck.clockMs) * 1000)),
      KEY_UP,
      message.midi,
      0,
    ]);
  } else if (message.controller === DAMPER) now.events.push([at, PEDAL, DAMPER, message.value]);
  else return;
  write(now);
}

/** What is practised otherwise is no take: a drill, a step of today. Told by whoever shows it. */
let isElsewhere: () => boolean = () => false;

/** Ends the take that is recorded. @returns the take; null where nothing was played */
async function endTake(): Promise<TakeRecord | null> {
  const now = running;
  running = undefined;
  $recording.set(null);
  if (now === undefined) return null;
  const clockMs = steadyMs();
  for (const [key, { atMicros, clockMs: struckMs }] of now.down)
    now.events.push([atMicros + Math.max(1, Math.round((clockMs - struckMs) * 1000)), KEY_UP, key, 0]);
  const record: TakeRecord = {
    ...now.record,
    state: 'not kept',
    take: writeTake({ ...now.take, ...notesOf(now.events) }),
  };
  // what is still being written is in it
  now.written = now.events.length;
  await now.writing?.catch(() => undefined);
  // where the disk is full it is shown all the same, told, and can be saved to a file
  await finishTake(record);
  return record;
}

/**
 * Records while it is switched on and the tune is played. What ends is shown.
 * @param elsewhere whether something else than the tune is practised
 * @returns how to stop
 */
export function followRecording(elsewhere: () => boolean): () => void {
  isElsewhere = elsewhere;
  let sounded = false;
  let stopCounting: (() => void) | undefined;
  const ends = [
    onPlayed(hear),
    $moment.subscribe((moment) => {
      if (moment?.kind !== 'ending') {
        stopCounting?.();
        stopCounting = undefined;
      } else if (stopCounting === undefined && running !== undefined && !elsewhere()) {
        let heard = 0;
        stopCounting = everySecond((seconds) => {
          heard += seconds;
          if (heard >= ENDING_SECONDS) pause();
        });
      }
    }),
    $playing.subscribe((playing) => {
      const sounds = isSounding(playing);
      if (sounds && !sounded && $records.get() && !elsewhere()) {
        $nothingPlayed.set(false);
        silenceDemonstration(true);
      }
      const hasEnded = sounded && !sounds;
      sounded = sounds;
      if (!hasEnded || !$records.get() || elsewhere()) return;
      const wasPlayed = running !== undefined;
      void endTake().then((record) => {
        if (record === null) $nothingPlayed.set(!wasPlayed);
        else {
          putDown();
          $takeShown.set(record);
        }
      });
    }),
  ];
  return () => {
    for (const end of ends) end();
    stopCounting?.();
    void endTake();
    $takeShown.set(null);
  };
}
