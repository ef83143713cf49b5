import type { OpenLesson } from '../../features/open-lesson/index.ts';
import { words } from '../words/index.ts';
import { issueText } from './issue-text.ts';

type StorageFault = Exclude<OpenLesson['saving'], string>;

/** What stands in the way of keeping things here, and what to do. */
export function faultText(fault: StorageFault): string {
  const { fault: texts } = words.lessons;
  switch (fault.kind) {
    case 'failed':
      return texts.failed(fault.message);
    case 'unreadable':
      return texts.unreadable(fault.issues.map(issueText).join('; '));
    case 'slow':
      return texts.slow(fault.seconds);
    case 'refused':
    case 'full':
    case 'unproved':
    case 'newer':
    case 'too-large':
      return texts[fault.kind];
  }
}
