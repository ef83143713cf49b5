import type { Course, CourseBar, TakeGround } from './course.ts';
import { courseOf } from './course.ts';
import { deviation, sureOf } from './figures.ts';
import { toWorkOn, type Finding, type PraiseCode } from './finding.ts';
import { handTime, type HandTime } from './hand-time.ts';
import { handsTogether, type Together } from './hands-together.ts';
import { heardLine, type HeardLine } from './heard-line.ts';
import { judgeLeftHand, type LeftHand } from './left-hand.ts';
import { avoidNotes, guideTones, topLine, type GuideTones } from './over-chords.ts';
import { phrasesOf, type HeardPhrase } from './phrases.ts';
import { ownLineOf, type OwnLine } from './own-line.ts';
import { judgePositions, type SlotVerdict } from './positions.ts';
import type { HeardNote, Measured } from './take.ts';
import { timeFindings } from './time-findings.ts';

/** A bar of the take as a picture needs it. */
export interface JudgedBar {
  readonly bar: CourseBar;
  readonly slots: readonly SlotVerdict[];
  /** Avoid notes left hanging in it. */
  readonly hanging: number;
  /** How late the right hand's beats lie, the left's where the right has too few. */
  readonly lateMs: number | null;
  readonly swing: number | null;
}

/** What one hand did, by itself. */
export interface JudgedHand {
  readonly notes: number;
  readonly line: HeardLine;
  /** How it met the line that the lesson has written for it; null where it played another. */
  readonly own: OwnLine | null;
  readonly time: HandTime;
  readonly dynamics: Measured | null;
}

/** All that a take tells. Nothing here is a mark or a grade. */
export interface JudgedTake {
  readonly course: Course;
  readonly bars: readonly JudgedBar[];
  readonly findings: readonly Finding[];
  readonly wentWell: readonly PraiseCode[];
  /** At most two of the findings. */
  readonly workOn: readonly Finding[];
  readonly right: JudgedHand;
  readonly left: JudgedHand;
  readonly together: Together | null;
  readonly leftHand: LeftHand | null;
  readonly phrases: readonly HeardPhrase[];
  readonly guideTones: GuideTones;
}

interface HeardHand {
  readonly own: OwnLine | null;
  readonly line: HeardLine;
}

/** Velocities that stray less than this are all the same to the ear; strokes of people stray by 7 and more (docs/takes.md). */
const FLAT = { right: 2.6, left: 1 } as const;
const FEWEST_NOTES = 16;

/** A line without a breath for so many bars has none; players phrase over 1 to 6 bars (docs/sources.md, 5), two may meet at the double bar. */
const BREATHLESS_BARS = 9.9;
const FEWEST_BREATHLESS_BARS = 5;

const once = (bars: readonly number[]): number[] => [...new Set(bars)].sort((a, b) => a - b);

function dynamicsOf({ notes }: HeardLine): Measured | null {
  if (notes.length < FEWEST_NOTES) return null;
  const value = Math.round(deviation(notes.map(({ velocity }) => velocity)) * 10) / 10;
  return { value, sure: sureOf(Math.sqrt(notes.length)) };
}

/** Where in the bar a stroke lies is what our own bass line accents: without such strokes its even velocities say nothing. */
function isLeftFlat(line: HeardLine, course: Course, spread: Measured): boolean {
  const perBar = Math.round(course.barTicks / course.pulseTicks);
  const places = line.notes.map(({ ticks }) => Math.round(ticks / course.pulseTicks) % perBar);
  const offOnes = places.filter((place) => place % 2 === 1).length;
  return spread.value < FLAT.left && offOnes >= 8 && places.length - offOnes >= 8;
}

function positionFindings(verdicts: readonly SlotVerdict[]): Finding[] {
  const of = (kind: 'outside' | 'other move', code: Finding['code']): Finding[] => {
    const own = verdicts.filter((each) => each.kind === kind);
    if (own.length === 0) return [];
    const notes = own.reduce((sum, each) => sum + (kind === 'outside' ? each.outside : each.notes).length, 0);
    const sure = Math.max(...own.map((each) => each.sure ?? 0));
    const bars = once(own.map(({ slot }) => slot.bar.number));
    return [{ code, bars, hand: 'right', value: notes, unit: 'notes', sure }];
  };
  return [...of('outside', 'position.wrong'), ...of('other move', 'position.other-move')];
}

/**
 * @param drifts whether the hand's time runs away: beats then come early or late against the click until one seems lost, so
 * that a lost beat cannot be told from it
 */
function leftFindings(left: LeftHand | null, drifts: boolean): Finding[] {
  if (left === null) return [];
  const { dropped, wrong, shifted, changes } = left;
  const findings: Finding[] = [];
  if (drifts) {
    // the drift is what is reported
  } else if (shifted !== null) {
    const sure = sureOf(shifted.slots);
    findings.push({
      code: 'left.dropped',
      bars: shifted.bars,
      hand: 'left',
      value: Math.abs(shifted.pulses),
      unit: 'beats',
      sure,
    });
  } else if (dropped.length > 0) {
    const bars = once(dropped.map(({ bar }) => bar));
    findings.push({ code: 'left.dropped', bars, hand: 'left', value: dropped.length, unit: 'beats', sure: sureOf(4) });
  }
  if (wrong.length > 0) {
    const bars = once(wrong.map(({ bar }) => bar));
    const sure = sureOf(Math.sqrt(changes));
    findings.push({ code: 'left.root-wrong', bars, hand: 'left', value: wrong.length, unit: 'roots', sure });
  }
  return findings;
}

/** The longest phrase without a breath, where it is too long. */
function breathless(phrases: readonly HeardPhrase[], course: Course): Finding[] {
  const long = phrases
    .map((phrase) => ({ phrase, bars: (phrase.endTicks - phrase.startTicks) / course.barTicks }))
    .sort((a, b) => b.bars - a.bars)[0];
  if (long === undefined) return [];
  const { phrase, bars } = long;
  const first = phrases[0] as HeardPhrase;
  const wholeBars = ((phrases.at(-1) as HeardPhrase).endTicks - first.startTicks) / course.barTicks;
  // a short take without any breath says it, too
  const limit = Math.max(FEWEST_BREATHLESS_BARS, Math.min(BREATHLESS_BARS, wholeBars * 0.96));
  const perBar = phrase.notes.length / bars;
  if (bars < limit || perBar < 0.8) return [];
  const inside = course.bars.filter(
    (bar) => bar.endTicks > phrase.startTicks + 1 && bar.startTicks < phrase.endTicks - 1,
  );
  return [
    {
      code: 'phrase.no-rests',
      bars: once(inside.map(({ number }) => number)),
      hand: 'right',
      value: Math.round(bars * 10) / 10,
      unit: 'bars',
      sure: sureOf(bars / 2),
    },
  ];
}

/**
 * Hands are together that stray no more than one person's strokes do (two hands of 8 to 20 ms each: docs/takes.md), the right no
 * further behind than soloists lie (docs/sound.md).
 */
const TOGETHER = { strayMs: 26, behindMs: 45 } as const;

function isTogether(together: Together | null): boolean {
  return (
    together !== null && together.stray.value <= TOGETHER.strayMs && Math.abs(together.behindMs) <= TOGETHER.behindMs
  );
}

/** So unlikely a miss of guide tones is told. */
const TELLING_CHANCE = 0.004;

function praiseOf(
  judged: Omit<JudgedTake, 'wentWell' | 'workOn'>,
  avoided: { all: number; hanging: number },
): PraiseCode[] {
  const { findings, bars, right, left, leftHand, phrases } = judged;
  const has = (start: string): boolean => findings.some(({ code }) => code.startsWith(start));
  const verdicts = bars
    .flatMap(({ slots }) => slots)
    .filter(({ slot, notes }) => slot.chord !== null && notes.length > 1);
  const praise: PraiseCode[] = [];
  const add = (code: PraiseCode, isEarned: boolean): void => {
    if (isEarned) praise.push(code);
  };
  add('position.found', verdicts.length >= 4 && !has('position.wrong'));
  add('time.steady', right.time.late !== null && !has('time.'));
  add(
    'left.goes-on',
    leftHand !== null && leftHand.style === 'line' && leftHand.shifted === null && leftHand.dropped.length === 0,
  );
  add('left.roots', leftHand !== null && leftHand.changes >= 4 && leftHand.roots === leftHand.changes);
  add('phrase.breathes', phrases.length >= 3 && !has('phrase.'));
  add('guide-tones.met', judged.guideTones.changes >= 6 && judged.guideTones.first / judged.guideTones.changes >= 0.5);
  add('avoid.resolved', avoided.all >= 2 && avoided.hanging === 0);
  add('left.steady', left.time.stray !== null && left.time.stray.value < 20 && !has('left.uneven'));
  add('phrase.lands', phrases.length >= 3 && phrases.every((each) => each.landsOnChordTone));
  add(
    'phrase.motive',
    phrases.some(({ comesBackFrom }) => comesBackFrom !== null),
  );
  add('time.together', isTogether(judged.together));
  add('time.swings', right.time.swing !== null && right.time.swing.value >= 1.3);
  add('dynamics.alive', right.dynamics !== null && right.dynamics.value >= 8);
  return praise;
}

/**
 * Judges a take: what the hands did, bar by bar, against the lesson it was played from.
 * @param notes in order of time, seconds from bar 1; each with its hand
 * @param tempoBpm beats a minute of the chart's metre, as it was played to
 * @param isToClick false where there was no click: then late and early are not reported
 * @returns for a take without notes a report without findings
 * @example judgeTake(lesson, [], 132).workOn // → []
 */
export function judgeTake(
  ground: TakeGround,
  notes: readonly HeardNote[],
  tempoBpm: number,
  isToClick = true,
): JudgedTake {
  const course = courseOf(ground, tempoBpm, notes.at(-1)?.startSeconds ?? 0);
  if (course.slots.length === 0) throw new RangeError('ground must have at least one chord or N.C.');
  const [ofRight, ofLeft] = (['right', 'left'] as const).map((hand) => {
    const played = notes.filter((each) => each.hand === hand);
    const own = ownLineOf(played, ground.score, hand, course);
    return { own, line: heardLine(played, course, own) };
  }) as [HeardHand, HeardHand];
  const [right, left] = [ofRight.line, ofLeft.line];
  const verdicts = judgePositions(right.notes);
  const line = topLine(right.notes);
  const avoided = avoidNotes(line, verdicts, course.slots, course.pulseTicks);
  const phrases = phrasesOf(line, course.pulseTicks, course.pulseSeconds);
  const tones = guideTones(line, course.pulseTicks);
  const [rightTime, leftTime] = [
    handTime(right, course, ofRight.own !== null),
    handTime(left, course, ofLeft.own !== null),
  ];
  const lastTicks = line.at(-1)?.ticks ?? 0;
  const leftHand = judgeLeftHand(left, course, ground.score, lastTicks, ofLeft.own);
  const [rightDynamics, leftDynamics] = [dynamicsOf(right), dynamicsOf(left)];

  const findings: Finding[] = [
    ...positionFindings(verdicts),
    ...timeFindings({
      right: rightTime,
      left: leftTime,
      course,
      leftStyle: leftHand?.style ?? null,
      isToClick,
      isOwnChorus: ofRight.own !== null,
    }),
    ...leftFindings(leftHand, leftTime.drifts.length > 0),
    ...breathless(phrases, course),
  ];
  if (avoided.hanging.length > 0) {
    findings.push({
      code: 'avoid.hanging',
      bars: once(avoided.hanging.map(({ slot }) => slot.bar.number)),
      hand: 'right',
      value: avoided.hanging.length,
      unit: 'notes',
      sure: sureOf(3 + avoided.hanging.length),
    });
  }
  const isRightFlat = rightDynamics !== null && rightDynamics.value < FLAT.right;
  const isLeftToo = leftDynamics !== null && isLeftFlat(left, course, leftDynamics);
  if (isRightFlat || isLeftToo) {
    const flat = isRightFlat ? rightDynamics : leftDynamics;
    findings.push({
      code: 'dynamics.flat',
      bars: once(course.bars.map(({ number }) => number)),
      hand: isRightFlat && isLeftToo ? 'both' : isRightFlat ? 'right' : 'left',
      value: flat?.value ?? 0,
      unit: 'velocity',
      sure: flat?.sure ?? 0,
    });
  }
  if (tones.chance < TELLING_CHANCE) {
    findings.push({
      code: 'guide-tones.missed',
      bars: once(tones.without),
      hand: 'right',
      value: Math.round((100 * tones.first) / Math.max(1, tones.changes)) / 100,
      unit: 'share',
      sure: Math.round((1 - tones.chance) * 100) / 100,
    });
  }

  const ofBar = new Map<CourseBar, SlotVerdict[]>();
  for (const verdict of verdicts) ofBar.set(verdict.slot.bar, [...(ofBar.get(verdict.slot.bar) ?? []), verdict]);
  const bars = course.bars.map((bar, index): JudgedBar => {
    const [inRight, inLeft] = [rightTime.byBar[index], leftTime.byBar[index]];
    return {
      bar,
      slots: ofBar.get(bar) ?? [],
      hanging: avoided.hanging.filter(({ slot }) => slot.bar === bar).length,
      lateMs: isToClick ? (inRight?.lateMs ?? inLeft?.lateMs ?? null) : null,
      swing: inRight?.swing ?? inLeft?.swing ?? null,
    };
  });
  const judged = {
    course,
    bars,
    findings,
    right: { notes: right.notes.length, line: right, own: ofRight.own, time: rightTime, dynamics: rightDynamics },
    left: { notes: left.notes.length, line: left, own: ofLeft.own, time: leftTime, dynamics: leftDynamics },
    together: handsTogether(right, left),
    leftHand,
    phrases,
    guideTones: tones,
  };
  return {
    ...judged,
    wentWell: praiseOf(judged, { all: avoided.all.length, hanging: avoided.hanging.length }),
    workOn: toWorkOn(findings),
  };
}
