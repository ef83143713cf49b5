import type { Bar, Issue, Jump } from '@fivespan/core';
import type { ReadBar } from './bar-reading.ts';

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
 * Closes a group with endings before the bar at `end`: every bar that sends it back says how often it is played in all,
 * the last ending's number. A first ending alone has its second in the bar after it. Brackets that leave a gap are dropped.
 */
function finishGroup(
  group: Group,
  end: number,
  bars: readonly ReadBar[],
  drafts: readonly Draft[],
  warnings: Warnings,
): void {
  const { start, numbers, closers } = group;
  const number = bars[start]?.number ?? 0;
  const lastCloser = closers.at(-1);
  if (lastCloser === undefined) {
    (drafts[start] as Draft).startsRepeat = false;
    dropEndings(drafts, start, end);
    warnings.add(numbers.size > 0 ? 'endings without their repeat' : 'a repeat that never ends', number);
    return;
  }
  const next = drafts[end];
  if (numbers.size === 1 && numbers.has(1) && next !== undefined && end === lastCloser + 1) {
    next.endings = [2];
    next.startsEnding = true;
    numbers.add(2);
  }
  const last = Math.max(...numbers);
  if (last < 2 || Array.from({ length: last }, (_, index) => index + 1).some((each) => !numbers.has(each))) {
    dropEndings(drafts, start, end);
    for (const closer of closers) (drafts[closer] as Draft).endsRepeatTimes = closer === lastCloser ? 2 : 0;
    warnings.add(`endings ${[...numbers].sort((a, b) => a - b).join(', ')} without the others`, number);
    return;
  }
  for (const closer of closers) (drafts[closer] as Draft).endsRepeatTimes = last;
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
    if (group !== null) finishGroup(group, end, bars, drafts, warnings);
    group = null;
    from = end;
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
      draft.endsRepeatTimes = form.endsRepeatTimes;
      group = null;
      from = index + 1;
    }
  }
  finish(bars.length);
}

/** Jumps: only such as find their sign. */
function addJumps(bars: readonly ReadBar[], drafts: readonly Draft[], warnings: Warnings): void {
  const has = (mark: 'segno' | 'coda' | 'fine' | 'toCoda'): boolean => bars.some((bar) => bar.form[mark]);
  const isCodaUsable = has('coda') && has('toCoda');
  for (const [index, { form, number }] of bars.entries()) {
    const draft = drafts[index] as Draft;
    if (form.toCoda && !has('coda')) warnings.add("'To Coda' without a coda", number);
    draft.marks = {
      segno: form.segno,
      coda: form.coda && has('toCoda'),
      fine: form.fine,
      toCoda: form.toCoda && has('coda'),
    };
    if (form.coda && !has('toCoda')) warnings.add("a coda without 'To Coda'", number);
    if (form.jump === null) continue;
    if (form.jump === 'dal segno' && !has('segno')) {
      warnings.add('D.S. without a segno', number);
      continue;
    }
    let until: Jump['until'] = form.jumpUntil;
    // playback attributes say where to go, not how far: the marks do
    if (until === 'end' && isCodaUsable) until = 'coda';
    else if (until === 'end' && has('fine')) until = 'fine';
    if ((until === 'coda' && !isCodaUsable) || (until === 'fine' && !has('fine'))) {
      warnings.add(`'al ${until === 'coda' ? 'Coda' : 'Fine'}' without its sign`, number);
      until = 'end';
    }
    draft.jump = { kind: form.jump, until };
  }
}

/** The form of every bar, such that it can be played out, and what could not be carried over. */
export function formOfBars(bars: readonly ReadBar[]): {
  readonly forms: readonly BarForm[];
  readonly warnings: readonly Issue[];
} {
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
  return { forms: drafts, warnings: issues };
}
