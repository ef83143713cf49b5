/**
 * What the judge says of recorded players, beside what the annotators say of them: time, swing and lateness; positions and avoid notes
 * of solos over their changes. `npx tsx bench/take-recordings.ts` prints the tables that docs/takes.md sums up; `wjd 12` only so many solos.
 */
import { align, DEFAULT_CHOICES, handsOf, judgeTake, makeLesson, type JudgedTake, type Lesson } from '@fivespan/core';
import { median } from '../checks/jtd.ts';
import { recordedTakes } from '../checks/performance/swing-recordings.ts';
import { plainLesson, rideTakes, trioTakes } from '../checks/take/recordings.ts';
import { soloTakes } from '../checks/take/solos.ts';
import { matchedPieces } from '../checks/take/vienna.ts';

const [only, most = '1000'] = process.argv.slice(2);
const say = (...cells: readonly (string | number)[]): boolean => process.stdout.write(`| ${cells.join(' | ')} |\n`);
const wants = (name: string): boolean => only === undefined || only === name;
const figure = (value: number | null | undefined, digits = 0): string => (value == null ? '–' : value.toFixed(digits));
const codes = (judged: JudgedTake): string => judged.findings.map(({ code }) => code).join(' ');

if (wants('vienna')) {
  say('performance', 'F1', 'hands as staves %');
  for (const { name, written, played, pairs } of matchedPieces()) {
    const { matched } = align(written, played);
    const theirs = new Set(pairs.map((pair) => pair.join(' ')));
    const right = matched.filter((pair) => theirs.has(`${written[pair.written]?.id} ${played[pair.played]?.id}`));
    const staffOf = new Map(written.map(({ id, staff }) => [id, staff]));
    const playedAs = new Map(pairs.map(([score, sound]) => [sound, staffOf.get(score)]));
    const hands = handsOf(played);
    const known = played
      .map(({ id }, at) => [playedAs.get(id), hands[at]] as const)
      .filter(([staff]) => staff !== undefined);
    const same = known.filter(([staff, hand]) => (staff === 1) === (hand === 'right')).length / known.length;
    say(name, ((2 * right.length) / (matched.length + theirs.size)).toFixed(4), (100 * same).toFixed(1));
  }
}

if (wants('trios')) {
  const lesson = plainLesson();
  const theirs = new Map(recordedTakes().map((each) => [each.name, each]));
  say(
    'recording',
    'bpm',
    'swing heard',
    'of its own pairs',
    'late ms heard',
    'behind the drums',
    'bass strays ms',
    'findings',
  );
  for (const { name, tempoBpm, notes } of trioTakes()) {
    const judged = judgeTake(lesson, notes, tempoBpm);
    const own = theirs.get(name);
    const middle = (values: readonly number[] = []): string => (values.length < 5 ? '–' : median(values).toFixed(2));
    say(
      name.slice(0, 24),
      tempoBpm.toFixed(0),
      figure(judged.right.time.swing?.value, 2),
      middle(own?.soloist),
      figure(judged.right.time.late?.value),
      own === undefined || own.soloistLateOn.length < 5 ? '–' : median(own.soloistLateOn).toFixed(0),
      figure(judged.left.time.stray?.value, 1),
      codes(judged),
    );
  }
  for (const { name, tempoBpm, notes } of rideTakes()) {
    const judged = judgeTake(lesson, notes, tempoBpm);
    const ride = theirs.get(name)?.ride ?? [];
    const late = figure(judged.right.time.late?.value);
    say(
      name.slice(0, 24),
      tempoBpm.toFixed(0),
      figure(judged.right.time.swing?.value, 2),
      median(ride).toFixed(2),
      late,
      '–',
      '–',
      codes(judged),
    );
  }
}

if (wants('wjd')) {
  say(
    'solo',
    'bpm',
    'swing heard',
    'annotated',
    'late ms heard',
    'annotated',
    'at home %',
    'other rows %',
    'outside %',
    'avoid notes',
    'hang',
    'time',
  );
  const lessons = new Map<unknown, Lesson>();
  const apart: { swing: number[]; late: number[]; time: number } = { swing: [], late: [], time: 0 };
  let rushing = 0;
  const solos = soloTakes().slice(0, Number(most));
  for (const { name, chart, tempoBpm, notes, lateMs, swing, feel } of solos) {
    const lesson = lessons.get(chart) ?? makeLesson(chart, { ...DEFAULT_CHOICES, level: 4 });
    lessons.set(chart, lesson);
    const judged = judgeTake(lesson, notes, tempoBpm);
    const verdicts = judged.bars.flatMap(({ slots }) => slots).filter(({ slot }) => slot.chord !== null);
    const all = verdicts.reduce((sum, each) => sum + each.notes.length, 0);
    const of = (kind: string): string =>
      ((100 * verdicts.reduce((sum, each) => sum + (each.kind === kind ? each.notes.length : 0), 0)) / all).toFixed(0);
    const { slots } = judged.course;
    const avoid = notes.filter(({ startSeconds, key }) => {
      const at = (startSeconds * tempoBpm * 960) / 60;
      const slot = slots.findLast(({ startTicks }) => startTicks <= at);
      return slot !== undefined && (slot.avoid & (1 << (key % 12))) !== 0;
    }).length;
    const hanging = judged.findings.find(({ code }) => code === 'avoid.hanging')?.value ?? 0;
    const time = judged.findings.filter(({ code }) => code.startsWith('time.'));
    if (time.some(({ code }) => code === 'time.rushing')) rushing++;
    if (time.length > 0) apart.time++;
    const heard = judged.right.time;
    if (swing !== null && heard.swing !== null && feel === 'SWING')
      apart.swing.push(Math.abs(heard.swing.value / swing - 1));
    if (lateMs !== null && heard.late !== null) apart.late.push(Math.abs(heard.late.value - lateMs));
    say(
      name.slice(0, 28),
      tempoBpm.toFixed(0),
      figure(heard.swing?.value, 2),
      figure(swing, 2),
      figure(heard.late?.value),
      figure(lateMs),
      of('family'),
      of('other move'),
      of('outside'),
      avoid,
      hanging,
      time.map(({ code, bars, value }) => `${code} ${value} (${bars.length} bars)`).join(' '),
    );
  }
  say(`${solos.length} solos: rushing ${rushing}, any of time ${apart.time}`);
  say(
    `swing apart by ${(100 * median(apart.swing)).toFixed(0)} % (median), late by ${median(apart.late).toFixed(0)} ms`,
  );
}
