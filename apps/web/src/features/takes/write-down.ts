/** A phrase of a take becomes the teacher's own notes in the lesson, or a drill of it through the keys. */
import { changePinsInKey, parseKey } from '@fivespan/core';
import { runJob } from '../../platform/workers/index.ts';
import { $drillChoice, chooseDrill, drillChoiceFor, showDrillOnPaper } from '../drill/index.ts';
import { goTo } from '../navigation/index.ts';
import { $made, $open, changeLesson } from '../open-lesson/index.ts';
import type { TakeBar } from './take-view.ts';
import type { TakeWritten, WriteDownOrder } from './write-down-job.ts';

export type WrittenInto =
  | { readonly kind: 'written'; readonly notes: number; readonly leftOut: number }
  // nothing was played there; or the lesson's chart is another one by now
  | { readonly kind: 'nothing' | 'other chart' };

/** Writes bars of a take into the open lesson as its own notes there. It can be undone as any change. */
export async function writeIntoLesson(take: string, from: TakeBar, to: TakeBar): Promise<WrittenInto> {
  const order: WriteDownOrder = { take, chorus: from.chorus, fromPlace: from.place, toPlace: to.place };
  const written = await runJob<WriteDownOrder, TakeWritten>('write take down', order, { urgency: 'now' });
  const open = $open.get();
  const made = $made.get()?.lesson;
  const key = parseKey(written?.key ?? '');
  if (written === null || open === null || made === undefined || key === undefined) return { kind: 'nothing' };
  // slots are named by the chart as it was
  if (open.chartText !== written.chartText) return { kind: 'other chart' };
  const { pins, notes, leftOut } = written;
  const isReplaced = (pin: (typeof pins)[number]): boolean =>
    pins.some((each) => each.part === pin.part && each.slot === pin.slot && each.pass === pin.pass);
  const { pins: kept, bass } = open.choices;
  const keys = { from: made.writtenKey, to: key, range: bass.range };
  changeLesson({
    choices: {
      pins: changePinsInKey(kept, keys, ({ parts, ...others }) => ({
        ...others,
        parts: { ...parts, notes: [...parts.notes.filter((pin) => !isReplaced(pin)), ...pins] },
      })),
    },
  });
  return { kind: 'written', notes, leftOut };
}

/** Goes to the drill that plays what is written in these bars through the keys. */
export function drillThroughKeys(from: TakeBar, to: TakeBar): void {
  const open = $open.get();
  if (open?.chart == null) return;
  const choice = drillChoiceFor(open.id, open.chart, $drillChoice.get());
  chooseDrill(choice, {
    kind: 'same-line',
    fromBar: Math.min(from.number, to.number),
    toBar: Math.max(from.number, to.number),
    round: 'fourths',
  });
  showDrillOnPaper(open.id);
  goTo({ kind: 'lesson', id: open.id, screen: 'pages' });
}
