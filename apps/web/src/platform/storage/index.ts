/** What is kept on this machine. */
export {
  LessonStore,
  openLessonStore,
  type ReadOutcome,
  type Shelf,
  type ShelfChange,
  type WriteOutcome,
} from './lesson-store.ts';
export type { Damage } from './damage.ts';
export { freshLesson } from './fresh-lesson.ts';
export { recordsAsFound } from './lesson-database.ts';
export type { LessonNews } from './lesson-news.ts';
export { guardLeaving } from './leave-guard.ts';
export { memoryRecords } from './memory-records.ts';
export { askToPersist, persistence, type Persistence } from './persistence.ts';
export { openPracticeStore, type PracticeStore } from './practice-store.ts';
export { LONGEST_FOLDER_NAME, PLAIN_ARRANGEMENT, readArrangement, type ShelfArrangement } from './shelf-arrangement.ts';
export type { TakeRecord } from './take-record.ts';
export { openTakeStore, type TakeStore } from './take-store.ts';
export { areDropped, dropAtClosing, heldTakes, holdTake, takesToDrop } from './take-watch.ts';
export { faultOf, type StorageFault } from './storage-fault.ts';
export { openVoiceStore, type VoiceStore } from './voice-store.ts';
export { isAsSeen, type SeenLesson, type StoredLesson } from './stored-lesson.ts';
