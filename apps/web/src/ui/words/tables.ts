/** A table for each screen; a screen's script holds its own alone. */
export { CHART_WORDS as chart } from './chart.ts';
export { DRILL_PANEL_WORDS as drill } from './drill.ts';
export { FILM_WORDS as film } from './film.ts';
export { HELP_WORDS as help } from './help.ts';
export { LESSONS_WORDS as lessons } from './lessons.ts';
export { PAGES_WORDS as pages } from './pages.ts';
export { PLAY_WORDS as play } from './play.ts';
export { SHELL_WORDS as shell } from './shell.ts';
export { STUDY_WORDS as study } from './study.ts';
export { TAKES_WORDS as takes } from './takes.ts';
export { TODAY_WORDS as today } from './today.ts';
