export {
  type Meter,
  TICKS_PER_QUARTER,
  barTicksOf,
  beatTicksOf,
  beatsOf,
  formatMeter,
  isCompound,
  readMeter,
} from './meter.ts';
export {
  type Bar,
  type BarId,
  type Chart,
  type Feel,
  type Jump,
  type Section,
  type Slot,
  type SlotId,
  barsOf,
} from './chart.ts';
export { LONGEST_CHART_CHARACTERS, MOST_CHART_BARS, MOST_REPEAT_TIMES, readChart } from './read-chart.ts';
export { type ChartSoFar, readAround } from './read-around.ts';
export { writeChart } from './write-chart.ts';
export { keepIds, slotsKept } from './keep-ids.ts';
export { transposeChart, transposeChartBy } from './transpose-chart.ts';
export { type InstrumentKey, chartForInstrument } from './instrument.ts';
export { type Form, type PlayedBar, type PlayedSlot, beatAt, playedBarAt } from './form/form.ts';
export { LONGEST_FORM_BARS, unfold } from './form/unfold.ts';
export { type BarPlace, type ChartPlaces, placesOf } from './edit/places.ts';
export { appendBar, insertBarAfter, insertBarBefore, removeBar, setBarChords } from './edit/edit-bars.ts';
export { setHeading } from './edit/edit-headings.ts';
export { renameSection, setKeyChange, startSection } from './edit/edit-sections.ts';
export { setBarMeter, setEnding, setJump, setMark, setRepeatEnd, setRepeatStart } from './edit/edit-signs.ts';
export { transposeText } from './edit/transpose-text.ts';
export type { HeaderName } from './chart-line.ts';
export { type MarkName, formatJump } from './bar-directions.ts';
