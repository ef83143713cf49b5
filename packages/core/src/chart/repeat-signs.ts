import type { IssueArgs, IssueCode } from '../issue/index.ts';

/** The signs a bar is written with, before anybody knows whether they fit together. */
export interface RepeatSigns {
  /** `|:` before the bar. */
  readonly opensRepeat: boolean;
  /** `:|` after the bar; `times` is null where no count is written. */
  readonly closesRepeat: { readonly times: number | null } | null;
  /** The numbers of the ending that begins here; null elsewhere. */
  readonly ending: readonly number[] | null;
  /** A double bar or a new section follows: a last ending reaches no further. */
  readonly closesEnding: boolean;
}

/** The signs understood, as Bar holds them. */
export interface RepeatPlace {
  startsRepeat: boolean;
  endsRepeatTimes: number;
  endings: readonly number[];
  startsEnding: boolean;
}

/** A sign that does not fit, at a bar's index. */
export interface SignFault {
  readonly code: IssueCode;
  readonly args: IssueArgs;
  readonly bar: number;
  /** Whether it is the `:|` after the bar. */
  readonly isClosing: boolean;
}

interface Group {
  /** Already known to be wrong: what follows from that is not told again. */
  isFaulty: boolean;
  readonly start: number;
  readonly numbers: number[];
  /** Bars with `:|` inside endings, and the counts written there. */
  readonly closers: { readonly bar: number; readonly times: number | null }[];
  /** Where the ending began that is open now; null outside endings. */
  ending: { readonly bar: number; readonly numbers: readonly number[] } | null;
}

const ORDINALS = ['0th', '1st', '2nd', '3rd'];
const ordinal = (value: number): string => ORDINALS[value] ?? `${value}th`;

/**
 * Understands repeat signs and endings as on paper: a repeat without `|:` goes back to the first full bar, if it is the
 * first; a last ending needs no `:|` and reaches to the next double bar, section or `|:`. Time grows with the bars.
 * @param signs bar by bar
 * @param firstFullBar index of the first bar that is no pickup
 */
export function understandRepeats(
  signs: readonly RepeatSigns[],
  firstFullBar: number,
): { readonly places: RepeatPlace[]; readonly faults: SignFault[] } {
  const places: RepeatPlace[] = signs.map(() => ({
    startsRepeat: false,
    endsRepeatTimes: 0,
    endings: [],
    startsEnding: false,
  }));
  const faults: SignFault[] = [];
  let group: Group | null = null;
  let hadGroup = false;
  /** Repeats refused for beginning inside another; their ends are theirs, and no fault of their own. */
  let nested = 0;

  const fault = (code: IssueCode, bar: number, args: IssueArgs = {}): void => {
    const isClosing = code === 'chart.repeat-unopened' || code === 'chart.repeat-count';
    faults.push({ code, args, bar, isClosing });
  };
  const open = (start: number): Group => {
    hadGroup = true;
    (places[start] as RepeatPlace).startsRepeat = true;
    return { isFaulty: false, start, numbers: [], closers: [], ending: null };
  };
  const finish = (done: Group): void => {
    if (done.isFaulty) return;
    if (done.numbers.length === 0) {
      fault('chart.repeat-unclosed', done.start);
      return;
    }
    const last = Math.max(...done.numbers);
    if (done.ending !== null && (done.closers.length === 0 || done.ending.numbers.length > 1)) {
      fault('chart.ending-unclosed', done.ending.bar, { ending: ordinal(done.ending.numbers[0] as number) });
      return;
    }
    const missing = Array.from({ length: Math.max(2, last) }, (_, index) => index + 1).find(
      (each) => !done.numbers.includes(each),
    );
    if (missing !== undefined) {
      const bar = done.closers.at(-1)?.bar ?? done.start;
      fault('chart.ending-missing', bar, { ending: ordinal(missing), number: missing });
      return;
    }
    for (const closer of done.closers) {
      (places[closer.bar] as RepeatPlace).endsRepeatTimes = last;
      if (closer.times !== null && closer.times !== last) {
        fault('chart.repeat-count', closer.bar, { times: closer.times, endings: last });
      }
    }
  };

  for (const [index, sign] of signs.entries()) {
    const place = places[index] as RepeatPlace;
    // after the `:|` of an ending either the next ending follows or the repeat is over
    const isBetweenEndings: boolean = group !== null && group.closers.length > 0 && group.ending === null;
    if (group !== null && isBetweenEndings && sign.ending === null) {
      finish(group);
      group = null;
    }
    if (sign.opensRepeat) {
      if (group !== null && group.closers.length > 0) {
        finish(group);
        group = null;
      }
      if (group === null) group = open(index);
      else {
        fault('chart.repeat-nested', index, { fromIndex: group.start });
        nested++;
      }
    }
    if (sign.ending !== null) {
      if (group === null && !hadGroup && index > firstFullBar) group = open(firstFullBar);
      if (group === null) {
        fault('chart.ending-outside', index, { ending: ordinal(sign.ending[0] as number) });
        group = open(index);
        group.isFaulty = true;
      }
      if (group.ending !== null) {
        fault('chart.ending-unclosed', group.ending.bar, { ending: ordinal(group.ending.numbers[0] as number) });
        group.isFaulty = true;
      }
      const already = group.numbers;
      const twice = sign.ending.find((each) => already.includes(each));
      if (twice !== undefined) {
        fault('chart.ending-twice', index, { ending: ordinal(twice) });
        group.isFaulty = true;
      }
      // each once: a list that grew with the bars would be searched for every bar
      group.numbers.push(...sign.ending.filter((each) => !already.includes(each)));
      group.ending = { bar: index, numbers: sign.ending };
      place.startsEnding = true;
    }
    if (group?.ending) place.endings = group.ending.numbers;
    if (sign.closesRepeat !== null && nested > 0) {
      nested--;
    } else if (sign.closesRepeat !== null) {
      if (group === null && !hadGroup && index >= firstFullBar) group = open(firstFullBar);
      if (group === null) {
        fault('chart.repeat-unopened', index);
      } else if (group.ending === null) {
        place.endsRepeatTimes = sign.closesRepeat.times ?? 2;
        group = null;
      } else {
        group.closers.push({ bar: index, times: sign.closesRepeat.times });
        group.ending = null;
      }
    } else if (sign.closesEnding && group !== null && group.ending !== null && group.closers.length > 0) {
      finish(group);
      group = null;
    }
  }
  if (group !== null) finish(group);
  return { places, faults };
}
