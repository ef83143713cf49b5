import { noteMishap } from '../../platform/diagnostics/index.ts';
import {
  freshLesson,
  isAsSeen,
  type LessonStore,
  type SeenLesson,
  type StorageFault,
  type StoredLesson,
  type WriteOutcome,
} from '../../platform/storage/index.ts';

/** What is to be kept. */
export type Draft = Pick<StoredLesson, 'title' | 'document'>;

/** Another tab did something to the lesson that this one's changes cannot be put over. */
export type Conflict = { readonly kind: 'changed'; readonly stored: StoredLesson } | { readonly kind: 'removed' };

/** Who is informed while a lesson is being kept. */
export interface KeepingWatch {
  /** `saving`, `conflict` or the id have changed. */
  readonly told: () => void;
  /** Another tab has changed the lesson, and here nothing waits to be kept. */
  readonly follow: (stored: StoredLesson) => void;
}

/**
 * Keeps one lesson's changes on the disk: one write after the other, of those that wait only the newest, never over a revision
 * that was not read. Once another tab's change stands in the way nothing is written until it is told what to do.
 */
export class Keeping {
  readonly #store: LessonStore;
  readonly #watch: KeepingWatch;
  #id: string;
  /** What is stored, as far as this tab knows. */
  #seen: SeenLesson;
  /** What is not on the disk yet; null where everything is. */
  #draft: (() => Draft) | null = null;
  #writing: Promise<void> = Promise.resolve();
  #isWaiting = false;
  #conflict: Conflict | null = null;
  #fault: StorageFault | null = null;

  constructor(store: LessonStore, stored: StoredLesson, watch: KeepingWatch) {
    this.#store = store;
    this.#watch = watch;
    this.#id = stored.id;
    this.#seen = stored;
  }

  get id(): string {
    return this.#id;
  }

  /** Whether a stored lesson is the one this goes on from. */
  isOf(stored: StoredLesson): boolean {
    return this.#id === stored.id && isAsSeen(stored, this.#seen);
  }

  get conflict(): Conflict | null {
    return this.#conflict;
  }

  get isUnkept(): boolean {
    return this.#draft !== null;
  }

  /** Whether the last change is on the disk; what stands in the way where it cannot be. */
  get saving(): 'saved' | 'saving' | StorageFault {
    return this.#fault ?? this.#store.fault ?? (this.#draft === null ? 'saved' : 'saving');
  }

  /** Keeps a change. @param draft is asked when its turn comes */
  keep(draft: () => Draft): void {
    this.#draft = draft;
    this.#queue();
  }

  /** Tries once more what could not be kept. */
  again(): void {
    if (this.#draft !== null) this.#queue();
  }

  /** When everything that waits now was written, or refused. */
  async settled(): Promise<void> {
    await this.#writing;
  }

  #queue(): void {
    if (this.#isWaiting || this.#conflict !== null) return;
    this.#isWaiting = true;
    this.#writing = this.#writing.then(async () => {
      this.#isWaiting = false;
      await this.#write();
      this.#tell();
    });
  }

  /** What shows how it stands may fail: that is noted, and keeping goes on. */
  #tell(): void {
    try {
      this.#watch.told();
    } catch (error) {
      noteMishap(error);
    }
  }

  async #write(): Promise<void> {
    const draft = this.#draft;
    if (draft === null || this.#conflict !== null) return;
    let made: Draft;
    let outcome: WriteOutcome;
    try {
      made = draft();
      outcome = await this.#store.write(this.#id, this.#seen, made);
    } catch (error) {
      this.#fault = { kind: 'failed', message: error instanceof Error ? error.message : String(error) };
      return;
    }
    if (outcome.kind === 'fault') {
      this.#fault = outcome.fault;
      return;
    }
    this.#fault = null;
    if (outcome.kind === 'written') await this.#prove(draft, { ...made, revision: outcome.revision });
    else if (outcome.stored === undefined) this.#conflict = { kind: 'removed' };
    // both tabs made the same change
    else if (outcome.stored.document === made.document) this.#wrote(draft, outcome.stored);
    else this.#conflict = { kind: 'changed', stored: outcome.stored };
  }

  /** A browser that could not write is not believed: the draft is let go of when it was found on the disk. */
  async #prove(draft: () => Draft, stored: SeenLesson): Promise<void> {
    const before = this.#seen;
    this.#seen = stored;
    if (this.#store.isDoubtful) {
      this.#fault = { kind: 'unproved' };
      this.#tell();
      // something newer waits: that is what is looked for
      if (this.#draft !== draft) return;
      if (!(await this.#store.prove(this.#id, stored))) {
        // tried again, it goes over what was there before: that is what the disk has
        this.#seen = before;
        return;
      }
      this.#fault = null;
    }
    this.#wrote(draft, stored);
  }

  #wrote(draft: () => Draft, stored: SeenLesson): void {
    this.#seen = stored;
    if (this.#draft === draft) this.#draft = null;
  }

  /** Looks what is stored now: follows it, or tells that it stands in the way. */
  async look(): Promise<void> {
    // what waits to be written finds out by itself
    if (this.#draft !== null && this.#conflict === null) return;
    const id = this.#id;
    const seen = this.#seen;
    const read = await this.#store.read(id);
    // written meanwhile: what was read may be from before
    if (seen !== this.#seen) {
      await this.look();
      return;
    }
    if (id !== this.#id || (this.#draft !== null && this.#conflict === null)) return;
    if (read.kind === 'missing') {
      this.#conflict = { kind: 'removed' };
    } else if (read.kind === 'newer') {
      this.#fault = { kind: 'newer' };
    } else if (read.kind === 'read' && (!isAsSeen(read.stored, seen) || this.#conflict !== null)) {
      if (this.#draft !== null) {
        this.#conflict = { kind: 'changed', stored: read.stored };
      } else {
        this.#conflict = null;
        this.#seen = read.stored;
        this.#watch.follow(read.stored);
      }
    }
    this.#tell();
  }

  /** Lets go of what waits to be kept: the lesson goes on from what is stored. */
  takeOther(stored: StoredLesson): void {
    this.#draft = null;
    this.#conflict = null;
    this.#fault = null;
    this.#seen = stored;
    this.#watch.follow(stored);
    this.#tell();
  }

  /** Goes on as a new lesson; `isSame`: as the same one, put back after another tab has removed it. */
  async keepAs(draft: Draft, { isSame }: { readonly isSame: boolean }): Promise<WriteOutcome> {
    const kept = this.#draft;
    await this.#writing;
    const fresh = freshLesson(draft.title, draft.document);
    const lesson = isSame ? { ...fresh, id: this.#id, revision: this.#seen.revision + 1 } : fresh;
    const outcome = await this.#store.add(lesson);
    if (outcome.kind === 'written') {
      this.#id = lesson.id;
      this.#seen = lesson;
      this.#conflict = null;
      this.#fault = null;
      if (this.#draft === kept) this.#draft = null;
      // typed meanwhile
      else this.#queue();
    } else if (outcome.kind === 'fault') {
      this.#fault = outcome.fault;
    } else if (outcome.stored?.document === draft.document) {
      // another tab has put the same back
      this.#conflict = null;
      this.#seen = outcome.stored;
      if (this.#draft === kept) this.#draft = null;
      else this.#queue();
    } else if (outcome.stored !== undefined) {
      this.#conflict = { kind: 'changed', stored: outcome.stored };
    }
    this.#tell();
    return outcome;
  }
}
