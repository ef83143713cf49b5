export {
  $open,
  $lesson,
  $made,
  changeLesson,
  closeLesson,
  openLesson,
  redo,
  undo,
  type ComputedLesson,
  type LessonChange,
  type OpenLesson,
} from './open-lesson.ts';
