import { barsOf, formatKey, formatMeter, isCompound, typeset, type Analysis } from '@fivespan/core';

/** The line that says what a chart is: title, key, metre, tempo, feel, bars. */
export function headingOf(title: string, { chart, key, keyFound }: Analysis): string {
  const bars = barsOf(chart).filter((bar) => bar.number > 0).length;
  const beat = isCompound(chart.meter) ? '♩.' : chart.meter.unit === 2 ? '𝅗𝅥' : chart.meter.unit === 8 ? '♪' : '♩';
  return [
    title,
    typeset(formatKey(key)) +
      (formatKey(key) === formatKey(keyFound) ? '' : ` (sounds like ${typeset(formatKey(keyFound))})`),
    formatMeter(chart.meter),
    ...(chart.tempoBpm === null ? [] : [`${beat} = ${chart.tempoBpm}`]),
    ...(isCompound(chart.meter) || chart.meter.unit > 4 ? [] : [chart.feel]),
    `${bars} ${bars === 1 ? 'bar' : 'bars'}`,
  ].join(' · ');
}
