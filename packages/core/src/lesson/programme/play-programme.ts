import { barTicksOf, type Chart } from '../../chart/index.ts';
import { kitAt } from '../../parts/index.ts';
import type { TrioParts } from '../../performance/index.ts';
import { UNWATCHED, type Progress } from '../../progress.ts';
import type { Key } from '../../theory/index.ts';
import type { Choices, Lesson } from '../lesson.ts';
import { makeLesson } from '../make-lesson.ts';
import { traded } from './answers.ts';
import { endingOf } from './chorus-parts.ts';
import { chorusesInTurn, type ChorusesInTurn } from './choruses-in-turn.ts';
import { countIn } from './count-in.ts';
import type { PlayedProgramme } from './played-programme.ts';
import type { Programme } from './programme.ts';
import { emptyTape, type Stretch } from './tape.ts';
import { barsBetween, leadInBars } from './usual-programme.ts';

/**
 * Plays a programme of a chart: count-in, choruses one after the other in their keys and tempi, one bar that ends it.
 * The same chart, choices and programme sound the same.
 * @param progress counts choruses
 * @returns undefined where it was cancelled
 * @throws RangeError where the programme has no chorus, a tempo is not 20 to 400, or countInBars is no whole number from 0 to 8
 * @example playProgramme(chart, DEFAULT_CHOICES, { setUp: 'trio', swing: 'measured', voicings: 'rootless', countInBars: 2, aids: NO_AIDS, choruses: [{ key: parseKey('F major')!, tempoBpm: 90, players: ['bass'] }] })
 */
export function playProgramme(
  chart: Chart,
  choices: Choices,
  programme: Programme,
  progress: Progress = UNWATCHED,
): PlayedProgramme | undefined {
  return playLessons((key) => makeLesson(chart, choices, key), choices.seed, programme, progress);
}

/**
 * Plays a programme of whatever lessons there are in its keys: a tune's, or a drill's (see playProgramme).
 * @param make the lesson in a key; asked once for each
 * @throws RangeError as playProgramme does
 */
export function playLessons(
  make: (key: Key) => Lesson,
  seed: number,
  programme: Programme,
  progress: Progress = UNWATCHED,
): PlayedProgramme | undefined {
  checkProgramme(programme);
  const { choruses } = programme;
  const inTurn = chorusesInTurn(make, programme);
  const tape = emptyTape(programme);
  for (const [index, { key, tempoBpm }] of choruses.entries()) {
    if (progress.cancelled()) return undefined;
    const lesson = inTurn.lessonIn(key);
    const lead = leadInto(programme, index, lesson, seed);
    if (lead !== null) tape.put(lead);
    tape.put(chorusAt(programme, index, lesson, inTurn, seed));
    progress.report(index + 1, choruses.length);
    if (index < choruses.length - 1) continue;
    tape.put({
      ...aboutChorus(programme, index, lesson, 'ending'),
      parts: endingOf(lesson, kitAt(tempoBpm), programme.voicings),
      seed: seedOf(seed, index + 1),
      chorus: inTurn.timeOf(index),
    });
  }
  return tape.played();
}

/** What is the same of all that belongs to a chorus. */
function aboutChorus(
  { choruses }: Programme,
  index: number,
  { chart: { meter } }: Lesson,
  kind: Stretch['segment']['kind'],
): Pick<Stretch, 'segment' | 'players'> {
  const { key, tempoBpm, players } = choruses[index] as Programme['choruses'][number];
  return { segment: { tempoBpm, meter, key, time: 0, trades: [], kind }, players };
}

/** What stands before a chorus: a count-in before the first and at another tempo, a rest where one is wished; null where nothing does. */
function leadInto(programme: Programme, index: number, lesson: Lesson, seed: number): Stretch | null {
  const { aids, choruses, countInBars } = programme;
  const before = choruses[index - 1];
  const { bars, counted } =
    before === undefined
      ? { bars: leadInBars(lesson.chart, lesson.analysis.form, countInBars), counted: countInBars }
      : barsBetween(programme, before.tempoBpm !== choruses[index]?.tempoBpm);
  if (bars === 0) return null;
  const isRest = before !== undefined && counted === 0;
  // a rest is counted as a count-in is, unless a metronome goes on in it
  const sticks = isRest && aids.metronome === 'none' ? bars : counted;
  const about = aboutChorus(programme, index, lesson, isRest ? 'rest' : 'count-in');
  return { ...about, parts: countInParts(lesson, bars, sticks), players: ['drums'], seed, chorus: 0 };
}

/** A chorus, with turns to answer in where they are wished and a line is shown. */
function chorusAt(programme: Programme, index: number, lesson: Lesson, inTurn: ChorusesInTurn, seed: number): Stretch {
  const { segment, players } = aboutChorus(programme, index, lesson, 'chorus');
  const time = inTurn.timeOf(index);
  const whole = inTurn.partsOf(index);
  const { line, trades } = traded(whole, players.includes('right hand') ? programme.aids.answers : 'none', time);
  return {
    segment: { ...segment, time: time + 1, trades },
    parts: trades.length === 0 ? whole : { ...whole, line },
    players,
    seed: seedOf(seed, index),
    chorus: time,
  };
}

/** Each chorus strays in its own way. */
function seedOf(seed: number, chorus: number): number {
  return (seed + chorus * 7919) % 0x1_0000_0000;
}

/** Empty bars with the sticks in the last of them. */
function countInParts({ chart: { meter, feel } }: Lesson, bars: number, counted: number): TrioParts {
  const barTicks = barTicksOf(meter);
  const late = (bars - counted) * barTicks;
  return {
    bars: Array.from({ length: bars }, (_, bar) => ({ startTicks: bar * barTicks, durationTicks: barTicks, meter })),
    feel,
    endTicks: bars * barTicks,
    line: [],
    bass: [],
    comping: [],
    drums:
      counted === 0 ? [] : countIn(meter, counted).map((each) => ({ ...each, startTicks: each.startTicks + late })),
  };
}

function checkProgramme({ countInBars, choruses }: Programme): void {
  if (choruses.length === 0) throw new RangeError('choruses must hold at least one');
  if (!Number.isInteger(countInBars) || countInBars < 0 || countInBars > 8) {
    throw new RangeError(`countInBars must be a whole number from 0 to 8, not ${countInBars}`);
  }
  for (const { tempoBpm } of choruses) {
    if (!(tempoBpm >= 20 && tempoBpm <= 400)) throw new RangeError(`tempoBpm must be 20 to 400, not ${tempoBpm}`);
  }
}
