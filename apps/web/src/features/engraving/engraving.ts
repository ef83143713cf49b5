import type { Score, ScoreBar, ScoreStaff } from '@fivespan/core';
import { atom } from 'nanostores';
import { runJob } from '../../platform/workers/index.ts';
import type { EngravingOrder } from './engrave-job.ts';
import { withLine, type EngravedLine } from './one-line.ts';

/** What is engraved on the screen. */
export interface EngravedParts {
  /** The score the pictures are of. */
  readonly score: Score;
  readonly parts: readonly ScoreStaff['role'][];
  readonly systems: readonly string[];
  /** 'busy' while more of it, or a newer one, is on its way. */
  readonly state: 'busy' | 'ready' | 'failed';
}

/** How it is to be engraved. */
export interface EngravingWish {
  readonly score: Score;
  readonly parts: readonly ScoreStaff['role'][];
  readonly widthMm: number;
  readonly staffHeightMm: number;
  /** The line of what is shown that alone was changed: it is drawn first, the others when nothing more was changed for a while. */
  readonly line?: EngravedLine;
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

/** How long nothing is to be changed before the other lines are laid out anew, too. */
const PAUSE_AFTER_LINE_MS = 1500;

let asking: AbortController | undefined;

/** Draws the one line that was changed. @returns whether it is shown */
async function engraveLine({ line, ...wish }: EngravingWish, own: AbortController): Promise<boolean> {
  const before = $engraved.get();
  if (line === undefined || before === null || before.parts.join() !== wish.parts.join()) return false;
  const fills = line.bars.to < wish.score.bars.length;
  const made = await runJob<EngravingOrder, readonly string[]>(
    'engrave parts',
    { ...wish, bars: line.bars, fills },
    { urgency: 'now', signal: own.signal, home: 'engraver' },
  );
  if (asking !== own) return true;
  const systems = withLine(before.systems, line, made, before.score, wish.score);
  $engraved.set({ score: wish.score, parts: wish.parts, systems, state: 'ready' });
  await new Promise((resolve) => setTimeout(resolve, PAUSE_AFTER_LINE_MS));
  return true;
}

/** Engraves a score for the screen, a stretch at a time; the latest wish wins, and what is shown stays until it comes. */
export async function engrave(wish: EngravingWish): Promise<void> {
  asking?.abort(new DOMException('a newer wish', 'AbortError'));
  const own = new AbortController();
  asking = own;
  const { score, parts, widthMm, staffHeightMm } = wish;
  const before = $engraved.get();
  if (before !== null && wish.line === undefined) $engraved.set({ ...before, state: 'busy' });
  try {
    if ((await engraveLine(wish, own)) && asking !== own) return;
  } catch {
    // the whole of it is drawn all the same, or a newer wish is
    if (asking !== own) return;
  }
  const hasNotes = score.staves.some((staff) => parts.includes(staff.role) && staff.notes.length > 0);
  const stretches = hasNotes ? stretchesOfBars(score.bars) : [];
  const systems: string[] = [];
  try {
    for (const bars of stretches) {
      const order: EngravingOrder = { score, parts, bars, widthMm, staffHeightMm };
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
        // where a line was drawn already, the others stay until all are there
        if (isLast || wish.line === undefined) {
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
