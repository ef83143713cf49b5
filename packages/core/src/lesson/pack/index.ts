export { folderOfKey, folderOfTitle } from './folder-name.ts';
export {
  LESSON_FILE,
  type LessonFileName,
  PACK_CHOICES,
  PACK_FILES,
  type PackFileName,
  SHEET_FILE,
  packFileName,
  packPath,
} from './pack-file.ts';
export {
  PART_ENDINGS,
  PART_READERS,
  type PartFileName,
  type PartReader,
  partFileName,
  readerOfFile,
} from './part-file.ts';
