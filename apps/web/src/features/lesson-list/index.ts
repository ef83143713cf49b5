/** The lessons kept on this machine. */
export { $lessons, $shelf, lessonStore, readAgain, type LessonSummary, type ShelfState } from './shelf.ts';
export {
  $isDemoHere,
  $notOpened,
  $removed,
  createLesson,
  dropSetAside,
  dropUntouched,
  duplicateLesson,
  EMPTY_CHART,
  openStored,
  putDemoBack,
  putRemovedBack,
  refreshLessons,
  removeLesson,
  renameLesson,
  sameLesson,
  saveAsFound,
  saveNewerAsFound,
  startLessons,
  type NotOpened,
} from './lesson-list.ts';
