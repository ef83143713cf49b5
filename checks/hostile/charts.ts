/** Charts and whole lessons. */
import {
  barsOf,
  computeLesson,
  DEFAULT_CHOICES,
  insertBarAfter,
  insertBarBefore,
  appendBar,
  placesOf,
  playProgramme,
  readAround,
  readChart,
  removeBar,
  setBarChords,
  severityOf,
  slotsKept,
  transposeText,
  usualProgramme,
  writeChart,
  type Chart,
  type Choices,
  type Issue,
} from '@fivespan/core';
import { writeMidi, writeProgrammeMidi } from '@fivespan/formats/midi';
import { writeMusicXml } from '@fivespan/formats/musicxml';
import { type Chance } from './chance.ts';
import { judgeIssues, must } from './judge.ts';
import { judged, KEYS } from './input.ts';

const errorsIn = (text: string): readonly Issue[] =>
  readAround(text).issues.filter((issue) => severityOf(issue) === 'error');

/** A chart that is read keeps being one under every edit of its bars, and is the same chart after writing. */
export function judgeChart(text: string, chance: Chance): void {
  const { chart, issues } = readAround(text);
  judgeIssues(issues, text);
  const places = placesOf(text);
  judged(readChart(text), text);
  if (chart === null || places.bars.length === 0) {
    appendBar(text, 'C7');
    return;
  }
  const before = barsOf(chart).length;
  must(before === places.bars.length, 'bars and their places differ in number');
  const isSound = errorsIn(text).length === 0;
  const index = chance.upTo(before);
  const insertions = [insertBarAfter, insertBarBefore, (of: string): string => appendBar(of, 'Dm7')];
  const what = chance.upTo(5);
  const edited =
    what < 3
      ? (insertions[what] as typeof insertBarAfter)(text, index, 'Dm7')
      : what === 3
        ? removeBar(text, index)
        : setBarChords(text, index, 'Dm7');
  const after = readAround(edited);
  judgeIssues(after.issues, edited);
  if (isSound) {
    const count = what < 3 ? before + 1 : what === 3 ? Math.max(1, before - 1) : before;
    const bars = after.chart === null ? 0 : barsOf(after.chart).length;
    must(bars === count, `edit ${what} of bar ${index + 1}: ${bars} bars and not ${count}\n${edited}`);
    const wrong = what === 3 ? undefined : errorsIn(edited)[0];
    must(wrong === undefined, `edit ${what} of bar ${index + 1}: ${wrong?.code}\n${edited}`);
    if (after.chart !== null) slotsKept(chart, after.chart);
  }
  if (chance.once(4)) transposeText(text, chance.of(KEYS), chart.key ?? chance.of(KEYS));
  if (isSound) judgeWritten(chart);
}

export function judgeWritten(chart: Chart): void {
  const written = writeChart(chart);
  const again = readChart(written);
  must(
    again.ok,
    `written, it is no chart: ${again.ok ? '' : again.issues.map((issue) => issue.code).join()}\n${written}`,
  );
  must(writeChart(again.value) === written, `written twice, it differs\n${written}`);
}

/** A lesson of a chart that can be read is computed and written, in any key, at any level, for any hand. */
export function judgeLesson(text: string, chance: Chance): void {
  const chart = judged(readChart(text), text);
  if (chart === undefined) return;
  const choices: Choices = {
    ...DEFAULT_CHOICES,
    level: chance.of([1, 2, 3] as const),
    seed: chance.upTo(1000),
    hand: chance.of(['small', 'medium', 'large', { spanMm: 150 + chance.upTo(100) }] as const),
  };
  const key = chance.once(3) ? null : chance.of(KEYS);
  // a key of the other mode is refused before it comes here
  const first = computeLesson(chart, choices);
  const own = judged(first, text)?.analysis.key;
  if (own === undefined) return;
  const lesson = key === null || key.mode !== own.mode ? null : key;
  const made = judged(lesson === null ? first : computeLesson(chart, choices, lesson), text);
  if (made === undefined) return;
  must(made.analysis.slots.length > 0, 'no slot');
  must(writeMusicXml(made.score).startsWith('<?xml'), 'no score');
  must(writeMidi(made.score, made.performance)[0] === 0x4d, 'no MIDI file');
  if (chance.once(10)) {
    const played = playProgramme(chart, choices, {
      ...usualProgramme(chart, own),
      choruses: usualProgramme(chart, own).choruses.slice(0, 1),
    });
    must(played !== undefined && writeProgrammeMidi(text.slice(0, 40), played).length > 20, 'nothing is played');
  }
}
