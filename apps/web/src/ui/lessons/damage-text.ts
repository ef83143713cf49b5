import type { BackupDamage } from '../../features/backup/index.ts';
import { words } from '../words/index.ts';
import { issueText } from './issue-text.ts';

/** What is wrong with a record or a file. @param damage null where it is not known any more */
export function damageText(damage: BackupDamage | null): string {
  const { damage: texts } = words.lessons;
  switch (damage?.kind) {
    case 'document':
      return damage.issues.map(issueText).join('; ');
    case 'field':
      return texts.field(damage.field);
    case 'not migrated':
      return texts['not migrated'](damage.message);
    case 'no record':
    case 'no version':
    case 'not JSON':
    case 'same id':
      return texts[damage.kind];
    case undefined:
      return texts.unknown;
  }
}
