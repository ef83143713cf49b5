import type { Course } from './course.ts';
import { sureOf } from './figures.ts';
import type { Finding } from './finding.ts';
import type { HandTime } from './hand-time.ts';

interface Times {
  readonly right: HandTime;
  readonly left: HandTime;
  readonly course: Course;
  readonly leftStyle: 'line' | 'chords' | null;
  readonly isToClick: boolean;
}

/**
 * From how many ms on a hand is told to be late. A soloist's beats lie behind by up to 30 to 40 ms at medium and slow tempi,
 * less when faster (Nelias and others 2022; docs/sound.md), a bass line's by some 5: told is what lies beyond that.
 */
function lateFrom(side: 'right' | 'left', pulseSeconds: number): number {
  if (side === 'left') return 36;
  return 12 + Math.min(40, Math.max(24, (30 * pulseSeconds) / 0.4));
}
const EARLY_FROM = -32;

/** Beyond this the strokes of a walking line are uneven to the ear; recorded bass players stray by some 20 ms (docs/takes.md). */
const UNEVEN_FROM_MS = 33;

function barsBetween({ bars }: Course, from: number, to: number): number[] {
  return [...new Set(bars.slice(from, to + 1).map(({ number }) => number))].sort((a, b) => a - b);
}

interface HandFinding extends Omit<Finding, 'hand'> {
  readonly hand: 'right' | 'left';
}

function driftFindings(time: HandTime, course: Course, hand: 'right' | 'left'): HandFinding[] {
  return (['time.rushing', 'time.dragging'] as const).flatMap((code): HandFinding[] => {
    const own = time.drifts.filter(({ msABar }) => msABar < 0 === (code === 'time.rushing'));
    const [clearest] = own;
    if (clearest === undefined) return [];
    const bars = own.flatMap(({ fromBar, toBar }) => barsBetween(course, fromBar, toBar));
    return [
      {
        code,
        bars: [...new Set(bars)].sort((a, b) => a - b),
        hand,
        value: Math.round(clearest.msABar * 10) / 10,
        unit: 'ms a bar',
        sure: sureOf(clearest.errors),
      },
    ];
  });
}

function placeFindings(time: HandTime, course: Course, hand: 'right' | 'left'): HandFinding[] {
  const { late, stretches } = time;
  if (late === null) return [];
  const whole = barsBetween(course, 0, course.bars.length - 1);
  const limit = lateFrom(hand, course.pulseSeconds);
  const finding = (code: Finding['code'], ms: number, bars: number[], sure: number): HandFinding[] => [
    { code, bars, hand, value: Math.round(ms), unit: 'ms', sure },
  ];
  if (late.value >= limit) return finding('time.late', late.value, whole, late.sure);
  if (late.value <= EARLY_FROM) return finding('time.early', late.value, whole, late.sure);
  // some bars only: further off, so that chance does not speak
  const beyond = stretches
    .map((each) => ({ ...each, by: each.ms > 0 ? each.ms - limit - 8 : EARLY_FROM - 8 - each.ms }))
    .filter(({ by, errors }) => by > 0 && by * errors > 1.5)
    .sort((a, b) => b.by * b.errors - a.by * a.errors)[0];
  if (beyond === undefined) return [];
  const bars = barsBetween(course, beyond.fromBar, beyond.toBar);
  return finding(beyond.ms > 0 ? 'time.late' : 'time.early', beyond.ms, bars, sureOf(beyond.by * beyond.errors));
}

/** What both hands do is said once. */
function together(right: readonly HandFinding[], left: readonly HandFinding[]): Finding[] {
  const both = right.map((own): Finding => {
    const other = left.find(({ code }) => code === own.code);
    if (other === undefined) return own;
    const bars = [...new Set([...own.bars, ...other.bars])].sort((a, b) => a - b);
    return { ...own, bars, hand: 'both', sure: Math.max(own.sure, other.sure) };
  });
  return [...both, ...left.filter(({ code }) => !right.some((own) => own.code === code))];
}

/** What a take's time shows: rushing and dragging, late and early, and how even a walking left hand is. */
export function timeFindings({ right, left, course, leftStyle, isToClick }: Times): Finding[] {
  const drifts = together(driftFindings(right, course, 'right'), driftFindings(left, course, 'left'));
  const drifting = (hand: 'right' | 'left'): boolean => drifts.some((each) => each.hand === hand || each.hand === 'both');
  const places = isToClick
    ? together(
        drifting('right') ? [] : placeFindings(right, course, 'right'),
        drifting('left') ? [] : placeFindings(left, course, 'left'),
      )
    : [];
  const { stray } = left;
  const uneven: Finding[] =
    leftStyle === 'line' && stray !== null && stray.value >= UNEVEN_FROM_MS
      ? [
          {
            code: 'left.uneven',
            bars: barsBetween(course, 0, course.bars.length - 1),
            hand: 'left',
            value: stray.value,
            unit: 'ms',
            sure: stray.sure,
          },
        ]
      : [];
  return [...drifts, ...places, ...uneven];
}
