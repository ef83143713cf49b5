export * from './programme.ts';
export * from './play-programme.ts';
