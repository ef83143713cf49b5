import { dayText } from '../../platform/clock/index.ts';
import { saveFile } from '../../platform/files/index.ts';
import { csvOf, type LogEntry } from './log.ts';

/** Hands the log to the user as CSV. @param name of the file, without day and ending */
export function saveLog(entries: readonly LogEntry[], name: string): void {
  saveFile(`${name}-${dayText()}.csv`, csvOf(entries), 'text/csv');
}
