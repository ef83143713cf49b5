import type { IssueArgs, IssueCode } from '../issue/index.ts';
import { formatJump } from './bar-directions.ts';
import type { Bar, Jump } from './chart.ts';

/** A bar's marks and jump, with what its repeat does. */
export type MarkedBar = Pick<Bar, 'marks' | 'jump' | 'endings' | 'endsRepeatTimes'>;

export interface JumpFault {
  readonly code: IssueCode;
  readonly args: IssueArgs;
  readonly bar: number;
  /** Which sign of the bar. */
  readonly sign: keyof Bar['marks'] | 'jump';
}

/** What a mark is for, where nothing leads to it. */
const USED_BY = {
  segno: 'D.S.',
  coda: 'D.C. al coda or D.S. al coda',
  'to coda': 'D.C. al coda or D.S. al coda',
  fine: 'D.C. al fine or D.S. al fine',
} as const;

const MARKS = [
  ['segno', 'segno'],
  ['coda', 'coda'],
  ['fine', 'fine'],
  ['toCoda', 'to coda'],
] as const;

/** Jumps whose marks are missing or in the wrong place, marks nobody jumps to; a chart has one jump and one of each mark. */
export function jumpFaultsOf(bars: readonly MarkedBar[]): JumpFault[] {
  const faults: JumpFault[] = [];
  const placeOf = (mark: keyof Bar['marks']): number => bars.findIndex((bar) => bar.marks[mark]);
  for (const [mark, name] of MARKS) {
    for (const [index, bar] of bars.entries()) {
      if (bar.marks[mark] && index !== placeOf(mark)) {
        faults.push({ code: 'chart.mark-twice', args: { mark: name }, bar: index, sign: mark });
      }
    }
  }
  const at = bars.findIndex((bar) => bar.jump !== null);
  for (const [index, bar] of bars.entries()) {
    if (bar.jump !== null && index !== at)
      faults.push({ code: 'chart.mark-twice', args: { mark: 'D.C. or D.S.' }, bar: index, sign: 'jump' });
  }
  const used = new Set<keyof Bar['marks']>();
  const jumping = bars[at];
  if (jumping?.jump) {
    const { jump } = jumping;
    const segno = placeOf('segno');
    const target = jump.kind === 'dal segno' ? segno : 0;
    const needs = (mark: keyof Bar['marks'], name: string, isRight: boolean, where: string): void => {
      used.add(mark);
      if (isRight) return;
      faults.push({
        code: 'chart.jump-without',
        args: { jump: formatJump(jump), missing: name, where },
        bar: at,
        sign: 'jump',
      });
    };
    if (jump.kind === 'dal segno') {
      needs('segno', 'segno', segno >= 0 && segno <= at, 'at the bar it goes back to');
    }
    if (jump.until === 'fine') {
      const fine = placeOf('fine');
      needs('fine', 'fine', fine >= target && fine >= 0 && fine <= at, 'at the bar the tune ends with');
    }
    if (jump.until === 'coda') {
      const toCoda = placeOf('toCoda');
      needs('toCoda', 'to coda', toCoda >= target && toCoda >= 0 && toCoda <= at, 'at the bar it leaves for the coda');
      needs('coda', 'coda', placeOf('coda') > at, 'at the bar where the coda begins, after the jump');
    }
    if (isNeverReached(jumping)) {
      faults.push({ code: 'chart.jump-never', args: { jump: formatJump(jump) }, bar: at, sign: 'jump' });
    }
  }
  for (const [mark, name] of MARKS) {
    const place = placeOf(mark);
    if (place >= 0 && !used.has(mark)) {
      faults.push({ code: 'chart.mark-unused', args: { mark: name, jump: USED_BY[name] }, bar: place, sign: mark });
    }
  }
  return faults;
}

/** An ending that always goes back to the repeat's beginning never comes to its jump. */
function isNeverReached(bar: MarkedBar & { readonly jump: Jump | null }): boolean {
  return bar.endsRepeatTimes > 0 && bar.endings.length > 0 && !bar.endings.includes(bar.endsRepeatTimes);
}
