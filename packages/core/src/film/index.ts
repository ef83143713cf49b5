export * from './scene.ts';
export * from './said.ts';
export * from './picture.ts';
export * from './film.ts';
export * from './captions.ts';
