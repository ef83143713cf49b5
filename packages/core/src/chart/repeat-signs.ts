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
  /** Already known to be wrong: what follows from that is not reported again. */
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

/** What is known while the bars are gone through, one after the other. */
class RepeatReader {
  readonly places: RepeatPlace[];
  readonly faults: SignFault[] = [];
  readonly #firstFullBar: number;
  /** The repeat that is open now. */
  #group: Group | null = null;
  #hadGroup = false;
  /** Repeats refused for beginning inside another; their ends are theirs, and no fault of their own. */
  #nested = 0;

  constructor(bars: number, firstFullBar: number) {
    this.#firstFullBar = firstFullBar;
    this.places = Array.from({ length: bars }, () => ({
      startsRepeat: false,
      endsRepeatTimes: 0,
      endings: [],
      startsEnding: false,
    }));
  }

  /** Goes on by a bar. */
  take(index: number, sign: RepeatSigns): void {
    if (this.#isBetweenEndings() && sign.ending === null) this.finish();
    if (sign.opensRepeat) this.#beginRepeat(index);
    if (sign.ending !== null) this.#beginEnding(index, sign.ending);
    const ending = this.#group?.ending;
    if (ending) this.#placeAt(index).endings = ending.numbers;
    if (sign.closesRepeat !== null) this.#closeRepeat(index, sign.closesRepeat.times);
    else if (sign.closesEnding && ending && this.#hasClosers()) this.finish();
  }

  /** Ends the repeat that is open, if one is. */
  finish(): void {
    if (this.#group !== null) this.#judge(this.#group);
    this.#group = null;
  }

  #placeAt(index: number): RepeatPlace {
    return this.places[index] as RepeatPlace;
  }

  #hasClosers(): boolean {
    return this.#group !== null && this.#group.closers.length > 0;
  }

  /** After the `:|` of an ending either the next ending follows or the repeat is over. */
  #isBetweenEndings(): boolean {
    return this.#hasClosers() && this.#group?.ending === null;
  }

  #fault(code: IssueCode, bar: number, args: IssueArgs = {}): void {
    const isClosing = code === 'chart.repeat-unopened' || code === 'chart.repeat-count';
    this.faults.push({ code, args, bar, isClosing });
  }

  #open(start: number): Group {
    this.#hadGroup = true;
    this.#placeAt(start).startsRepeat = true;
    return { isFaulty: false, start, numbers: [], closers: [], ending: null };
  }

  #beginRepeat(index: number): void {
    if (this.#hasClosers()) this.finish();
    if (this.#group === null) {
      this.#group = this.#open(index);
      return;
    }
    this.#fault('chart.repeat-nested', index, { fromIndex: this.#group.start });
    this.#nested++;
  }

  /** The repeat an ending belongs to: one that is open, one that began with the tune, or none, which is a fault. */
  #groupOfEnding(index: number, numbers: readonly number[]): Group {
    if (this.#group !== null) return this.#group;
    if (!this.#hadGroup && index > this.#firstFullBar) return this.#open(this.#firstFullBar);
    this.#fault('chart.ending-outside', index, { ending: ordinal(numbers[0] as number) });
    return { ...this.#open(index), isFaulty: true };
  }

  #beginEnding(index: number, numbers: readonly number[]): void {
    const group = (this.#group = this.#groupOfEnding(index, numbers));
    if (group.ending !== null) {
      this.#fault('chart.ending-unclosed', group.ending.bar, { ending: ordinal(group.ending.numbers[0] as number) });
      group.isFaulty = true;
    }
    const twice = numbers.find((each) => group.numbers.includes(each));
    if (twice !== undefined) {
      this.#fault('chart.ending-twice', index, { ending: ordinal(twice) });
      group.isFaulty = true;
    }
    // each once: a list that grew with the bars would be searched for every bar
    group.numbers.push(...numbers.filter((each) => !group.numbers.includes(each)));
    group.ending = { bar: index, numbers };
    this.#placeAt(index).startsEnding = true;
  }

  #closeRepeat(index: number, times: number | null): void {
    if (this.#nested > 0) {
      this.#nested--;
      return;
    }
    if (this.#group === null && !this.#hadGroup && index >= this.#firstFullBar) {
      this.#group = this.#open(this.#firstFullBar);
    }
    if (this.#group === null) {
      this.#fault('chart.repeat-unopened', index);
    } else if (this.#group.ending === null) {
      this.#placeAt(index).endsRepeatTimes = times ?? 2;
      this.#group = null;
    } else {
      this.#group.closers.push({ bar: index, times });
      this.#group.ending = null;
    }
  }

  /** Whether a repeat that is over was written whole: every ending there, each closed, the counts right. */
  #judge(done: Group): void {
    if (done.isFaulty) return;
    if (done.numbers.length === 0) {
      this.#fault('chart.repeat-unclosed', done.start);
      return;
    }
    const last = Math.max(...done.numbers);
    if (done.ending !== null && (done.closers.length === 0 || done.ending.numbers.length > 1)) {
      this.#fault('chart.ending-unclosed', done.ending.bar, { ending: ordinal(done.ending.numbers[0] as number) });
      return;
    }
    const missing = Array.from({ length: Math.max(2, last) }, (_, index) => index + 1).find(
      (each) => !done.numbers.includes(each),
    );
    if (missing !== undefined) {
      const bar = done.closers.at(-1)?.bar ?? done.start;
      this.#fault('chart.ending-missing', bar, { ending: ordinal(missing), number: missing });
      return;
    }
    for (const closer of done.closers) {
      this.#placeAt(closer.bar).endsRepeatTimes = last;
      if (closer.times !== null && closer.times !== last) {
        this.#fault('chart.repeat-count', closer.bar, { times: closer.times, endings: last });
      }
    }
  }
}

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
  const reader = new RepeatReader(signs.length, firstFullBar);
  for (const [index, sign] of signs.entries()) reader.take(index, sign);
  reader.finish();
  return { places: reader.places, faults: reader.faults };
}
