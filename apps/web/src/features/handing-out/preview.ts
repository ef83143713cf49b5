import { formatKey, type DrillOrder, type Key } from '@fivespan/core';
import type { Paper } from '@fivespan/formats/handout';
import { atom } from 'nanostores';
import type { OpenPdf } from '../../platform/pdf-view/index.ts';
import { faultOf, type OrderFault } from './order-fault.ts';
import { fileOfPage, type Page } from './pages-choice.ts';
import { makeDrillSheet, makeFile, type PrintedLesson } from './printed-lesson.ts';

/** The pages one wants to see. */
export interface PagesAsked {
  readonly lesson: PrintedLesson;
  readonly view: Page;
  readonly key: Key;
  readonly paper: Paper;
  /** A drill's sheet in the place of the lesson's pages; null for those. */
  readonly drill?: DrillOrder | null;
}

/** Pages that were made: as bytes to save, and opened to be shown. */
export interface MadePages {
  readonly asked: PagesAsked;
  readonly bytes: Uint8Array;
  readonly pdf: OpenPdf;
}

/** What the preview shows. The last pages stay while the next are made. */
export interface PagesPreview {
  readonly asked: PagesAsked;
  readonly state: 'making' | 'ready' | OrderFault;
  readonly shown: MadePages | null;
}

export const $preview = atom<PagesPreview | null>(null);

let making: AbortController | undefined;

/** Whether two wishes give the same pages: keys and programme of a lesson are not printed. */
export function arePagesSame(one: PagesAsked, other: PagesAsked): boolean {
  const printed = ({ lesson: { chartText, choices }, view, key, paper, drill }: PagesAsked): string =>
    JSON.stringify([
      chartText,
      choices.level,
      choices.seed,
      choices.hand,
      choices.pins,
      view,
      formatKey(key),
      paper,
      drill ?? null,
    ]);
  return printed(one) === printed(other);
}

/** Makes pages and shows them; what was asked before and is not made yet is dropped. */
export async function showPages(asked: PagesAsked): Promise<void> {
  const before = $preview.get();
  if (before !== null && typeof before.state === 'string' && arePagesSame(before.asked, asked)) return;
  making?.abort(new DOMException('a newer wish', 'AbortError'));
  const own = (making = new AbortController());
  $preview.set({ asked, state: 'making', shown: before?.shown ?? null });
  try {
    const { lesson, key, view, paper, drill } = asked;
    const options = { urgency: 'soon', signal: own.signal } as const;
    const [bytes, { openPdf }] = await Promise.all([
      drill == null
        ? makeFile(lesson, key, fileOfPage(view), paper, options)
        : makeDrillSheet(lesson, drill, 'pdf', paper, options),
      import('../../platform/pdf-view/index.ts'),
    ]);
    const pdf = await openPdf(bytes);
    if (own.signal.aborted) {
      pdf.close();
      return;
    }
    const last = $preview.get()?.shown;
    $preview.set({ asked, state: 'ready', shown: { asked, bytes, pdf } });
    last?.pdf.close();
  } catch (error) {
    if (!own.signal.aborted) $preview.set({ asked, state: faultOf(error), shown: $preview.get()?.shown ?? null });
  }
}

/** Stops making pages; the last ones stay. */
export function stopPages(): void {
  making?.abort(new DOMException('stopped', 'AbortError'));
  const now = $preview.get();
  if (now?.state !== 'making') return;
  $preview.set(now.shown === null ? null : { asked: now.shown.asked, state: 'ready', shown: now.shown });
}

/** Frees what the pages hold: the screen has been left. */
export async function closePages(): Promise<void> {
  making?.abort(new DOMException('closed', 'AbortError'));
  const shown = $preview.get()?.shown;
  $preview.set(null);
  if (shown == null) return;
  shown.pdf.close();
  const { closePdfView } = await import('../../platform/pdf-view/index.ts');
  if ($preview.get() === null) closePdfView();
}
