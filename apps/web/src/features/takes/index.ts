/** Takes: recorded, kept, judged, and what to do next. */
export { judge } from './judging.ts';
export { $nothingPlayed, $recording, $records, $takeShown, followRecording, switchRecording } from './recorder.ts';
export { $replay, followReplay, playBack } from './replay.ts';
export { drillThroughKeys, writeIntoLesson, type WrittenInto } from './write-down.ts';
export { saveTakeFile, takeInFile, type FileTaken } from './take-files.ts';
export { playItAgain, startStep } from './start-step.ts';
export { stepOf, type TakeStep } from './step.ts';
export { $cutOff, $takes, $unwritten, keepTake, remarkAt, showTakes, throwAway } from './take-shelf.ts';
export { FEWEST_NOTES, type TakeBar, type TakeJudged, type TakeView } from './take-view.ts';
export type { TakeRecord } from '../../platform/storage/index.ts';
