import { barsOf, closeKeys, formatKey, formatMeter, isCompound, typeset, type Analysis } from '@fivespan/core';

/** Keys that lie close to the one found, where the chart states none: the teacher chooses by a `key:` line. */
function closeKeysText({ chart }: Analysis): string {
  const names = closeKeys(chart).map((each) => typeset(formatKey(each.key)));
  return names.length === 0 ? '' : ` (or ${names.join(', ')}: a key: line decides)`;
}

/** The line that says what a chart is: title, key, metre, tempo, feel, bars. */
export function headingOf(title: string, analysis: Analysis): string {
  const { chart, key, keyFound } = analysis;
  const bars = barsOf(chart).filter((bar) => bar.number > 0).length;
  const beat = isCompound(chart.meter) ? '♩.' : chart.meter.unit === 2 ? '𝅗𝅥' : chart.meter.unit === 8 ? '♪' : '♩';
  return [
    title,
    typeset(formatKey(key)) +
      (formatKey(key) === formatKey(keyFound) ? '' : ` (sounds like ${typeset(formatKey(keyFound))})`) +
      closeKeysText(analysis),
    formatMeter(chart.meter),
    ...(chart.tempoBpm === null ? [] : [`${beat} = ${chart.tempoBpm}`]),
    ...(isCompound(chart.meter) || chart.meter.unit > 4 ? [] : [chart.feel]),
    `${bars} ${bars === 1 ? 'bar' : 'bars'}`,
  ].join(' · ');
}
