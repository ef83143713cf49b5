/* oxlint-disable unicorn/no-useless-spread -- rows of a table, several to a line */
/** MIDI files: a hand to be fingered, a take to be judged. */
import {
  DEFAULT_CHOICES,
  barOneSeconds,
  fingeringModel,
  judgeTake,
  reportTake,
  wordsOfFinding,
  makeLesson,
} from '@fivespan/core';
import { readMidiHand, readTakeMidi, writeMidi, writeMidiFingers } from '@fivespan/formats/midi';
import { fingerLine } from '@fivespan/formats/musicxml';
import { type Chance } from './chance.ts';
import { must } from './judge.ts';
import { bytesOf, chartOf, judged, lazily, START_CHARTS, type HostileInput } from './input.ts';

const DEMO_LESSON = lazily(() => makeLesson(chartOf(START_CHARTS[0] as string), DEFAULT_CHOICES));

/** A file taken for a take is judged, whatever it holds, in words for a musician. */
function judgeTakeFile(input: HostileInput): void {
  const take = judged(readTakeMidi(bytesOf(input)), input);
  if (take === undefined || take.notes.length > 2000) return;
  const lesson = DEMO_LESSON();
  const start = barOneSeconds(lesson, 120, { markers: take.markers, countInBars: null });
  const notes = take.notes.map((note) => ({ ...note, startSeconds: note.startSeconds - start }));
  const told = judgeTake(lesson, notes, 120);
  must(told.workOn.length <= 2, 'more than two things to work on');
  const words = told.findings.map((finding) => Object.values(wordsOfFinding(finding, 120)).join(' '));
  const report = JSON.stringify(reportTake({ judged: told, lesson, playedIn: null }, 120));
  must(!/NaN|Infinity|undefined/u.test(`${words.join(' ')}${report}`), 'a figure that is none');
}

export const MIDIS = lazily((): readonly Uint8Array[] =>
  START_CHARTS.slice(0, 2).map((text) => {
    const lesson = makeLesson(chartOf(text), DEFAULT_CHOICES);
    return writeMidi(lesson.score, lesson.performance).slice(0, 40_000);
  }),
);

/** A hand's track of a few notes, so that most damage hits what is read. */
export const SHORT_MIDI = Uint8Array.of(
  ...[0x4d, 0x54, 0x68, 0x64, 0, 0, 0, 6, 0, 1, 0, 1, 1, 0xe0, 0x4d, 0x54, 0x72, 0x6b, 0, 0, 0, 43],
  ...[0, 0xff, 0x51, 3, 7, 0xa1, 0x20, 0, 0xff, 0x58, 4, 4, 2, 24, 8, 0, 0x90, 60, 80, 0, 64, 80, 0x83, 0x60, 60, 0],
  ...[0, 64, 0, 0, 0xff, 0x05, 1, 0x31, 0, 67, 80, 0x83, 0x60, 67, 0, 0, 0xff, 0x2f, 0],
);

/** A MIDI file is read as a hand, and now and then as a take. */
export function judgeMidi(input: HostileInput, chance: Chance): void {
  const side = chance.of(['right', 'left'] as const);
  const hand = judged(
    readMidiHand(bytesOf(input), { side, ...(chance.once(3) ? { track: 1 + chance.upTo(4) } : {}) }),
    input,
  );
  if (chance.once(8)) judgeTakeFile(input);
  if (hand === undefined || hand.notes.length > 400) return;
  const line = judged(fingerLine(hand.notes, { side, model: fingeringModel('fivespan', 'medium') }), input);
  if (line !== undefined) must(writeMidiFingers(hand, line.fingers).length > 0, 'an empty copy');
}
