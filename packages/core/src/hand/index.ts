export * from './shape.ts';
export * from './keyboard.ts';
export * from './hand-size.ts';
export * from './shapes.ts';
export * from './position.ts';
export * from './family.ts';
export * from './fingering/index.ts';
