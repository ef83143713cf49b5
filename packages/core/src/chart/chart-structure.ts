import type { Issue } from '../issue/index.ts';
import type { DraftBar } from './chart-reading.ts';
import type { Bar } from './chart.ts';
import type { IssueList } from './issue-list.ts';
import { jumpFaultsOf, type MarkedBar } from './jump-faults.ts';
import { understandRepeats, type RepeatPlace, type RepeatSigns } from './repeat-signs.ts';

/** A bar's repeat signs understood, with its marks and its jump. */
export type BarStructure = RepeatPlace & Pick<Bar, 'marks' | 'jump'>;

const firstFullBarOf = (bars: readonly DraftBar[]): number => (bars[0]?.number === 0 ? 1 : 0);

const structured = (bars: readonly DraftBar[], places: readonly RepeatPlace[]): BarStructure[] =>
  bars.map(({ marks, jump }, index) => ({ ...(places[index] as RepeatPlace), marks, jump }));

/** The structure as the text has it; what does not fit together is reported. */
export function structureOf(bars: readonly DraftBar[], issues: IssueList): BarStructure[] {
  const placeOf = (index: number): Issue['place'] => {
    const bar = bars[index] as DraftBar;
    return { line: bar.line, column: bar.column, bar: bar.number };
  };
  const signs = bars.map((bar) => bar.signs);
  const { places, faults } = understandRepeats(signs, firstFullBarOf(bars));
  for (const { code, args, bar, isClosing } of faults) {
    const from = args.fromIndex === undefined ? {} : { from: bars[Number(args.fromIndex)]?.number ?? 1 };
    issues.add(code, { ...args, ...from }, (isClosing ? bars[bar]?.signPlaces.closing : undefined) ?? placeOf(bar));
  }
  const structure = structured(bars, places);
  for (const { code, args, bar, sign } of jumpFaultsOf(structure)) {
    issues.add(code, args, bars[bar]?.signPlaces[sign] ?? placeOf(bar));
  }
  return structure;
}

/** After so many rounds of dropping what does not fit, all repeats are dropped. */
const MOST_ROUNDS = 12;

type LooseSigns = { -readonly [Sign in keyof RepeatSigns]: RepeatSigns[Sign] };

/** Whether a new stretch begins at a bar: at a `|:`, and after a `:|` that no ending follows. */
function beginsStretch(signs: readonly LooseSigns[], bar: number): boolean {
  const sign = signs[bar] as LooseSigns;
  return bar === 0 || sign.opensRepeat || (signs[bar - 1]?.closesRepeat !== null && sign.ending === null);
}

/** Drops the signs of the stretches in which some bars are, each stretch once. Time grows with the bars. */
function dropStretches(signs: readonly LooseSigns[], unsound: readonly number[]): void {
  let stretch = 0;
  const stretches = signs.map((_, bar) => (beginsStretch(signs, bar) ? ++stretch : stretch));
  const dropped = new Set(unsound.map((bar) => stretches[bar]));
  for (const [bar, sign] of signs.entries()) {
    if (dropped.has(stretches[bar])) Object.assign(sign, { opensRepeat: false, closesRepeat: null, ending: null });
  }
}

/** The repeats that fit together; a sign that does not is dropped, with its endings where it has some. */
function soundRepeatsOf(bars: readonly DraftBar[], mostRepeatTimes: number): RepeatPlace[] {
  const signs: LooseSigns[] = bars.map((bar) => {
    const times = bar.signs.closesRepeat?.times ?? null;
    const isTooOften = times !== null && (times < 2 || times > mostRepeatTimes);
    return { ...bar.signs, closesRepeat: isTooOften ? { times: null } : bar.signs.closesRepeat };
  });
  const first = firstFullBarOf(bars);
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const { places, faults } = understandRepeats(signs, first);
    if (faults.length === 0) return places;
    const unsound: number[] = [];
    for (const { code, bar } of faults) {
      const sign = signs[bar] as LooseSigns;
      if (code === 'chart.repeat-unopened') sign.closesRepeat = null;
      else if (code === 'chart.repeat-unclosed' || code === 'chart.repeat-nested') sign.opensRepeat = false;
      else if (code === 'chart.repeat-count') sign.closesRepeat = { times: null };
      else unsound.push(bar);
    }
    if (unsound.length > 0) dropStretches(signs, unsound);
  }
  const none = { opensRepeat: false, closesRepeat: null, ending: null, closesEnding: false };
  return understandRepeats(
    bars.map(() => none),
    first,
  ).places;
}

const NO_MARKS: Bar['marks'] = { segno: false, coda: false, fine: false, toCoda: false };

/** The first of each mark and the first jump; no jump where what it needs is missing. */
function soundJumpsOf(bars: readonly DraftBar[], places: readonly RepeatPlace[]): BarStructure[] {
  const seen = new Set<keyof Bar['marks'] | 'jump'>();
  const isFirst = (sign: keyof Bar['marks'] | 'jump', isThere: boolean): boolean => {
    const first = isThere && !seen.has(sign);
    if (first) seen.add(sign);
    return first;
  };
  const structure = structured(bars, places).map((bar) => ({
    ...bar,
    marks: {
      segno: isFirst('segno', bar.marks.segno),
      coda: isFirst('coda', bar.marks.coda),
      fine: isFirst('fine', bar.marks.fine),
      toCoda: isFirst('toCoda', bar.marks.toCoda),
    },
    jump: isFirst('jump', bar.jump !== null) ? bar.jump : null,
  }));
  const isSound = jumpFaultsOf(structure satisfies MarkedBar[]).every(({ code }) => code === 'chart.mark-unused');
  return isSound ? structure : structure.map((bar) => ({ ...bar, jump: null }));
}

/** The structure as far as it fits together: for a chart that is being written. */
export function soundStructureOf(bars: readonly DraftBar[], mostRepeatTimes: number): BarStructure[] {
  return soundJumpsOf(bars, soundRepeatsOf(bars, mostRepeatTimes));
}

/** A structure without repeats and jumps: every bar once. */
export function plainStructureOf(bars: readonly DraftBar[]): BarStructure[] {
  return bars.map(() => ({
    startsRepeat: false,
    endsRepeatTimes: 0,
    endings: [],
    startsEnding: false,
    marks: NO_MARKS,
    jump: null,
  }));
}
