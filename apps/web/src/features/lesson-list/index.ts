/** The lessons kept on this machine. */
export { $lessons, $shelf, lessonStore, readAgain, type LessonSummary, type ShelfState } from './shelf.ts';
export { arranged, foldersOf } from './arrange.ts';
export { $goOn, LONGEST_FOLDER_NAME, moveLesson, orderShelf, putInFolder } from './arranging.ts';
export { daysAgo } from '../../platform/clock/index.ts';
export { coverFor, watchNear, type Cover } from './covers.ts';
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
  saveKept,
  saveNewerAsFound,
  startLessons,
  type NotOpened,
} from './lesson-list.ts';
