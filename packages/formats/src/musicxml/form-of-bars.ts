import { LONGEST_FORM_BARS, type Bar, type Issue, type Jump, type Result } from '@fivespan/core';
import type { ReadBar } from './bar-reading.ts';
import { failure } from './failure.ts';

/** What of a chart's bar is about the form. */
export type BarForm = Pick<Bar, 'startsRepeat' | 'endsRepeatTimes' | 'endings' | 'startsEnding' | 'marks' | 'jump'>;

/** A bar's form while it is worked out. */
type Draft = { -readonly [Field in keyof BarForm]: BarForm[Field] };

interface Warnings {
  add(what: string, bar: number): void;
}

/** Endings: each bar between a bracket's start and its stop; an open bracket is closed by the repeat, a new one, or a section. */
function addEndings(bars: readonly ReadBar[], drafts: readonly Draft[]): void {
  let current: readonly number[] = [];
  for (const [index, { form }] of bars.entries()) {
    const draft = drafts[index] as Draft;
    if (form.startsEnding.length > 0) {
      current = form.startsEnding;
      draft.startsEnding = true;
    } else if (form.startsRepeat || form.rehearsal !== null) current = [];
    draft.endings = current;
    if (form.stopsEnding || form.endsRepeatTimes > 0) current = [];
  }
}

/** A repeated stretch while it is read: where it began, the endings seen, the bars that send it back. */
interface Group {
  readonly start: number;
  readonly numbers: Set<number>;
  readonly closers: number[];
}

function dropEndings(drafts: readonly Draft[], from: number, to: number): void {
  for (const draft of drafts.slice(from, to)) {
    draft.endings = [];
    draft.startsEnding = false;
  }
}

/**
 * Whether the endings of a stretch can be played: one after another without a gap, each but the last leading back from
 * its last bar, each number once from 1 on; a last ending that does not lead back is for one time only.
 * @param closers indices of the bars that lead back
 */
function areWholeEndings(stretch: readonly Draft[], closers: ReadonlySet<number>): boolean {
  const first = stretch.findIndex((draft) => draft.endings.length > 0);
  const seen: number[] = [];
  for (let index = first; index < stretch.length; index++) {
    const draft = stretch[index] as Draft;
    const isNew = index === first || closers.has(index - 1);
    if (draft.startsEnding !== isNew || draft.endings.length === 0) return false;
    if (isNew) seen.push(...draft.endings);
  }
  const isOpen = !closers.has(stretch.length - 1);
  if (first < 0 || (isOpen && (stretch.at(-1)?.endings.length ?? 0) > 1)) return false;
  return seen.length >= 2 && [...seen].sort((x, y) => x - y).every((number, index) => number === index + 1);
}

/**
 * Closes a group with endings before the bar at an index: every bar that sends it back says how often it is played in all,
 * the last ending's number. A first ending alone has its second in the bar after it. Brackets that leave a gap are dropped.
 * @returns the index of the first bar behind the group
 */
function finishGroup(
  group: Group,
  before: number,
  bars: readonly ReadBar[],
  drafts: readonly Draft[],
  warnings: Warnings,
): number {
  const { start, numbers, closers } = group;
  let end = before;
  const number = bars[start]?.number ?? 0;
  const lastCloser = closers.at(-1);
  if (lastCloser === undefined) {
    (drafts[start] as Draft).startsRepeat = false;
    dropEndings(drafts, start, end);
    warnings.add(numbers.size > 0 ? 'endings without their repeat' : 'a repeat that never ends', number);
    return end;
  }
  const next = drafts[end];
  const isNextPlain = bars[end]?.form.startsRepeat === false && bars[end]?.form.endsRepeatTimes === 0;
  if (numbers.size === 1 && numbers.has(1) && next !== undefined && isNextPlain && end === lastCloser + 1) {
    next.endings = [2];
    next.startsEnding = true;
    numbers.add(2);
    end++;
  }
  const last = Math.max(...numbers);
  if (!areWholeEndings(drafts.slice(start, end), new Set(closers.map((closer) => closer - start)))) {
    dropEndings(drafts, start, end);
    for (const closer of closers) (drafts[closer] as Draft).endsRepeatTimes = closer === lastCloser ? 2 : 0;
    warnings.add(`endings ${[...numbers].sort((a, b) => a - b).join(', ')} without the others`, number);
    return end;
  }
  for (const closer of closers) (drafts[closer] as Draft).endsRepeatTimes = last;
  return end;
}

/**
 * Repeats: every end gets its start (the beginning, or after the repeat before, where the file leaves it out), every
 * start its end, as Bar holds them.
 */
function addRepeats(bars: readonly ReadBar[], drafts: readonly Draft[], warnings: Warnings): void {
  /** Where a repeat without a start begins. */
  let from = bars[0]?.number === 0 ? 1 : 0;
  let group: Group | null = null;
  const open = (start: number): Group => {
    (drafts[start] as Draft).startsRepeat = true;
    return { start, numbers: new Set(), closers: [] };
  };
  const finish = (end: number): void => {
    from = group === null ? end : finishGroup(group, end, bars, drafts, warnings);
    group = null;
  };
  for (const [index, { form }] of bars.entries()) {
    const draft = drafts[index] as Draft;
    const isPastEndings: boolean = group !== null && group.closers.length > 0 && draft.endings.length === 0;
    if (isPastEndings || (form.startsRepeat && group !== null)) finish(index);
    if (form.startsRepeat) group = open(index);
    if (group === null && (draft.endings.length > 0 || form.endsRepeatTimes > 0)) {
      // a bar that finishGroup made a second ending belongs to what is over
      if (form.endsRepeatTimes === 0 && form.startsEnding.length === 0) continue;
      group = open(Math.min(from, index));
    }
    for (const each of draft.endings) group?.numbers.add(each);
    if (form.endsRepeatTimes === 0 || group === null) continue;
    if (draft.endings.length > 0) group.closers.push(index);
    else {
      if (group.numbers.size > 0) {
        dropEndings(drafts, group.start, index);
        warnings.add('an ending inside a repeat', bars[group.start]?.number ?? 0);
      }
      draft.endsRepeatTimes = form.endsRepeatTimes;
      group = null;
      from = index + 1;
    }
  }
  finish(bars.length);
}

type MarkName = keyof Bar['marks'];

const MARK_WORDS: readonly (readonly [MarkName, string])[] = [
  ['segno', 'a segno'],
  ['coda', 'a coda'],
  ['fine', "'Fine'"],
  ['toCoda', "'To Coda'"],
];

/** How far a jump goes: what its words say; where only playback attributes say it, what its marks allow. */
function untilOf(form: ReadBar['form'], has: (mark: MarkName) => boolean): Jump['until'] {
  if (form.jumpUntil !== 'end') return form.jumpUntil;
  if (has('coda') && has('toCoda')) return 'coda';
  return has('fine') ? 'fine' : 'end';
}

/**
 * One jump, with one of each mark it needs, where it needs them: back to the segno, on to the fine or from 'To Coda' to
 * the coda behind it. Other jumps and marks that no jump uses are left out.
 */
function addJumps(bars: readonly ReadBar[], drafts: readonly Draft[], warnings: Warnings): void {
  const at = bars.findIndex((bar) => bar.form.jump !== null);
  const kept: Partial<Record<MarkName, number>> = {};
  const jumping = bars[at];
  if (jumping !== undefined && jumping.form.jump !== null) {
    const kind = jumping.form.jump;
    const draft = drafts[at] as Draft;
    const find = (mark: MarkName, from: number, to: number): number | undefined => {
      const place = bars.findIndex((bar, index) => bar.form[mark] && index >= from && index <= to);
      return place < 0 ? undefined : place;
    };
    const segno = kind === 'dal segno' ? find('segno', 0, at) : 0;
    const isNeverReached =
      draft.endsRepeatTimes > 0 && draft.endings.length > 0 && !draft.endings.includes(draft.endsRepeatTimes);
    if (segno === undefined || isNeverReached) {
      const why = isNeverReached ? 'in an ending that goes back' : 'without a segno before it';
      warnings.add(`${kind === 'da capo' ? 'D.C.' : 'D.S.'} ${why}`, jumping.number);
    } else {
      let until = untilOf(jumping.form, (mark) => find(mark, 0, bars.length) !== undefined);
      const fine = find('fine', segno, at);
      const toCoda = find('toCoda', segno, at);
      const coda = find('coda', at + 1, bars.length);
      const isComplete = until === 'coda' ? toCoda !== undefined && coda !== undefined : fine !== undefined;
      if (until !== 'end' && !isComplete) {
        warnings.add(`'al ${until === 'coda' ? 'Coda' : 'Fine'}' without its signs`, jumping.number);
        until = 'end';
      }
      draft.jump = { kind, until };
      if (kind === 'dal segno') kept.segno = segno;
      if (until === 'fine' && fine !== undefined) kept.fine = fine;
      if (until === 'coda' && toCoda !== undefined && coda !== undefined) Object.assign(kept, { toCoda, coda });
    }
  }
  for (const [index, { form, number }] of bars.entries()) {
    const draft = drafts[index] as Draft;
    if (form.jump !== null && index !== at) warnings.add('a second D.C. or D.S.', number);
    const marks = { ...draft.marks };
    for (const [mark, what] of MARK_WORDS) {
      marks[mark] = kept[mark] === index;
      if (form[mark] && !marks[mark]) warnings.add(`${what} that no jump uses`, number);
    }
    draft.marks = marks;
  }
}

/** An upper bound of the bars that are played, jump and repeats taken. */
function longestForm(drafts: readonly Draft[]): number {
  let total = 0;
  let stretch = 0;
  let times = 1;
  for (const draft of drafts) {
    if (draft.startsRepeat || (times > 1 && draft.endings.length === 0)) {
      total += stretch * times;
      stretch = 0;
      times = 1;
    }
    stretch++;
    times = Math.max(times, draft.endsRepeatTimes);
  }
  return (total + stretch * times) * (drafts.some((draft) => draft.jump !== null) ? 2 : 1);
}

/** The form of every bar, such that it can be played out, and what could not be carried over. */
export function formOfBars(bars: readonly ReadBar[]): Result<readonly BarForm[]> {
  const issues: Issue[] = [];
  const warnings: Warnings = {
    add: (what, bar) => issues.push({ code: 'musicxml.form-left-out', args: { what }, place: { bar } }),
  };
  const drafts: Draft[] = bars.map(() => ({
    startsRepeat: false,
    endsRepeatTimes: 0,
    endings: [],
    startsEnding: false,
    marks: { segno: false, coda: false, fine: false, toCoda: false },
    jump: null,
  }));
  addEndings(bars, drafts);
  addRepeats(bars, drafts, warnings);
  addJumps(bars, drafts, warnings);
  if (longestForm(drafts) > LONGEST_FORM_BARS) return failure('chart.form-too-long', { limit: LONGEST_FORM_BARS });
  return { ok: true, value: drafts, warnings: issues };
}
