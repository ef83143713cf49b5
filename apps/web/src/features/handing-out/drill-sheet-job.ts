import {
  makeDrill,
  messageOf,
  remedyOf,
  scoreOfDrill,
  type Chart,
  type Choices,
  type DrillOrder,
} from '@fivespan/core';
import { drillSheetSteps, type Paper } from '@fivespan/formats/handout';
import { writeMusicXml } from '@fivespan/formats/musicxml';
import { piecewiseJobs } from './piecewise-job.ts';
import { openPress } from './press.ts';

/** What a drill is saved as. */
export type DrillFormat = 'pdf' | 'musicxml';

/** A drill as a file. */
export interface DrillSheetOrder {
  readonly chart: Chart;
  readonly choices: Choices;
  readonly order: DrillOrder;
  readonly format: DrillFormat;
  readonly paper: Paper;
}

// oxlint-disable-next-line require-yield -- notation is written at one go
function* written(text: string): Generator<void, Uint8Array, undefined> {
  return new TextEncoder().encode(text);
}

/** Makes a drill's sheet or its notation. A step of a sheet is one key. */
export const drillSheetJobs = piecewiseJobs<DrillSheetOrder>(async (asked, watch) => {
  const { chart, choices, order, format, paper } = asked;
  const press = format === 'pdf' ? await openPress() : null;
  await watch.breathe();
  if (watch.cancelled()) return undefined;
  const made = makeDrill(chart, choices, order);
  if (!made.ok) throw new Error(made.issues.map((issue) => `${messageOf(issue)}; ${remedyOf(issue)}`).join('. '));
  return press === null
    ? written(writeMusicXml(scoreOfDrill(made.value)))
    : drillSheetSteps(made.value, { paper, ...press });
}, 1);
