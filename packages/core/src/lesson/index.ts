export * from './lesson.ts';
