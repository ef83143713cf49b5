export * from './shape.ts';
