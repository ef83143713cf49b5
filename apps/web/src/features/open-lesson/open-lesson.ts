import { ENGINE_VERSION, readLessonDocument, type Chart, type Choices, type Issue } from '@fivespan/core';
import { atom, computed } from 'nanostores';
import { saveFile, fileNameOf } from '../../platform/files/index.ts';
import { askToPersist, type LessonStore, type StorageFault, type StoredLesson } from '../../platform/storage/index.ts';
import { headingOf, titleApart, withTitle } from './heading.ts';
import { History } from './history.ts';
import { Keeping, type Draft } from './keeping.ts';
import { documentOf, keptOf, readingOf, readKept, withText, type Kept } from './kept.ts';
import { $made, make, stopMaking, type Wanted } from './making.ts';

/** The lesson on the desk: what is kept of it, and what its text reads as. */
export interface OpenLesson {
  readonly id: string;
  readonly chartText: string;
  readonly choices: Choices;
  /** The music engine that last made it (document.ts). */
  readonly engine: number;
  /** Made by another music engine, which made other music perhaps: nothing is computed until `goOnWithEngine`. */
  readonly isHeld: boolean;
  /** The chart as far as it can be read; null where nothing can. Ids are those of the text as it is now. */
  readonly chart: Chart | null;
  /** Everything wrong with the text, errors and warnings, in its order. */
  readonly issues: readonly Issue[];
  readonly canUndo: boolean;
  readonly canRedo: boolean;
  /** Whether the last change is on the disk; what stands in the way where it cannot be. Where `conflict` is set, it is not. */
  readonly saving: 'saved' | 'saving' | StorageFault;
  /** What another tab did that stands in the way of keeping this tab's own change: it changed the lesson, or removed it. */
  readonly conflict: 'changed' | 'removed' | null;
}

/** A change of what is kept. Pins of slots that are gone fall away, others follow their slots. */
export interface LessonChange {
  readonly chartText?: string;
  readonly choices?: Partial<Choices>;
  /** Changes of one name that follow each other are undone together: typing a chord, moving a slider. */
  readonly together?: string;
}

export const $open = atom<OpenLesson | null>(null);

/** The computed lesson, where it is of the text and choices as they are now. */
export const $lesson = computed([$open, $made], (open, made) =>
  open !== null && made !== null && made.chartText === open.chartText && made.choices === open.choices
    ? made.lesson
    : null,
);

/** A lesson that was left with changes that could not be kept; they are still here as long as the page is. */
export interface UnkeptLesson {
  readonly id: string;
  readonly title: string;
  readonly saving: OpenLesson['saving'];
  readonly conflict: OpenLesson['conflict'];
}

export const $unkept = atom<readonly UnkeptLesson[]>([]);

interface Desk {
  readonly keeping: Keeping;
  readonly history: History;
  /** What is shown, and what the next write keeps. */
  newest: Kept;
  /** The pins as the last change of the text has left them. */
  carried?: Choices['pins'];
  engine: number;
  isHeld: boolean;
}

let desk: Desk | undefined;

/** Whether the browser was asked, since the page was opened, not to clear what is kept here. */
let isAsked = false;

let stopHearing: () => void = () => undefined;

/** Lessons that were left: the last one, to be taken up with its history, and those whose changes are not kept. */
let left: Desk[] = [];

/** Rises whenever a lesson is put on the desk or taken from it. */
let turn = 0;

/** To tell after a wait whether the desk is still the same: a lesson that comes late is not put over another. */
export function deskTurn(): number {
  return turn;
}

function draftOf({ newest, engine }: Desk): Draft {
  return { title: headingOf(newest.chartText).title, document: documentOf(newest, engine) };
}

/** Shows the desk as it is now. */
function show(): void {
  if (desk === undefined) return;
  const { newest, engine, isHeld, history, keeping } = desk;
  const before = $open.get();
  // the text is read anew only where it changed: objects that stay the same let what shows them stay too
  const { chart, issues } =
    before !== null && before.id === keeping.id && before.chartText === newest.chartText
      ? before
      : readingOf(newest.chartText);
  const conflict = keeping.conflict?.kind ?? null;
  $open.set({
    id: keeping.id,
    chartText: newest.chartText,
    choices: newest.choices,
    engine,
    isHeld,
    chart,
    issues,
    canUndo: history.canUndo,
    canRedo: history.canRedo,
    saving: keeping.saving,
    conflict,
  });
}

/** While keys follow each other, what is between them is not computed: the hands and the screen have the machine. */
const PAUSE_BETWEEN_KEYS_MS = 120;

/** What is to be computed: the lesson as it is shown, where it can be read and is not held. */
function wanted(): Wanted | null {
  const open = $open.get();
  return open === null || open.chart === null || open.isHeld ? null : { ...open, chart: open.chart };
}

function compute(pauseMs: number = 0): void {
  make(wanted, pauseMs);
}

/** Puts something else on the desk: shown at once, computed, kept. */
function put(kept: Kept, pauseMs: number = 0): void {
  const now = desk;
  if (now === undefined) return;
  now.newest = kept;
  // with the first thing of one's own
  if (!isAsked) void askToPersist();
  isAsked = true;
  now.keeping.keep(() => draftOf(now));
  show();
  compute(pauseMs);
}

/**
 * Changes the open lesson: shown at once, computed in a worker, kept on the disk.
 * @example changeLesson({ chartText: 'Fm7 | Bb7 | Ebmaj7' })
 */
export function changeLesson(change: LessonChange): void {
  if (desk === undefined) return;
  const { newest, history } = desk;
  const text = change.chartText ?? newest.chartText;
  const before = history.note(newest, change.together);
  // a bar that is being typed has fewer chords for a moment: what is pinned goes with the slots there were before
  const pinned =
    desk.carried === newest.choices.pins
      ? { ...before, choices: { ...newest.choices, pins: before.choices.pins } }
      : newest;
  const changed = text === newest.chartText ? newest : withText(pinned, text);
  if (changed !== newest) desk.carried = changed.choices.pins;
  const isTyped = change.together !== undefined;
  put({ ...changed, choices: { ...changed.choices, ...change.choices } }, isTyped ? PAUSE_BETWEEN_KEYS_MS : 0);
}

/** Takes the last change back. */
export function undo(): void {
  const kept = desk?.history.undo(desk.newest);
  if (kept !== undefined) put(kept);
}

/** Makes a change again that was taken back. */
export function redo(): void {
  const kept = desk?.history.redo(desk.newest);
  if (kept !== undefined) put(kept);
}

/** Shows what another tab has made of the lesson; what was here can be had back by undoing. */
function follow(on: Desk, stored: StoredLesson): void {
  const read = readKept(stored.document);
  if (read === undefined) return;
  if (stored.document !== draftOf(on).document) {
    on.history.note(on.newest, 'elsewhere');
    on.newest = read.kept;
  }
  if (!on.isHeld) on.engine = ENGINE_VERSION;
  if (desk !== on) return;
  show();
  compute();
}

function tellUnkept(): void {
  left = left.filter((each, index) => each.keeping.isUnkept || index === left.length - 1);
  $unkept.set(
    left
      .filter(({ keeping }) => keeping.isUnkept)
      .map(({ keeping, newest }) => ({
        id: keeping.id,
        title: headingOf(newest.chartText).title,
        saving: keeping.saving,
        conflict: keeping.conflict?.kind ?? null,
      })),
  );
}

function sit(at: Desk, store: LessonStore): void {
  closeLesson();
  desk = at;
  stopHearing = store.hear((news) => {
    if (news.kind === 'look again' || news.id === at.keeping.id) void at.keeping.look();
  });
  show();
  compute();
  // what was told between its reading and now was not heard
  void at.keeping.look();
}

/**
 * Takes up a lesson that was left with changes that could not be kept.
 * @returns whether there is one of that id
 */
export function takeUpUnkept(store: LessonStore, id: string): boolean {
  const before = left.find(({ keeping }) => keeping.id === id && keeping.isUnkept);
  if (before === undefined) return false;
  left = left.filter((each) => each !== before);
  sit(before, store);
  before.keeping.again();
  tellUnkept();
  return true;
}

/**
 * Puts a stored lesson on the desk; where it is the one that was left last, its history too.
 * @returns whether its document could be read; what is wrong is in the result
 */
export function openLesson(store: LessonStore, stored: StoredLesson): ReturnType<typeof readLessonDocument> {
  const read = readLessonDocument(stored.document);
  if (!read.ok) return read;
  closeLesson();
  const before = left.find(({ keeping }) => keeping.isOf(stored));
  left = left.filter((each) => each !== before);
  if (before !== undefined) {
    sit(before, store);
    return read;
  }
  const { engine } = read.value;
  const made: Desk = {
    newest: keptOf(read.value),
    history: new History(),
    engine,
    isHeld: engine !== ENGINE_VERSION,
    keeping: new Keeping(store, stored, {
      told: () => {
        if (desk === made) show();
        else tellUnkept();
      },
      follow: (theirs) => follow(made, theirs),
    }),
  };
  sit(made, store);
  return read;
}

/** Clears the desk. What was changed is kept already, or on its way to the disk; what could not be is in `$unkept`. */
export function closeLesson(): void {
  turn++;
  stopHearing();
  if (desk !== undefined) left.push(desk);
  desk = undefined;
  $open.set(null);
  stopMaking();
  tellUnkept();
}

/** When every change made so far, of the open lesson and of those left, is on the disk or was refused. */
export async function flush(): Promise<void> {
  await Promise.all([desk, ...left].map(async (each) => await each?.keeping.settled()));
}

/** Whether anything would be lost if the page were closed now. */
export function isAnythingUnkept(): boolean {
  return desk?.keeping.isUnkept === true || left.some(({ keeping }) => keeping.isUnkept);
}

/** A lesson's newest text and choices, which are not on the disk. */
export interface UnkeptDraft {
  readonly id: string;
  /** What another tab did that stands in the way: what is stored then is a lesson of its own. */
  readonly conflict: OpenLesson['conflict'];
  /** Null where no document can be made of it. */
  readonly draft: Draft | null;
}

/** What would be missing from what is stored: of the open lesson, and of those left. */
export function unkeptDrafts(): readonly UnkeptDraft[] {
  return [...left, ...(desk === undefined ? [] : [desk])]
    .filter(({ keeping }) => keeping.isUnkept)
    .map((each) => ({
      id: each.keeping.id,
      conflict: each.keeping.conflict?.kind ?? null,
      draft: readableDraftOf(each),
    }));
}

function readableDraftOf(of: Desk): Draft | null {
  try {
    const draft = draftOf(of);
    return readLessonDocument(draft.document).ok ? draft : null;
  } catch {
    // choices that no document can hold
    return null;
  }
}

/** Tries once more to keep what could not be kept. */
export function saveAgain(): void {
  desk?.keeping.again();
}

/** Goes on with a lesson that another music engine has made: its music is made anew, and may be other music. */
export function goOnWithEngine(): void {
  if (desk?.isHeld !== true) return;
  desk.isHeld = false;
  desk.engine = ENGINE_VERSION;
  put(desk.newest);
}

/** Where another tab changed the lesson too: goes on with theirs. What was here can be had back by undoing. */
export function takeOther(): void {
  const conflict = desk?.keeping.conflict;
  if (conflict?.kind === 'changed') desk?.keeping.takeOther(conflict.stored);
}

/**
 * Where another tab changed the lesson too: what is here goes on as a lesson of its own, theirs stays.
 * @param titleOf the new lesson's title, of the old one
 * @returns the new lesson's id; undefined where it could not be kept
 */
export async function keepBoth(titleOf: (title: string) => string): Promise<string | undefined> {
  const on = desk;
  if (on === undefined) return undefined;
  const before = on.newest;
  const title = headingOf(before.chartText).title;
  const apart = (kept: Kept): Kept => withText(kept, withTitle(kept.chartText, titleApart(title, titleOf)));
  const newest = apart(before);
  const outcome = await on.keeping.keepAs(draftOf({ ...on, newest }), { isSame: false });
  // where it was not kept, the title stays, too: it may be tried again
  if (outcome.kind !== 'written') return undefined;
  if (on.newest === before) {
    on.newest = newest;
  } else if (headingOf(on.newest.chartText).title === title) {
    // typed meanwhile, under the title of both
    on.newest = apart(on.newest);
    on.keeping.keep(() => draftOf(on));
  }
  if (desk === on) {
    show();
    compute();
  }
  return on.keeping.id;
}

/** Where another tab has removed the lesson: puts it back. */
export async function putBackHere(): Promise<void> {
  if (desk !== undefined) await desk.keeping.keepAs(draftOf(desk), { isSame: true });
}

/** Saves the open lesson, or one that was left unkept, as a lesson file: what is shown, whether or not it is kept here. */
export function saveLessonFile(id = desk?.keeping.id): void {
  const on = [desk, ...left].find((each) => each?.keeping.id === id);
  if (on === undefined) return;
  const { title, document } = draftOf(on);
  saveFile(`${fileNameOf(title, 'lesson')}.lesson.json`, document, 'application/json');
}
