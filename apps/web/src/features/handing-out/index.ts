/** What leaves the workbench: pages to see, files to save. */
export { $orders, forgetOrder, stopOrder, type Order, type OrderedThing, type OrderState } from './orders.ts';
export type { OrderFault } from './order-fault.ts';
export { $preview, closePages, showPages, stopPages, type MadePages, type PagesAsked } from './preview.ts';
export { printedLesson, type PrintedLesson } from './printed-lesson.ts';
export { saveDrill, saveKeyFile, saveLessonFile, savePack } from './save-files.ts';
export {
  $pagesChoice,
  choiceFor,
  choosePages,
  fileOfPage,
  isPart,
  ZOOMS,
  type Page,
  type PagesChoice,
} from './pages-choice.ts';
export { layVoice, type VoiceLaid } from './lay-voice.ts';
export { filmSource, saveFilms, saveFilmTexts, saveTakeFilm, type FilmWish } from './save-film.ts';
export {
  $voices,
  followFile,
  followKept,
  marksFault,
  showVoices,
  takeSource,
  type Following,
  type TakeFollowed,
} from '../film/index.ts';
export { lengthOf, saveSound, SOUND_KINDS } from './save-sound.ts';
export type { SoundKind } from './sound-file-job.ts';
export { printPages } from './print-pages.ts';
