export * from './meter.ts';
export * from './chart.ts';
export * from './form/form.ts';
