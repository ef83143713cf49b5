import type { OpenLesson } from '../../features/open-lesson/index.ts';
import { words } from '../words/index.ts';

type StorageFault = Exclude<OpenLesson['saving'], string>;

/** What stands in the way of keeping things here, and what to do. */
export function faultText(fault: StorageFault): string {
  const { fault: texts } = words.lessons;
  return fault.kind === 'failed' ? texts.failed(fault.message) : texts[fault.kind];
}
