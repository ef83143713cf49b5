import type { Chart } from '../../chart/index.ts';
import type { Issue, Result } from '../../issue/index.ts';
import { findPhrase, liesOverItsChords, LINE_RULES, placedPhrase, type ChorusNote } from '../../parts/index.ts';
import type { Choices } from '../lesson.ts';
import { makeLesson } from '../make-lesson.ts';
import { transposePhrase, unmovedNotes } from '../pins-in-key.ts';
import { sourceBars, type BarRange, type Home } from './drill-source.ts';

/** A kept phrase as a drill begins with it: the bars it is over, and its notes there. */
export interface PhraseAtHome {
  readonly bars: BarRange;
  readonly line: readonly ChorusNote[];
}

function refuse(code: Issue['code'], args: Issue['args']): Result<never> {
  return { ok: false, issues: [{ code, args, place: {} }] };
}

/**
 * Puts a phrase over bars of a chart, for a drill: where the chords are its own, else at the first chord over which none of its notes
 * is left rubbing.
 * @param range the bars it must lie in; null for anywhere
 * @returns the bars asked for, or those it is over; an issue where there is no such phrase, or it does not fit
 */
export function phraseAtHome(
  chart: Chart,
  choices: Choices,
  { ground, plan }: Home,
  range: BarRange | null,
  name: string,
): Result<PhraseAtHome> {
  const kept = findPhrase(choices.phrases, name);
  if (kept === undefined) {
    const known = choices.phrases.map((each) => `'${each.name}'`).join(', ');
    return refuse('drill.no-phrase', { phrase: name, known });
  }
  if (!LINE_RULES[kept.part].inPosition) return refuse('drill.phrase-bass', { phrase: kept.name });
  const phrase = transposePhrase(kept, ground.writtenKey, ground.analysis.key);
  const bars = sourceBars(ground, plan, range);
  const slots = bars.flatMap((bar) => bar.slots.map(({ analysed }) => analysed.played.index));
  const last = bars.at(-1);
  const end = last === undefined ? 0 : last.playedBar.startTicks + last.playedBar.bar.durationTicks;
  const { chorus } = makeLesson(chart, choices);
  const placed = slots.flatMap((slotIndex) => {
    const put = placedPhrase(plan, phrase, chorus, slotIndex, choices.bass.range);
    return put === undefined || put.endTicks > end ? [] : [{ slotIndex, put }];
  });
  const fits = placed.filter(({ put }) => put.rubs.length === 0);
  const found = placed.find(({ slotIndex }) => liesOverItsChords(plan, phrase, slotIndex)) ?? fits[0];
  if (found === undefined) {
    const where = range === null ? 'any bars of this chart' : `bars ${range.from} to ${range.to}`;
    const [rub] = placed[0]?.put.rubs ?? [];
    return refuse('drill.phrase-fit', {
      phrase: kept.name,
      where,
      rub: rub === undefined ? '' : `its ${rub.note} over ${rub.chord}`,
    });
  }
  const { startTicks, endTicks, pins } = found.put;
  const { parts, ...others } = choices.pins;
  // pins are kept in the key the chart is written in
  const home = unmovedNotes(pins, ground.writtenKey, ground.analysis.key);
  const lesson = makeLesson(chart, {
    ...choices,
    pins: { ...others, parts: { ...parts, notes: [...parts.notes, ...home] } },
  });
  const line = lesson.chorus.filter((note) => note.startTicks >= startTicks && note.startTicks < endTicks);
  const under = bars.filter(
    ({ playedBar }) =>
      playedBar.startTicks < endTicks && playedBar.startTicks + playedBar.bar.durationTicks > startTicks,
  );
  const [from, to] = [under[0]?.playedBar.bar.number ?? 1, under.at(-1)?.playedBar.bar.number ?? 1];
  return { ok: true, value: { bars: range ?? { from, to }, line }, warnings: [] };
}
