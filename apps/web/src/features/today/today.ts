/** Today: a step that is practised, round after round, and what became of it. */
import { formatKey, parseKey, type DrillOrder, type Key, type Programme } from '@fivespan/core';
import { atom, computed } from 'nanostores';
import { dayText, everySecond, newId, steadyMs } from '../../platform/clock/index.ts';
import { $open } from '../open-lesson/index.ts';
import {
  $moment,
  $piece,
  $playing,
  changePractice,
  isSounding,
  pause,
  playableOf,
  prepareProgramme,
  putDown,
  startWithCare,
} from '../playing/index.ts';
import { $programme } from '../programme/index.ts';
import { $settings } from '../settings/index.ts';
import { onStrike } from '../sound/index.ts';
import { answerOf, chordBegins, keyStruck, NEW_PASS, type Criterion, type HeardPass } from './heard-pass.ts';
import {
  afterPass,
  gonOn,
  goTo,
  keptOf,
  newLadder,
  rungOf,
  withLimit,
  type Ladder,
  type LadderOrder,
  type PassAnswer,
} from './ladder.ts';
import { isMeantAt } from './meant-at.ts';
import { answered, begins, EMPTY_LOG, rests, ticks, type Log } from './log.ts';
import { keepEntry, keepLadder, keptLadder } from './practice-log.ts';
import { keysOf, limitOf, meantOf, playedOf, tempiOf, type Step } from './steps.ts';

/** What is practised just now. */
export interface Today {
  readonly lessonId: string;
  readonly title: string;
  readonly step: Step;
  readonly ladder: Ladder;
  /** The drill that was chosen, for the step of that name. */
  readonly drill: DrillOrder | null;
  /** What is played of it in the key of now: a drill, or the tune by this programme. */
  readonly played: DrillOrder | null;
  readonly programme: Programme;
  /** Whether the bars are through; what was struck last may still ring. */
  readonly isOver: boolean;
  /** Whether a pass has just ended and the player is asked what it was. */
  readonly isAsked: boolean;
  /** What the pass before was, and whether it was heard rather than told. */
  readonly last: { readonly answer: PassAnswer; readonly isHeard: boolean } | null;
}

export const $today = atom<Today | null>(null);

/** When a pass counts as clean, and how many in a row climb: remembered in this browser. */
export const $criterion = computed($settings, ({ criterion }): Criterion & { readonly passes: number } => criterion);

/** Whether something hurts: nothing is played, and the cautions stand there. */
export const $hurts = atom(false);

/** Seconds practised since the page was opened, or since the last rest. */
export const $practised = atom(0);

/** After so long a rest is offered: half an hour less the five minutes of it (docs/sources.md, 9). */
export const REST_AFTER_SECONDS = 25 * 60;

let log: Log = EMPTY_LOG;
let pass: HeardPass = NEW_PASS;
/** Whether the ladder has moved since what is played was made: the next round catches up with it. */
let hasMoved = false;
/** Taken off what is heard: the way from a key to the program. */
let changedAtMs = 0;

const keyOf = (ladder: Ladder): Key => parseKey(rungOf(ladder).key) as Key;

function withPlayed(today: Omit<Today, 'programme' | 'played'>, lessons: Programme): Today {
  const { step, ladder } = today;
  const top = ladder.tempi.at(-1) ?? 0;
  const { programme, drill } = playedOf(step, keyOf(ladder), top, {
    programme: lessons,
    drill: today.drill,
  });
  return { ...today, programme, played: drill };
}

/**
 * Begins a step where its ladder stood. Call from a key or click.
 * @param drill the drill that was chosen, for the step of that name
 */
export async function startStep(
  step: Step,
  home: Key,
  {
    order,
    isAllKeys,
    drill,
  }: { readonly order: LadderOrder; readonly isAllKeys: boolean; readonly drill: DrillOrder | null },
): Promise<void> {
  const open = $open.get();
  const lessons = $programme.get();
  if (open?.chart == null || lessons === null) return;
  $hurts.set(false);
  const fresh = newLadder(order, keysOf(home, isAllKeys), tempiOf(step, open.chart));
  const kept = await keptLadder(open.id, step);
  const ladder = kept === null ? fresh : gonOn(fresh, kept);
  const title = open.chart.title ?? '';
  const today = { lessonId: open.id, title, step, ladder, drill, isOver: false, isAsked: false, last: null };
  $today.set(withPlayed(today, lessons));
  await round();
}

/** Plays one round: the bars once through, in the key and at the tempo of the ladder. */
async function round(): Promise<void> {
  const today = $today.get();
  const open = $open.get();
  const lessons = $programme.get();
  if (today === null || lessons === null) return;
  pass = NEW_PASS;
  hasMoved = false;
  const next = withPlayed({ ...today, isOver: false, isAsked: false }, lessons);
  $today.set(next);
  void prepareProgramme(playableOf(open, next.programme, next.played));
  atItsTempo();
  await startWithCare({ chorus: 0, bar: 0 });
}

/** The piece was made at the fastest tempo that the hand allows: the ladder goes no higher, and playing is as much slower as its rung. */
function atItsTempo(): void {
  const today = $today.get();
  const piece = $piece.get();
  const fastest = piece?.segments[0]?.tempoBpm;
  if (today === null || fastest === undefined) return;
  // the tune has fastest tempi of its own; a drill was made no faster
  const limit = limitOf(today.step);
  const limitBpm = (limit === null ? undefined : piece?.forms[0]?.limitsBpm[limit]) ?? fastest;
  const ladder = withLimit(today.ladder, Math.min(fastest, limitBpm));
  $today.set({ ...today, ladder });
  changePractice({ rate: rungOf(ladder).tempoBpm / fastest, start: { chorus: 0, bar: 0 }, loop: null });
}

/** Another rung. What is played is made for it when the next round begins: until then the last chord may ring. */
function climbTo(ladder: Ladder, last: Today['last']): void {
  const today = $today.get();
  if (today === null) return;
  hasMoved = true;
  $today.set({ ...today, ladder, last, isAsked: false });
  void keepLadder(today.lessonId, today.step, keptOf(ladder));
}

/** What is played becomes that of the rung, without a start. */
function catchUp(): void {
  const today = $today.get();
  const lessons = $programme.get();
  if (today === null || lessons === null) return;
  hasMoved = false;
  $today.set(withPlayed({ ...today, isOver: false }, lessons));
  atItsTempo();
}

/** Begun by the pedal or the space bar: another pass, where the ladder stands. */
function begunAnew(): void {
  const today = $today.get();
  pass = NEW_PASS;
  if (today === null) return;
  if (today.isAsked || today.isOver) $today.set({ ...today, isOver: false, isAsked: false });
  if (!hasMoved) return;
  const [chorus] = today.programme.choruses;
  if (chorus !== undefined && formatKey(chorus.key) === rungOf(today.ladder).key) catchUp();
  else void round();
}

/** The bars are through: what was heard counts; where nothing was, the player is asked, while the last chord rings. */
function passIsOver(): void {
  const today = $today.get();
  if (today === null || today.isOver) return;
  const heard = answerOf(pass, $criterion.get());
  $today.set({ ...today, isOver: true, isAsked: heard === null });
  if (heard !== null) answer(heard, true);
}

/** A pass was clean, or not yet: the ladder moves, the log has it. @param isHeard by the machine, not told by the player */
function answer(given: PassAnswer, isHeard: boolean): void {
  const today = $today.get();
  if (today === null) return;
  log = answered(log, given);
  keepOpen();
  climbTo(afterPass(today.ladder, given, $criterion.get().passes), { answer: given, isHeard });
}

/** The player says what the pass was; the next round begins at once. */
export function tellPass(given: PassAnswer): void {
  answer(given, false);
  void round();
}

/** One more round, from wherever it stands. */
export function nextRound(): void {
  void round();
}

/** Another key or tempo, because the player wants it. */
export function chooseRung(key: number, rung: number): void {
  const today = $today.get();
  if (today === null) return;
  pause();
  climbTo(goTo(today.ladder, key, rung), null);
  catchUp();
  putDown();
}

/** Something hurts: it stops at once. Nothing is judged by it. */
export function itHurts(): void {
  pause();
  endToday();
  $hurts.set(true);
}

/** Back to the tune. */
export function endToday(): void {
  putDown();
  log = rests(log);
  $today.set(null);
  changePractice({ rate: 1 });
}

/** The rest is taken: minutes are counted anew. */
export function takeRest(): void {
  pause();
  $practised.set(0);
}

function keepOpen(): void {
  const entry = log.entries.find(({ id }) => id === log.open);
  if (entry !== undefined) void keepEntry(entry);
}

/** What is practised counts as this in the log. */
function tickWith(
  about: { readonly step: string; readonly key: string; readonly tempoBpm: number | null },
  seconds: number,
): void {
  const open = $open.get();
  if (open === null) return;
  log = begins(log, { day: dayText(), title: open.chart?.title ?? '', lessonId: open.id, ...about }, newId());
  log = ticks(log, seconds);
  $practised.set($practised.get() + Math.min(seconds, 10));
  keepOpen();
}

/** Time spent looking for positions: without a tempo. */
let isSeeking: (() => { readonly key: string } | null) | undefined;
export function countSeeking(about: typeof isSeeking): () => void {
  isSeeking = about;
  return () => (isSeeking = undefined);
}

/** Follows what is practised from now on. @param delayMs from a key to the program, taken off. @returns how to stop */
export function followToday(delayMs: () => number): () => void {
  const ends = [
    everySecond((seconds) => {
      const today = $today.get();
      const seeking = isSeeking?.() ?? null;
      if (seeking !== null) tickWith({ step: 'until found', tempoBpm: null, ...seeking }, seconds);
      else if (today !== null && !today.isOver && isSounding($playing.get()))
        tickWith({ step: today.step, ...rungOf(today.ladder) }, seconds);
      else if (isSounding($playing.get())) $practised.set($practised.get() + Math.min(seconds, 10));
    }),
    $piece.subscribe(atItsTempo),
    $moment.subscribe((moment) => {
      if ($today.get() === null || moment === null) return;
      const id = moment.kind === 'chorus' ? moment.chordId : null;
      if (id !== (pass.now?.id ?? null)) changedAtMs = steadyMs();
      pass = chordBegins(pass, moment.families.length === 0 ? null : id);
      // on its first beat the last chord is still struck
      if (moment.kind === 'ending' && moment.beat > 0) passIsOver();
    }),
    onStrike((key) => {
      const today = $today.get();
      const moment = $moment.get();
      if (today === null || moment === null || moment.kind !== 'chorus') return;
      const isLate = steadyMs() - changedAtMs < delayMs();
      pass = keyStruck(pass, isMeantAt(moment, meantOf(today.step), key, $settings.get().way === 'free hand'), isLate);
    }),
    $playing.subscribe(({ kind }) => {
      if (kind === 'starting') begunAnew();
      if (kind === 'ended') passIsOver();
    }),
  ];
  return () => {
    for (const end of ends) end();
    log = rests(log);
    $today.set(null);
  };
}
