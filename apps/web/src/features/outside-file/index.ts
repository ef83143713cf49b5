/** Files from outside: what they hold, read within bounds. */
export { openFiles, watchDrops } from '../../platform/files/index.ts';
export { ACCEPTED_FILES, readOutsideFile, type OutsideFile } from './outside-file.ts';
export { readChartContent, readChartText, type FileContent } from './read-content.ts';
export type { FileKind } from './file-kind.ts';
export { $taking, leaveReports, takeFiles, type FileReport, type Taking } from './take-files.ts';
