import { TICKS_PER_QUARTER } from '@fivespan/core';
import type { MetricalGrid } from './metrical-grid.ts';
import type { NoteType, Segment } from './notated-value.ts';

/** Beams a note carries, first the one that joins eighths. */
export type Beams = readonly ('begin' | 'continue' | 'end' | 'forward hook' | 'backward hook')[];

const BEAMS_OF_TYPE: Readonly<Record<NoteType, number>> = {
  breve: 0,
  whole: 0,
  half: 0,
  quarter: 0,
  eighth: 1,
  '16th': 2,
  '32nd': 3,
  '64th': 4,
};

/** A segment with whether it is sounded. */
export interface BeamedSegment extends Segment {
  readonly isRest: boolean;
}

/**
 * Where beam groups begin and end: a beat, or half a 4/4 bar that holds four plain eighths (common practice);
 * compound metres by dotted beat; metres over eighths that are not compound by their groups.
 */
function beamGroups(grid: MetricalGrid, segments: readonly BeamedSegment[]): (readonly [number, number])[] {
  const { meter, barTicks, beatTicks } = grid;
  const groups: (readonly [number, number])[] = [];
  if (meter.unit >= 8 && !grid.isCompound) {
    for (const [index, start] of grid.groupTicks.slice(0, -1).entries()) {
      groups.push([start, grid.groupTicks[index + 1] as number]);
    }
    return groups;
  }
  const isPlainEighths = (from: number): boolean => {
    const inside = segments.filter((each) => each.startTicks >= from && each.startTicks < from + 1920);
    return inside.length === 4 && inside.every((each) => each.type === 'eighth' && each.dots === 0 && !each.isRest);
  };
  const step = meter.unit === 2 ? TICKS_PER_QUARTER : beatTicks;
  for (let start = 0; start < barTicks;) {
    const isHalf = meter.unit === 4 && meter.count === 4 && start % 1920 === 0 && isPlainEighths(start);
    const length = isHalf ? 1920 : step;
    groups.push([start, start + length]);
    start += length;
  }
  return groups;
}

function beamsOfRun(run: readonly BeamedSegment[]): Beams[] {
  const counts = run.map((each) => BEAMS_OF_TYPE[each.type]);
  return counts.map((count, index) => {
    const before = counts[index - 1] ?? 0;
    const after = counts[index + 1] ?? 0;
    return Array.from({ length: count }, (_, level) => {
      const joinsBefore = before > level;
      const joinsAfter = after > level;
      if (joinsBefore) return joinsAfter ? 'continue' : 'end';
      if (joinsAfter) return 'begin';
      return index === 0 ? 'forward hook' : 'backward hook';
    });
  });
}

/**
 * The beams of a bar's segments, one entry a segment; rests and lone notes carry none.
 * @param segments in time order, ticks from the start of the full bar
 */
export function beamsOf(grid: MetricalGrid, segments: readonly BeamedSegment[]): Beams[] {
  const beams: Beams[] = segments.map(() => []);
  for (const [start, end] of beamGroups(grid, segments)) {
    let run: number[] = [];
    const close = (): void => {
      if (run.length > 1) {
        for (const [place, each] of beamsOfRun(run.map((index) => segments[index] as BeamedSegment)).entries()) {
          beams[run[place] as number] = each;
        }
      }
      run = [];
    };
    for (const [index, segment] of segments.entries()) {
      if (segment.startTicks < start || segment.startTicks >= end) continue;
      if (segment.isRest || BEAMS_OF_TYPE[segment.type] === 0) close();
      else run.push(index);
    }
    close();
  }
  return beams;
}
