/** Every text the application shows, in one place; English. Issues and reasons have their own tables in core. */
import { CHART_WORDS } from './chart.ts';
import { HELP_WORDS } from './help.ts';
import { LESSONS_WORDS } from './lessons.ts';
import { PAGES_WORDS } from './pages.ts';
import { PLAY_WORDS } from './play.ts';
import { SHELL_WORDS } from './shell.ts';
import { STUDY_WORDS } from './study.ts';

export const words = {
  shell: SHELL_WORDS,
  lessons: LESSONS_WORDS,
  chart: CHART_WORDS,
  study: STUDY_WORDS,
  play: PLAY_WORDS,
  pages: PAGES_WORDS,
  help: HELP_WORDS,
};
