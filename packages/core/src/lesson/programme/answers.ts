import { beatTicksOf } from '../../chart/index.ts';
import { phrasesOf, type PartNote } from '../../parts/index.ts';
import type { TrioParts } from '../../performance/index.ts';
import type { Answers } from './aids.ts';

/** From a tick on one listens, or answers. */
export interface Trade {
  readonly startTicks: number;
  readonly isCall: boolean;
}

/** A demonstration that leaves time to answer: what is heard of its line, and whose turn it is when. */
export interface Traded {
  readonly line: readonly PartNote[];
  /** Ascending, calls and answers in turn; empty where nothing is traded. */
  readonly trades: readonly Trade[];
}

const BARS: Readonly<Record<Exclude<Answers, 'none' | 'phrases'>, number>> = { twos: 2, fours: 4, eights: 8 };

/** A phrase that begins this little before its bars leads into them, and one that ends this little after them has landed, in beats. Our own. */
const LEADING_BEATS = 2;
const LANDING_BEATS = 1;

/**
 * Takes every second stretch of a chorus's line away, for the student to answer in.
 * @param time from 0: the second time through, what was silent is heard
 */
export function traded(parts: TrioParts, answers: Answers, time: number): Traded {
  const { line } = parts;
  if (answers === 'none' || line.length === 0) return { line, trades: [] };
  return answers === 'phrases' ? byPhrases(parts, time) : byBars(parts, BARS[answers], time);
}

/** Phrase and silence in turn: nothing is cut. */
function byPhrases({ line, bars }: TrioParts, time: number): Traded {
  const phrases = phrasesOf(line);
  const beatTicks = beatTicksOf(bars[0]?.meter ?? { count: 4, unit: 4 });
  const heard = phrases.filter((_, index) => index % 2 === time % 2);
  const trades = heard.flatMap((phrase): Trade[] => {
    const first = phrase[0] as PartNote;
    const last = phrase.at(-1) as PartNote;
    const end = last.startTicks + last.durationTicks;
    return [
      { startTicks: Math.floor(first.startTicks / beatTicks) * beatTicks, isCall: true },
      { startTicks: Math.ceil(end / beatTicks) * beatTicks, isCall: false },
    ];
  });
  const opensWithCall = (trades[0]?.startTicks ?? 1) <= 0;
  return { line: heard.flat(), trades: opensWithCall ? trades : [{ startTicks: 0, isCall: false }, ...trades] };
}

/** So many bars and so many bars: what leads in comes along, and the line lands on the first beat after. */
function byBars({ line, bars, endTicks }: TrioParts, count: number, time: number): Traded {
  const full = bars.filter(({ startTicks }) => startTicks >= 0);
  const trades = full.flatMap(({ startTicks }, bar): Trade[] =>
    bar % count === 0 ? [{ startTicks, isCall: (bar / count) % 2 === time % 2 }] : [],
  );
  const beatTicks = beatTicksOf(full[0]?.meter ?? { count: 4, unit: 4 });
  const calls = trades.flatMap(({ startTicks, isCall }, index) =>
    isCall ? [{ startTicks, endTicks: trades[index + 1]?.startTicks ?? endTicks }] : [],
  );
  const phrases = phrasesOf(line);
  const heard = calls.flatMap((call) =>
    phrases.flatMap((phrase) => {
      const starts = phrase[0]?.startTicks ?? 0;
      const leadsIn = starts < call.startTicks && starts >= call.startTicks - LEADING_BEATS * beatTicks;
      // what leads into the answer's bars stays with them
      if (starts >= call.endTicks - LEADING_BEATS * beatTicks && reaches(phrase, call.endTicks)) return [];
      const from = leadsIn ? starts : call.startTicks;
      const landing = phrase.some((note) => note.startTicks < call.endTicks && note.startTicks >= from)
        ? LANDING_BEATS
        : 0;
      return phrase.filter(({ startTicks }) => startTicks >= from && startTicks < call.endTicks + landing * beatTicks);
    }),
  );
  return { line: heard, trades };
}

/** Whether a phrase goes on past a place by more than its landing. */
function reaches(phrase: readonly PartNote[], ticks: number): boolean {
  return phrase.filter(({ startTicks }) => startTicks >= ticks).length > 1;
}
