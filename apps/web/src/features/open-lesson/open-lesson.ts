import {
  readAround,
  readLessonDocument,
  slotsKept,
  writeLessonDocument,
  ENGINE_VERSION,
  type Chart,
  type Choices,
  type Issue,
  type Lesson,
  type SlotId,
} from '@fivespan/core';
import { atom, computed } from 'nanostores';
import type { LessonStore, StorageFault, StoredLesson } from '../../platform/storage/index.ts';
import { runJob } from '../../platform/workers/index.ts';
import type { LessonOrder } from './lesson-job.ts';

/** The lesson on the desk: what is kept of it, and what its text reads as. */
export interface OpenLesson {
  readonly id: string;
  readonly chartText: string;
  readonly choices: Choices;
  /** The music engine that last made it (document.ts). */
  readonly engine: number;
  /** The chart as far as it can be read; null where nothing can. Ids are those of the text as it is now. */
  readonly chart: Chart | null;
  /** Everything wrong with the text, errors and warnings, in its order. */
  readonly issues: readonly Issue[];
  readonly canUndo: boolean;
  readonly canRedo: boolean;
  /** Whether the last change is on the disk; what stands in the way where it cannot be. */
  readonly saving: 'saved' | 'saving' | StorageFault;
  /** Set where another tab has changed the lesson and this tab's own change could not be kept over it. */
  readonly overtaken: boolean;
}

/** What is computed of the open lesson, and for which text and choices. */
export interface ComputedLesson {
  readonly chartText: string;
  readonly choices: Choices;
  readonly lesson: Lesson;
}

/** A change of what is kept. Pins of slots that are gone fall away, others follow their slots. */
export interface LessonChange {
  readonly chartText?: string;
  readonly choices?: Partial<Choices>;
  /** Changes of one name that follow each other are undone together: typing a chord, moving a slider. */
  readonly together?: string;
}

interface Kept {
  readonly chartText: string;
  readonly choices: Choices;
  /** The last chart that could be read: the one whose slots the pins name. */
  readonly pinned: Chart | null;
}

export const $open = atom<OpenLesson | null>(null);

/** The last computed lesson; it lags behind the text by a moment. */
export const $made = atom<ComputedLesson | null>(null);

/** The computed lesson, where it is of the text and choices as they are now. */
export const $lesson = computed([$open, $made], (open, made) =>
  open !== null && made !== null && made.chartText === open.chartText && made.choices === open.choices
    ? made.lesson
    : null,
);

const MOST_UNDONE = 500;

interface Desk {
  readonly store: LessonStore;
  readonly id: string;
  /** What is shown, and what the next write keeps. */
  newest: Kept;
  /** Revision of what is stored, as far as this tab knows. */
  revision: number;
  past: { readonly kept: Kept; readonly together: string | undefined }[];
  future: Kept[];
  /** Writes go one after the other; only the newest of those that wait is made. */
  writing: Promise<void>;
  waiting: boolean;
}

let desk: Desk | undefined;

/** Numbers lessons that are computed, so that a late answer to an old question is dropped. */
let asked = 0;
let asking: AbortController | undefined;

function shown(id: string, kept: Kept, engine: number, before: OpenLesson | null): OpenLesson {
  // the text is read anew only where it changed: objects that stay the same let what shows them stay too
  const read =
    before !== null && before.chartText === kept.chartText
      ? { chart: before.chart, issues: before.issues }
      : readAround(kept.chartText);
  return {
    id,
    chartText: kept.chartText,
    choices: kept.choices,
    engine,
    chart: read.chart,
    issues: read.issues,
    canUndo: (desk?.past.length ?? 0) > 0,
    canRedo: (desk?.future.length ?? 0) > 0,
    saving: before?.saving ?? 'saved',
    overtaken: before?.overtaken ?? false,
  };
}

/** The pins of a chart carried over to its edited text: each follows its slot, those of slots that are gone fall away. */
function pinsCarried(pins: Choices['pins'], before: Chart, after: Chart): Choices['pins'] {
  const now = slotsKept(before, after);
  const carried = <Pin extends { readonly slot: string }>(list: readonly Pin[]): Pin[] =>
    list.flatMap((pin) => {
      const slot = now.get(pin.slot as SlotId);
      return slot === undefined ? [] : [{ ...pin, slot }];
    });
  return {
    analysis: { regions: carried(pins.analysis.regions), numerals: carried(pins.analysis.numerals) },
    plan: { chordScales: carried(pins.plan.chordScales), positions: carried(pins.plan.positions) },
  };
}

function compute(): void {
  const open = $open.get();
  asking?.abort(new DOMException('a newer question', 'AbortError'));
  if (open === null || open.chart === null) return;
  const { chart, chartText, choices } = open;
  const number = ++asked;
  asking = new AbortController();
  const order: LessonOrder = { chart, choices, key: null };
  runJob<LessonOrder, Lesson>('make lesson', order, { urgency: 'now', signal: asking.signal }).then(
    (lesson) => {
      if (number === asked) $made.set({ chartText, choices, lesson });
    },
    () => {
      // overtaken by a newer question, or told by the next
    },
  );
}

/** Keeps what is shown, after whatever is being written now. */
function save(): void {
  const now = desk;
  if (now === undefined || now.waiting) return;
  now.waiting = true;
  now.writing = now.writing.then(async () => {
    now.waiting = false;
    // also where the desk has been cleared meanwhile: what was changed is kept
    const { chartText, choices, pinned } = now.newest;
    const outcome = await now.store.write(now.id, now.revision, {
      title: pinned?.title ?? '',
      document: writeLessonDocument({ chartText, choices, engine: ENGINE_VERSION }),
      changedAt: Date.now(),
    });
    if (outcome.kind === 'written') now.revision = outcome.revision;
    const after = $open.get();
    if (desk !== now || after === null) return;
    if (outcome.kind === 'written') {
      $open.set({ ...after, saving: now.waiting ? 'saving' : 'saved' });
    } else if (outcome.kind === 'overtaken') {
      $open.set({ ...after, overtaken: true });
    } else {
      $open.set({ ...after, saving: outcome.fault });
    }
  });
}

function show(kept: Kept): void {
  const before = $open.get();
  if (desk === undefined || before === null) return;
  desk.newest = kept;
  $open.set({ ...shown(before.id, kept, ENGINE_VERSION, before), saving: 'saving' });
  compute();
  save();
}

/**
 * Changes the open lesson: shown at once, computed in a worker, kept on the disk.
 * @example changeLesson({ chartText: 'Fm7 | Bb7 | Ebmaj7' })
 */
export function changeLesson(change: LessonChange): void {
  const open = $open.get();
  if (desk === undefined || open === null) return;
  const chartText = change.chartText ?? open.chartText;
  let { choices, pinned } = desk.newest;
  if (chartText !== open.chartText) {
    const after = readAround(chartText).chart;
    if (after !== null) {
      if (pinned !== null) choices = { ...choices, pins: pinsCarried(choices.pins, pinned, after) };
      pinned = after;
    }
  }
  choices = { ...choices, ...change.choices };
  const last = desk.past.at(-1);
  const goesOn = change.together !== undefined && last?.together === change.together && desk.future.length === 0;
  if (!goesOn) {
    desk.past.push({ kept: desk.newest, together: change.together });
    if (desk.past.length > MOST_UNDONE) desk.past.shift();
  }
  desk.future = [];
  show({ chartText, choices, pinned });
}

/** Takes the last change back. */
export function undo(): void {
  const last = desk?.past.pop();
  if (desk === undefined || last === undefined) return;
  desk.future.push(desk.newest);
  show(last.kept);
}

/** Makes a change again that was taken back. */
export function redo(): void {
  const next = desk?.future.pop();
  if (desk === undefined || next === undefined) return;
  desk.past.push({ kept: desk.newest, together: undefined });
  show(next);
}

/**
 * Puts a stored lesson on the desk.
 * @returns whether its document could be read; what is wrong is in the result
 */
export function openLesson(store: LessonStore, stored: StoredLesson): ReturnType<typeof readLessonDocument> {
  const read = readLessonDocument(stored.document);
  if (!read.ok) return read;
  closeLesson();
  const { chartText, choices, engine } = read.value;
  const kept: Kept = { chartText, choices, pinned: readAround(chartText).chart };
  desk = {
    store,
    id: stored.id,
    newest: kept,
    revision: stored.revision,
    past: [],
    future: [],
    writing: Promise.resolve(),
    waiting: false,
  };
  $open.set(shown(stored.id, kept, engine, null));
  compute();
  return read;
}

/** Clears the desk. What was changed is kept already, or on its way to the disk. */
export function closeLesson(): void {
  asking?.abort(new DOMException('closed', 'AbortError'));
  desk = undefined;
  $open.set(null);
  $made.set(null);
}
