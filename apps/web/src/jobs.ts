/**
 * The file a worker runs: every heavy job by name, its code loaded when it is first asked for. A feature defines its jobs beside
 * what asks for them (`features/NAME/NAME-job.ts`) and is listed here.
 */
import { serveJobs } from './platform/workers/index.ts';

serveJobs({
  'make lesson': async () => (await import('./features/open-lesson/lesson-job.ts')).lessonJob,
  'open key': async () => (await import('./features/chart-editing/open-key-job.ts')).openKeyJob,
  cover: async () => (await import('./features/lesson-list/cover-job.ts')).coverJob,
  'read file': async () => (await import('./features/outside-file/outside-file-job.ts')).outsideFileJob,
  'engrave parts': async () => (await import('./features/engraving/engrave-job.ts')).engraveJob,
  'study ladder': async () => (await import('./features/study/ladder-job.ts')).ladderJob,
  'begin pack file': async () => (await import('./features/handing-out/pack-file-job.ts')).packFileJobs.begin,
  'go on with pack file': async () => (await import('./features/handing-out/pack-file-job.ts')).packFileJobs.goOn,
  'drop pack file': async () => (await import('./features/handing-out/pack-file-job.ts')).packFileJobs.drop,
  'begin drill sheet': async () => (await import('./features/handing-out/drill-sheet-job.ts')).drillSheetJobs.begin,
  'go on with drill sheet': async () => (await import('./features/handing-out/drill-sheet-job.ts')).drillSheetJobs.goOn,
  'drop drill sheet': async () => (await import('./features/handing-out/drill-sheet-job.ts')).drillSheetJobs.drop,
  'begin sound file': async () => (await import('./features/handing-out/sound-file-job.ts')).soundFileJobs.begin,
  'go on with sound file': async () => (await import('./features/handing-out/sound-file-job.ts')).soundFileJobs.goOn,
  'drop sound file': async () => (await import('./features/handing-out/sound-file-job.ts')).soundFileJobs.drop,
  zip: async () => (await import('./features/handing-out/zip-job.ts')).zipJob,
  'live recording': async () => (await import('./features/sound/live-job.ts')).liveJob,
  hear: async () => (await import('./features/sound/hear-job.ts')).hearJob,
  'play programme': async () => (await import('./features/playing/programme-job.ts')).programmeJob,
  'programme form': async () => (await import('./features/playing/programme-job.ts')).formJob,
  'take file': async () => (await import('./features/takes/take-file-job.ts')).takeFileJob,
  'take in': async () => (await import('./features/takes/take-file-job.ts')).takeInJob,
  'film take': async () => (await import('./features/film/film-take-job.ts')).filmTakeJob,
  'write take down': async () => (await import('./features/takes/write-down-job.ts')).writeDownJob,
  'judge take': async () => (await import('./features/takes/take-job.ts')).judgeJob,
  'programme window': async () => (await import('./features/playing/programme-job.ts')).windowJob,
});
