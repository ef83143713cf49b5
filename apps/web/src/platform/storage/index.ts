export {
  LessonStore,
  type StoredLesson,
  type LessonSummary,
  type WriteOutcome,
  type StorageFault,
} from './lesson-store.ts';
