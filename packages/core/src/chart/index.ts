export * from './meter.ts';
export * from './chart.ts';
export * from './read-chart.ts';
export * from './transpose-chart.ts';
export * from './instrument.ts';
export * from './form/form.ts';
export * from './form/unfold.ts';
