export * from './programme.ts';
export * from './play-programme.ts';
export * from './usual-programme.ts';
