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

/**
 * Repeats: every end gets its start (the beginning, or after the repeat before, where the file leaves it out), every
 * start its end. A bar that ends a repeat inside an ending leads on to the next ending.
 */
function addRepeats(bars: readonly ReadBar[], drafts: readonly Draft[], warnings: Warnings): void {
  const firstFull = bars[0]?.number === 0 ? 1 : 0;
  /** Where a repeat without a start begins. */
  let from = firstFull;
  let openAt: number | null = null;
  let isInEndings = false;
  for (const [index, bar] of bars.entries()) {
    const draft = drafts[index] as Draft;
    if (isInEndings && draft.endings.length === 0) {
      isInEndings = false;
      openAt = null;
      from = index;
    }
    if (bar.form.startsRepeat) {
      if (openAt !== null && !isInEndings) {
        (drafts[openAt] as Draft).startsRepeat = false;
        warnings.add('a repeat inside another, or one that never ends,', bars[openAt]?.number ?? 0);
      }
      draft.startsRepeat = true;
      openAt = index;
      isInEndings = false;
    }
    if (bar.form.endsRepeatTimes === 0) continue;
    if (openAt === null) {
      (drafts[from] as Draft).startsRepeat = true;
      openAt = from;
    }
    const last = Math.max(0, ...draft.endings);
    draft.endsRepeatTimes = Math.max(bar.form.endsRepeatTimes, last > 0 ? last + 1 : 0);
    if (draft.endings.length > 0) isInEndings = true;
    else {
      openAt = null;
      from = index + 1;
    }
  }
  if (openAt !== null && !isInEndings) {
    (drafts[openAt] as Draft).startsRepeat = false;
    warnings.add('a repeat that never ends', bars[openAt]?.number ?? 0);
  }
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
