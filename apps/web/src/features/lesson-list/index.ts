export { $lessons, createLesson, openStored, removeLesson, startLessons, DEMO_CHART } from './lesson-list.ts';
