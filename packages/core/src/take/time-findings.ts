import { soloistSwing } from '../performance/index.ts';
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
  /** Whether the right hand plays the lesson's own chorus. */
  readonly isOwnChorus: boolean;
}

/**
 * Between which ms a hand is neither early nor late. A soloist's beats lie behind by up to 30 to 40 ms at medium and slow tempi,
 * less when faster (Nelias and others 2022; docs/sound.md), a bass line's by some 5: told is what lies beyond that. Where the
 * right hand plays the lesson's own chorus, the lateness it is written with is known.
 */
function placeLimits(
  side: 'right' | 'left',
  { pulseSeconds, swings }: Course,
  isOwnChorus: boolean,
): { readonly late: number; readonly early: number } {
  if (side === 'left') return { late: 36, early: -30 };
  const usual = swings ? soloistSwing(pulseSeconds).delaySeconds * 1000 : 0;
  if (isOwnChorus) return { late: usual + 33, early: usual - 33 };
  return { late: 38 + 0.4 * usual, early: -27 };
}

/** Beyond this the strokes of a walking line are uneven to the ear; recorded bass players stray by some 20 ms (docs/takes.md). */
const UNEVEN_FROM_MS = 26;
/** Where beats are short, strokes that stray further are taken for other parts of the beat. */
const UNEVEN_SHORT_MS = 23;
const SHORT_PULSE_SECONDS = 0.3;

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

function placeFindings(time: HandTime, course: Course, hand: 'right' | 'left', isOwnChorus: boolean): HandFinding[] {
  const { late, stretches } = time;
  if (late === null) return [];
  const whole = barsBetween(course, 0, course.bars.length - 1);
  const limits = placeLimits(hand, course, isOwnChorus);
  const finding = (code: Finding['code'], ms: number, bars: number[], sure: number): HandFinding[] => [
    { code, bars, hand, value: Math.round(ms), unit: 'ms', sure },
  ];
  if (late.value >= limits.late) return finding('time.late', late.value, whole, late.sure);
  if (late.value <= limits.early) return finding('time.early', late.value, whole, late.sure);
  // some bars only: further off, so that chance does not speak
  const other = placeLimits(hand, course, false);
  const usual = { late: Math.max(limits.late, other.late), early: Math.min(limits.early, other.early) };
  let beyond: { readonly stretch: (typeof stretches)[number]; readonly sure: number } | undefined;
  for (const stretch of stretches) {
    const by = stretch.ms > 0 ? stretch.ms - usual.late - 8 : usual.early - 8 - stretch.ms;
    const sure = by * stretch.errors;
    if (by > 0 && sure > 1.5 && (beyond === undefined || sure > beyond.sure)) beyond = { stretch, sure };
  }
  if (beyond === undefined) return [];
  const { ms, fromBar, toBar } = beyond.stretch;
  return finding(ms > 0 ? 'time.late' : 'time.early', ms, barsBetween(course, fromBar, toBar), sureOf(beyond.sure));
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
export function timeFindings({ right, left, course, leftStyle, isToClick, isOwnChorus }: Times): Finding[] {
  const drifts = together(driftFindings(right, course, 'right'), driftFindings(left, course, 'left'));
  const drifting = (hand: 'right' | 'left'): boolean =>
    drifts.some((each) => each.hand === hand || each.hand === 'both');
  const places = isToClick
    ? together(
        drifting('right') ? [] : placeFindings(right, course, 'right', isOwnChorus),
        drifting('left') ? [] : placeFindings(left, course, 'left', false),
      )
    : [];
  const { stray } = left;
  const uneven: Finding[] =
    leftStyle === 'line' &&
    stray !== null &&
    stray.value >= (course.pulseSeconds < SHORT_PULSE_SECONDS ? UNEVEN_SHORT_MS : UNEVEN_FROM_MS)
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
