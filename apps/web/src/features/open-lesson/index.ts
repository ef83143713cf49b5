/** The lesson on the desk. Everything the teacher changes goes through `changeLesson`. */
export {
  $lesson,
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
  unkeptDrafts,
  type LessonChange,
  type OpenLesson,
  type UnkeptDraft,
} from './open-lesson.ts';
export { $made, $notMade, makeAgain } from './making.ts';
export { headingOf, withTitle } from './heading.ts';
