/** The lesson on the desk. Everything the teacher changes goes through `changeLesson`. */
export {
  $lesson,
  $made,
  $open,
  $unkept,
  changeLesson,
  closeLesson,
  deskTurn,
  flush,
  goOnWithEngine,
  isAnythingUnkept,
  keepBoth,
  openLesson,
  putBackHere,
  redo,
  saveAgain,
  saveLessonFile,
  takeOther,
  takeUpUnkept,
  undo,
  type OpenLesson,
} from './open-lesson.ts';
export { headingOf, withTitle } from './heading.ts';
