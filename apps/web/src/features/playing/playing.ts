import { formatKey, LONGEST_PROGRAMME_MINUTES } from '@fivespan/core';
import { atom } from 'nanostores';
import { everyFrame, type AudioOut, type DeckReport } from '../../platform/audio/index.ts';
import { keepAwake } from '../../platform/awake/index.ts';
import { runJob } from '../../platform/workers/index.ts';
import { lengthMinutes } from '../programme/index.ts';
import { $settings, changeSettings } from '../settings/index.ts';
import { SOUND_HOME, soundOut, stopHearing } from '../sound/index.ts';
import { beginOf, courseFrom, loopSeconds, turnSeconds, type Course, type LoopBars } from './course.ts';
import { TOO_LONG } from './too-long.ts';
import type { FormView } from './form-view.ts';
import { momentAt, type Moment } from './moment.ts';
import type { BarPlace, Piece } from './piece.ts';
import { PieceSupply } from './piece-supply.ts';
import { FASTEST_RATE, SLOWEST_RATE } from './rates.ts';
import { $practice, practise, WHOLE_PROGRAMME, type PlayerMix, type Practice } from './practice.ts';
import { isSamePlayable, type Playable } from './playable.ts';
import type { FormOrder, ProgrammeOrder, ProgrammeOutline } from './programme-job.ts';

/** How playing stands. */
export type Playing =
  // nothing to play yet: the chart cannot be read, or the lesson is still being made
  | { readonly kind: 'nothing' }
  | { readonly kind: 'preparing' }
  | { readonly kind: 'ready' }
  // asked to start, and waiting for the first sound
  | { readonly kind: 'starting' }
  | { readonly kind: 'counting in' | 'playing' }
  | { readonly kind: 'paused'; readonly at: BarPlace }
  | { readonly kind: 'ended' }
  | { readonly kind: 'failed'; readonly why: 'too long' | 'no sound' | 'other'; readonly message: string };

export const $playing = atom<Playing>({ kind: 'nothing' });

/** What is to be seen now; null while nothing is played. */
export const $moment = atom<Moment | null>(null);

/** The piece that is ready; null while there is none. */
export const $piece = atom<Piece | null>(null);

/** A piece on the deck. */
interface Stage {
  readonly out: AudioOut;
  readonly piece: Piece;
  readonly supply: PieceSupply;
  course: Course;
  /** Loop passes before this start. */
  passesBefore: number;
  /** The last report's. */
  passes: number;
  /** Whether the deck has left its end since it was started: what it still says of that is not this start's end. */
  hasBegun: boolean;
}

let stage: Stage | undefined;
let last = 0;
let asking: AbortController | undefined;
let startWanted: BarPlace | null = null;
let stopFrames: (() => void) | undefined;
let stopListening: (() => void) | undefined;

let prepared: Playable | undefined;

export function isSounding({ kind }: Playing): boolean {
  return kind === 'starting' || kind === 'counting in' || kind === 'playing';
}

/**
 * Makes a programme ready, so that it starts at once. Call again when lesson or programme have changed: what is ready stays.
 * @param asked null where there is nothing to play
 */
export async function prepareProgramme(asked: Playable | null): Promise<void> {
  if (asked === null) {
    leave();
    return;
  }
  if (prepared !== undefined && isSamePlayable(prepared, asked)) return;
  leave();
  practise(asked.lessonId);
  prepared = asked;
  const own = (asking = new AbortController());
  if (asked.drill === undefined && lengthMinutes(asked.programme) > LONGEST_PROGRAMME_MINUTES) {
    $playing.set({ kind: 'failed', why: 'too long', message: '' });
    return;
  }
  $playing.set({ kind: 'preparing' });
  try {
    const piece = await makePiece(asked, own.signal);
    const out = await soundOut();
    if (own.signal.aborted) return;
    const supply = new PieceSupply(out, piece, fail);
    const course = courseFrom(piece, { chorus: 0, bar: 0 }, null);
    const now: Stage = { out, piece, supply, course, passesBefore: 0, passes: 0, hasBegun: false };
    own.signal.addEventListener('abort', () => supply.end());
    await supply.begin(course);
    if (own.signal.aborted) return;
    stage = now;
    const ends = [out.listen('programme', follow), out.onInterrupted(pause)];
    stopListening = () => {
      for (const end of ends) end();
    };
    $piece.set(piece);
    // bars and choruses of another form may not be there
    $practice.set({ ...$practice.get(), start: WHOLE_PROGRAMME.start, loop: null });
    sendPractice(now, $practice.get());
    $playing.set({ kind: 'ready' });
    if (startWanted !== null) void start(startWanted);
  } catch (error) {
    if (!own.signal.aborted) fail(error);
  }
}

/** Notes and forms of a programme: in pieces of work, so that others get their turn between them. */
async function makePiece({ chart, choices, programme, drill, take }: Playable, signal: AbortSignal): Promise<Piece> {
  const number = ++last;
  const outline = await runJob<ProgrammeOrder, ProgrammeOutline>(
    'play programme',
    { number, chart, choices, programme, drill, take },
    { home: SOUND_HOME, signal },
  );
  if (outline.forms !== null) return { ...outline, forms: outline.forms };
  const forms = new Map<string, FormView>();
  for (const { key } of outline.segments) {
    const name = formatKey(key);
    if (forms.has(name)) continue;
    forms.set(name, await runJob<FormOrder, FormView>('programme form', { chart, choices, key }, { signal }));
  }
  return { ...outline, forms: outline.segments.map(({ key }) => forms.get(formatKey(key)) as FormView) };
}

/** Makes ready again what could not be made ready. */
export async function tryAgain(): Promise<void> {
  await prepareProgramme(failed);
}

let failed: Playable | null = null;

function fail(error: unknown): void {
  failed = prepared ?? null;
  const message = error instanceof Error ? error.message : String(error);
  const isTooLong = message.includes(TOO_LONG);
  const isSilent = /AudioContext|AudioWorklet|worklet|addModule/u.test(message);
  leave();
  $playing.set({ kind: 'failed', why: isTooLong ? 'too long' : isSilent ? 'no sound' : 'other', message });
}

/** Puts everything away. */
function leave(): void {
  asking?.abort(new DOMException('another programme', 'AbortError'));
  asking = undefined;
  prepared = undefined;
  stopListening?.();
  stopListening = undefined;
  rest();
  if (stage !== undefined) stage.out.order('programme', { kind: 'pause' });
  stage = undefined;
  $moment.set(null);
  $piece.set(null);
  $playing.set({ kind: 'nothing' });
}

/** Ends playing and forgets what is ready. Call when the screen is left. */
export function leavePlaying(): void {
  startWanted = null;
  leave();
  stopHearing();
}

/** No longer follows the music on the screen. */
function rest(): void {
  stopFrames?.();
  stopFrames = undefined;
  keepAwake(false);
}

function sendPractice({ out, piece }: Stage, { rate, mix }: Practice): void {
  out.order('programme', { kind: 'rate', rate });
  for (const [player, { plays }] of piece.players.entries())
    out.order('programme', { kind: 'player', player, ...mix[plays] });
}

/**
 * Plays from a bar on, counted in. Call from a key, click or pedal. While the programme is still being made ready it starts as soon as it is.
 * @param from the bar chosen in the practice settings unless told; with a loop its first bar
 */
export async function start(from: BarPlace = $practice.get().start): Promise<void> {
  // within the key or click: browsers let nothing sound otherwise
  const waking = soundOut().then((out) => out.wake());
  if (stage === undefined) {
    startWanted = from;
    await waking;
    return;
  }
  const now = stage;
  startWanted = null;
  now.hasBegun = false;
  $playing.set({ kind: 'starting' });
  await waking;
  if (stage !== now || $playing.get().kind !== 'starting') return;
  const { out, piece, supply } = now;
  now.course = courseFrom(piece, from, $practice.get().loop, prepared?.programme.aids.restBars ?? 0);
  now.passesBefore = now.passes;
  const { jump, startSeconds, earlySeconds } = now.course;
  const turn = jump === null ? null : turnSeconds(piece, jump, earlySeconds);
  out.order('programme', { kind: 'pause' });
  out.order('programme', { kind: 'seek', seconds: startSeconds });
  out.order('programme', { kind: 'loop', loop: loopSeconds(piece, now.course) });
  out.order('programme', {
    kind: 'jump',
    jump: turn === null ? null : { fromSeconds: turn.leave, toSeconds: turn.enter },
  });
  supply.follow(startSeconds, now.course);
  out.order('programme', { kind: 'play' });
  keepAwake(true);
  stopFrames ??= everyFrame(show);
}

/** Starts from a bar; before the very first start the cautions are shown instead, and begin it when they are read. */
export async function startWithCare(from: BarPlace): Promise<void> {
  if ($settings.get().cautionsSeen) await start(from);
  else $isCautioned.set(true);
}

/** Holds; going on begins with the bar where it was held. */
export function pause(): void {
  startWanted = null;
  if (!isSounding($playing.get())) return;
  stage?.out.order('programme', { kind: 'pause' });
  const moment = $moment.get();
  rest();
  const { loop } = $practice.get();
  if (moment === null) $playing.set({ kind: 'ready' });
  else $playing.set({ kind: 'paused', at: beginOf({ chorus: moment.chorus, bar: moment.bar }, loop) });
}

/** Whether the cautions are to be read before the first start. */
export const $isCautioned = atom(false);

/** The answer to the cautions: read, or not now. */
export function answerCautions(goOn: boolean): void {
  $isCautioned.set(false);
  if (!goOn) return;
  changeSettings({ cautionsSeen: true });
  startOrPause();
}

/**
 * What the one big control, the space bar and the pedal do. Before the very first start the cautions are shown; once more, and they
 * are read.
 */
export function startOrPause(): void {
  const playing = $playing.get();
  if ($isCautioned.get()) answerCautions(true);
  else if (startWanted !== null) startWanted = null;
  else if (isSounding(playing)) pause();
  else if (!$settings.get().cautionsSeen) $isCautioned.set(true);
  else if (playing.kind === 'paused') void start(playing.at);
  else if (playing.kind !== 'failed' && playing.kind !== 'nothing') void start();
}

/** Away from play view, back to the programme. */
export function putDown(): void {
  pause();
  $moment.set(null);
  if (stage !== undefined) $playing.set({ kind: 'ready' });
}

/** What the deck says of itself. */
function follow({ positionSeconds, state, loopPasses }: DeckReport): void {
  if (stage === undefined) return;
  stage.passes = loopPasses;
  if (state === 'playing' || state === 'waiting') stage.supply.follow(positionSeconds, stage.course);
  if (state !== 'ended') stage.hasBegun = true;
  else if (stage.hasBegun && isSounding($playing.get())) {
    rest();
    $playing.set({ kind: 'ended' });
  }
}

/** Where the piece is in what is heard now. */
export interface HeardNow {
  readonly piece: Piece;
  readonly course: Course;
  readonly positionSeconds: number;
  /** How often the loop has begun again since it was started. */
  readonly passes: number;
  /** Share of the programme's tempi. */
  readonly rate: number;
}

/** Where the piece is in what is heard now; null where nothing sounds. */
export function heardNow(): HeardNow | null {
  if (stage === undefined || !isSounding($playing.get())) return null;
  const { out, piece, course, passesBefore } = stage;
  const heard = out.positionNow('programme');
  if (heard === undefined || heard.state !== 'playing') return null;
  const passes = Math.max(0, heard.loopPasses - passesBefore);
  return { piece, course, positionSeconds: heard.positionSeconds, passes, rate: $practice.get().rate };
}

/** Shows what is heard. Called before each frame. */
function show(): void {
  if (stage === undefined) return;
  const { out, piece, course, passesBefore } = stage;
  const heard = out.positionNow('programme');
  // what was before the start may still be on its way to the ear
  if (heard === undefined || heard.state === 'paused' || heard.state === 'ended') return;
  const moment = momentAt(piece, course, heard.positionSeconds, heard.loopPasses > passesBefore);
  if (moment.id !== $moment.get()?.id) $moment.set(moment);
  const kind = moment.kind === 'count-in' ? 'counting in' : 'playing';
  if (heard.state === 'playing' && $playing.get().kind !== kind) $playing.set({ kind });
}

/**
 * Goes to a bar of the chorus that is played: at once while it plays, counted in; else that is where it will begin. A bar outside
 * those that are looped ends the loop.
 */
export function goToBar(place: BarPlace): void {
  const { loop } = $practice.get();
  const isInLoop = beginOf(place, loop) === place;
  changePractice(isInLoop ? { start: place } : { start: place, loop: null });
  if (isSounding($playing.get())) void start(place);
}

/** Plays some bars of a chorus again and again, from now on; null ends that, and it goes on where it is. */
export function loopBars(loop: LoopBars | null): void {
  changePractice(loop === null ? { loop } : { loop, start: { chorus: loop.chorus, bar: loop.fromBar } });
  if (loop !== null && isSounding($playing.get())) void start();
  else if (loop === null && stage !== undefined) {
    const { course, piece, out } = stage;
    const { loop: ended, rest, earlySeconds } = course;
    out.order('programme', { kind: 'loop', loop: null });
    stage.course = { ...course, loop: null, rest: null };
    // in the rest: on past the bars, not on from where the rest stands in the piece
    const isResting = rest !== null && $moment.get()?.kind === 'rest';
    if (ended === null || !isResting || !isSounding($playing.get())) return;
    const jump = { leave: rest.to, enter: ended.leave };
    const { leave, enter } = turnSeconds(piece, jump, earlySeconds);
    stage.course = { ...stage.course, jump };
    out.order('programme', { kind: 'jump', jump: { fromSeconds: leave, toSeconds: enter } });
  }
}

/** Changes how it is practised; at once where that can be heard at once. */
export function changePractice(change: Partial<Practice>): void {
  const rate = Math.max(SLOWEST_RATE, Math.min(FASTEST_RATE, change.rate ?? $practice.get().rate));
  $practice.set({ ...$practice.get(), ...change, rate });
  if (stage !== undefined) sendPractice(stage, $practice.get());
  // who chooses another place while it is held goes on from there
  const isElsewhere = change.start !== undefined || change.loop !== undefined;
  const { start: from, loop } = $practice.get();
  if (isElsewhere && $playing.get().kind === 'paused') $playing.set({ kind: 'paused', at: beginOf(from, loop) });
}

export function changeMix(player: keyof Practice['mix'], change: Partial<PlayerMix>): void {
  const { mix } = $practice.get();
  changePractice({ mix: { ...mix, [player]: { ...mix[player], ...change } } });
}
