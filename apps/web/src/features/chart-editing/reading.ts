import type { Chart, Issue } from '@fivespan/core';
import { computed } from 'nanostores';
import { $open } from '../open-lesson/index.ts';

/** The open chart's text and what it reads as. */
export interface Reading {
  /** The lesson's. */
  readonly id: string;
  readonly chartText: string;
  /** As far as it can be read; null where nothing can. */
  readonly chart: Chart | null;
  readonly issues: readonly Issue[];
}

let last: Reading | null = null;

/** The same object until the text changes: that a change has reached the disk, or a pin was set, is nothing to the chart's page. */
export const $reading = computed($open, (open): Reading | null => {
  if (open === null) last = null;
  else if (last?.id !== open.id || last.chart !== open.chart || last.issues !== open.issues) {
    const { id, chartText, chart, issues } = open;
    last = { id, chartText, chart, issues };
  }
  return last;
});

export const $canUndo = computed($open, (open) => open?.canUndo === true);
export const $canRedo = computed($open, (open) => open?.canRedo === true);

/** Whether there is a chart that can be read as far as it goes. */
export const $isReadable = computed($reading, (reading) => reading !== null && reading.chart !== null);

export const $isOpen = computed($reading, (reading) => reading !== null);
