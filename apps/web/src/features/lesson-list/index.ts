/** The lessons kept on this machine. */
export { $lessons, $shelf, lessonStore, readAgain, type LessonSummary, type ShelfState } from './shelf.ts';
export {
  $isDemoHere,
  $notOpened,
  $removed,
  createLesson,
  dropSetAside,
  duplicateLesson,
  EMPTY_CHART,
  openStored,
  putDemoBack,
  putRemovedBack,
  refreshLessons,
  removeLesson,
  renameLesson,
  saveAsFound,
  saveNewerAsFound,
  startLessons,
  type NotOpened,
} from './lesson-list.ts';
