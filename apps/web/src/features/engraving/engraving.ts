import type { Score, ScoreBar, ScoreStaff } from '@fivespan/core';
import { atom } from 'nanostores';
import { runJob } from '../../platform/workers/index.ts';
import type { EngravingOrder } from './engrave-job.ts';
import { changedLines, withLines, type EngravedLine } from './changed-lines.ts';

/** What is engraved on the screen. */
export interface EngravedParts {
  /** The score the pictures are of. */
  readonly score: Score;
  readonly parts: readonly ScoreStaff['role'][];
  readonly systems: readonly string[];
  /** 'busy' while more of it, or a newer one, is on its way. */
  readonly state: 'busy' | 'ready' | 'failed';
  /** Whether lines were drawn anew by themselves since all were laid out: a line may hold more or less than fits it well. */
  readonly isPatched?: boolean;
}

/** How it is to be engraved. */
export interface EngravingWish {
  readonly score: Score;
  readonly parts: readonly ScoreStaff['role'][];
  readonly widthMm: number;
  readonly staffHeightMm: number;
  readonly thumbMarks: readonly string[];
  /** The lines that are shown, while notes are changed: those in which something is another are drawn anew, the others stay. */
  readonly lines?: readonly EngravedLine[];
}

export const $engraved = atom<EngravedParts | null>(null);

/** Bars a job engraves: what more would take too long for the work that waits behind it. */
const MOST_BARS = 24;

/** Stretches of bars, cut where a section begins wherever that is possible. */
export function stretchesOfBars(bars: readonly Pick<ScoreBar, 'section'>[]): EngravingOrder['bars'][] {
  const stretches: EngravingOrder['bars'][] = [];
  let from = 0;
  while (from < bars.length) {
    let to = Math.min(from + MOST_BARS, bars.length);
    if (to < bars.length) {
      for (let cut = to; cut > from; cut--) {
        if ((bars[cut] as Pick<ScoreBar, 'section'>).section !== null) {
          to = cut;
          break;
        }
      }
    }
    stretches.push({ from, to });
    from = to;
  }
  return stretches;
}

/** More lines than this are changed by something else than a note. */
const MOST_LINES_PATCHED = 3;

let asking: AbortController | undefined;

/** Draws the lines that were changed, and no others. @returns whether that is all there is to do */
async function engraveLines({ lines, ...wish }: EngravingWish, own: AbortController): Promise<boolean> {
  const before = $engraved.get();
  const { score, parts } = wish;
  if (lines === undefined || before === null || before.systems.length !== lines.length) return false;
  const changed = before.parts.join() === parts.join() ? changedLines(before.score, score, parts, lines) : undefined;
  if (changed === undefined || changed.length > MOST_LINES_PATCHED) return false;
  const made = new Map<number, string>();
  for (const index of changed) {
    const { bars } = lines[index] as EngravedLine;
    const order: EngravingOrder = { ...wish, bars, fills: bars.to < score.bars.length };
    // one after the other: there is one engraver
    // oxlint-disable-next-line no-await-in-loop
    const systems = await runJob<EngravingOrder, readonly string[]>('engrave parts', order, {
      urgency: 'now',
      signal: own.signal,
      home: 'engraver',
    });
    const [line, ...more] = systems;
    // it no longer goes into one line
    if (line === undefined || more.length > 0) return false;
    made.set(index, line);
  }
  if (asking !== own) return true;
  const systems = withLines(before.systems, lines, made, before.score, score);
  $engraved.set({ score, parts, systems, state: 'ready', isPatched: true });
  return true;
}

/** Engraves a score for the screen, a stretch at a time; the latest wish wins, and what is shown stays until it comes. */
export async function engrave(wish: EngravingWish): Promise<void> {
  asking?.abort(new DOMException('a newer wish', 'AbortError'));
  const own = new AbortController();
  asking = own;
  const { score, parts, widthMm, staffHeightMm, thumbMarks } = wish;
  const before = $engraved.get();
  if (before !== null && wish.lines === undefined) $engraved.set({ ...before, state: 'busy' });
  try {
    if (await engraveLines(wish, own)) return;
  } catch {
    // the whole of it is drawn all the same, or a newer wish is
    if (asking !== own) return;
  }
  const hasNotes = score.staves.some((staff) => parts.includes(staff.role) && staff.notes.length > 0);
  const stretches = hasNotes ? stretchesOfBars(score.bars) : [];
  const systems: string[] = [];
  try {
    for (const bars of stretches) {
      const order: EngravingOrder = { score, parts, bars, widthMm, staffHeightMm, thumbMarks };
      // one stretch after the other: the next is not wanted where this one has been overtaken
      // oxlint-disable-next-line no-await-in-loop
      const made = await runJob<EngravingOrder, readonly string[]>('engrave parts', order, {
        urgency: 'soon',
        signal: own.signal,
        home: 'engraver',
      });
      systems.push(...made);
      if (asking === own) {
        const isLast = bars === stretches.at(-1);
        // while notes are changed, what is shown stays until all is there
        if (isLast || wish.lines === undefined) {
          $engraved.set({ score, parts, systems: [...systems], state: isLast ? 'ready' : 'busy' });
        }
      }
    }
    if (stretches.length === 0) $engraved.set({ score, parts, systems, state: 'ready' });
  } catch {
    if (asking === own) $engraved.set({ score, parts, systems, state: 'failed' });
  }
}

/** Nothing is to be engraved any more: the screen is left. */
export function stopEngraving(): void {
  asking?.abort(new DOMException('the screen is left', 'AbortError'));
  asking = undefined;
  $engraved.set(null);
}
