/** Files from outside: what they hold, read within bounds. */
export { openFiles, watchDrops } from '../../platform/files/index.ts';
export { ACCEPTED_FILES } from './outside-file.ts';
export { readChartContent, readChartText } from './read-content.ts';
export { $taking, leaveReports, takeFiles, type FileReport } from './take-files.ts';
