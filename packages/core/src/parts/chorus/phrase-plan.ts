import type { PlayedBar } from '../../chart/index.ts';
import type { RandomSource } from '../../random.ts';
import { appendSigns, drawFigure, type Beginning } from './figure.ts';
import { INNER_MORE } from './growth.ts';
import { atLevel, type ByLevel, type ChorusLevel } from './level.ts';
import { drawForm, drawMotive, inForm, type Motive, type MotiveForm } from './motive.ts';
import { motiveOfPin, type MotivePin } from './motive-pin.ts';
import type { PhraseGround } from './phrase-ground.ts';
import { phrasePlaces, type PhrasePlace } from './phrase-place.ts';
import { SHORTEST_PHRASE_NOTES } from './phrase.ts';
import { pulsesOf, type Pulse } from './pulse.ts';

/** Which motive a note belongs to. */
export interface MotiveMark {
  /** From 1. */
  readonly number: number;
  /** 'new' where it is heard for the first time. */
  readonly form: MotiveForm | 'new';
  /** Which statement of the chorus, from 0: notes of one statement share it. */
  readonly statement: number;
}

/** A note of a phrase before it has a pitch. */
export interface Onset extends Beginning {
  /** The finger move that is wished from the note before; null where the line is free. */
  readonly move: number | null;
  /** Whether a chromatic neighbour is wished here, which leads into the next note. */
  readonly neighbour: boolean;
  readonly motive: MotiveMark | null;
}

export interface PhrasePlan {
  readonly onsets: readonly Onset[];
  /** An answer comes to rest on root or third; a question stays open. */
  readonly isAnswer: boolean;
}

/** Most motives in a chorus. A plain one lives on two. */
const MOST_MOTIVES: ByLevel = [2, 2, 3, 3];
/** A motive must have room to come back: no new one in the last bars. */
const BARS_TO_COME_BACK = 8;
/** Of a hundred pulses inside a phrase where a motive fits, how many bring one. Our own. */
const INNER_PERCENT: ByLevel = [16, 18, 20, 20];
/** Of a hundred off-beats, how many wish for a chromatic neighbour. Our own, set to land at 12 % half steps or more. */
const NEIGHBOUR_PERCENT: ByLevel = [0, 0, 46, 56];

/** Gives the next motive to be stated. */
type NextMotive = (mayBeNew: boolean) => { readonly motive: Motive; readonly mark: MotiveMark };

/**
 * What has been said, and what must come back: a motive that was heard only once is the next one stated. Where motives are given,
 * there are no others.
 */
function motiveMemory(
  cells: Pulse['cells'],
  level: ChorusLevel,
  given: readonly Motive[],
  random: RandomSource,
): NextMotive {
  const known: { readonly motive: Motive; heard: number }[] = [];
  let statements = 0;
  return (mayBeNew) => {
    const owed = known.findIndex(({ heard }) => heard === 1);
    const next = given[known.length];
    const isNew =
      known.length === 0 ||
      (next === undefined
        ? given.length === 0 &&
          owed < 0 &&
          mayBeNew &&
          known.length < atLevel(MOST_MOTIVES, level) &&
          random.integer(3) === 0
        : owed < 0);
    const statement = statements++;
    if (isNew) {
      const motive = next ?? drawMotive(cells, level, random);
      known.push({ motive, heard: 1 });
      return { motive, mark: { number: known.length, form: 'new', statement } };
    }
    // the latest is remembered best
    const index = owed >= 0 ? owed : random.weighted(known.map((_, place) => place + 1));
    const comesBack = known[index] as (typeof known)[number];
    comesBack.heard++;
    const form = drawForm(comesBack.motive, random);
    const motive = inForm(comesBack.motive, form, cells, level, random);
    return { motive, mark: { number: index + 1, form, statement } };
  };
}

interface Making {
  readonly pulses: readonly Pulse[];
  readonly level: ChorusLevel;
  readonly growth: number;
  readonly nextMotive: NextMotive;
  readonly random: RandomSource;
}

const pulseTicks = ({ cells, cellTicks }: Pulse): number => cells * cellTicks;

/** Cells between a tick and the pulse's end: a phrase may begin inside a pulse. */
function leadIn(pulse: Pulse, fromTicks: number): Beginning[] {
  const end = pulse.startTicks + pulseTicks(pulse);
  const notes: Beginning[] = [];
  for (let at = fromTicks; at < end; at += pulse.cellTicks)
    notes.push({ startTicks: at, durationTicks: pulse.cellTicks });
  return notes;
}

/** A note for every cell from one tick up to another. */
function cellsBetween(pulses: readonly Pulse[], fromTicks: number, toTicks: number): Beginning[] {
  return pulses
    .flatMap((pulse) => leadIn(pulse, pulse.startTicks))
    .filter(({ startTicks }) => startTicks >= fromTicks && startTicks < toTicks);
}

/** How many whole pulses of one kind stand in a row from here before the phrase's last note. */
function roomFor(pulses: readonly Pulse[], from: number, lastTicks: number): number {
  const { cells } = pulses[from] as Pulse;
  const ends = pulses
    .slice(from)
    .findIndex((each) => each.cells !== cells || each.startTicks + pulseTicks(each) > lastTicks);
  return ends < 0 ? pulses.length - from : ends;
}

/** Whether a note sounds up to this tick and can be held on: not out of a triplet or a sixteenth. */
function canHold(notes: readonly Beginning[], { startTicks, cellTicks }: Pulse): boolean {
  const last = notes.at(-1);
  return (
    last !== undefined && last.startTicks + last.durationTicks === startTicks && last.durationTicks % cellTicks === 0
  );
}

/**
 * A phrase's notes before they have pitches: it opens with a motive, runs on in figures, and may bring a motive again inside;
 * its last note stands where the phrase ends.
 */
function onsetsOf(
  place: PhrasePlace,
  mayBeNew: boolean,
  { pulses, level, growth, nextMotive, random }: Making,
): Onset[] {
  const { firstTicks, lastTicks, lastDurationTicks } = place;
  let index = pulses.findIndex((each) => firstTicks < each.startTicks + pulseTicks(each));
  const opening = pulses[index];
  if (opening === undefined) return [];
  let notes: Beginning[] = [];
  const marks: { readonly mark: MotiveMark; readonly move: number | null }[] = [];
  let isStated = false;
  if (firstTicks > opening.startTicks) {
    notes = leadIn(opening, firstTicks);
    index++;
  }
  while (index < pulses.length) {
    const pulse = pulses[index] as Pulse;
    if (pulse.startTicks >= lastTicks) break;
    const room = roomFor(pulses, index, lastTicks);
    const brings = !isStated || (room > 2 && random.integer(100) < atLevel(INNER_PERCENT, level) + INNER_MORE * growth);
    const statement = brings && (room >= 2 || (!isStated && room === 1)) ? nextMotive(mayBeNew && !isStated) : null;
    if (statement !== null) {
      isStated = true;
      const { motive, mark } = statement;
      let moved = -1;
      const fits = motive.signs.slice(0, room);
      const spanTicks = pulseTicks(pulse);
      for (const [place, signs] of fits.entries()) {
        const first = notes.length;
        // a motive made for other pulses keeps its fingers and takes plain cells
        const own = signs.length % pulse.cells === 0 || pulse.cells === 2 ? signs : 'x'.repeat(pulse.cells);
        notes = appendSigns(notes, own, pulse.startTicks + place * spanTicks, spanTicks);
        for (let note = first; note < notes.length; note++) {
          marks[note] = { mark, move: moved < 0 ? null : (motive.moves[moved] ?? null) };
          moved++;
        }
      }
      index += fits.length;
      continue;
    }
    // the last note cuts its pulse: what stands before it there is plain
    const isCut = pulse.startTicks + pulseTicks(pulse) > lastTicks;
    const signs = isCut ? 'x'.repeat(pulse.cells) : drawFigure(pulse.cells, level, canHold(notes, pulse), random);
    notes = appendSigns(notes, signs, pulse.startTicks, pulseTicks(pulse));
    index++;
  }
  const before = notes.filter(({ startTicks }) => startTicks < lastTicks);
  const cut = before.map((each) => ({
    ...each,
    durationTicks: Math.min(each.durationTicks, lastTicks - each.startTicks),
  }));
  const isEnough = cut.length + 1 >= SHORTEST_PHRASE_NOTES;
  // too little to be a phrase: running from its first place on
  if (!isEnough) marks.length = 0;
  const running = isEnough ? cut : cellsBetween(pulses, firstTicks, lastTicks);
  const line = [...running, { startTicks: lastTicks, durationTicks: lastDurationTicks }];
  return line.map((each, at) => {
    const mark = at < running.length ? marks[at] : undefined;
    const isOffBeat = at > 0 && at < running.length && !isPulseStart(pulses, each.startTicks);
    const neighbour = isOffBeat && random.integer(100) < atLevel(NEIGHBOUR_PERCENT, level);
    return { ...each, move: mark?.move ?? null, neighbour, motive: mark?.mark ?? null };
  });
}

function isPulseStart(pulses: readonly Pulse[], ticks: number): boolean {
  let [low, high] = [0, pulses.length - 1];
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((pulses[middle] as Pulse).startTicks <= ticks) low = middle;
    else high = middle - 1;
  }
  return pulses[low]?.startTicks === ticks;
}

/** A phrase's notes, with one struck on each coloured stretch that a long note or a rest between two of them would swallow. */
function heardAgain(onsets: readonly Onset[], { coloured }: PhraseGround): Onset[] {
  return onsets.flatMap((onset, index) => {
    const next = onsets[index + 1];
    const swallowed = coloured.filter(
      ({ startTicks, byTicks }) => startTicks > onset.startTicks && next !== undefined && byTicks < next.startTicks,
    );
    if (next === undefined || swallowed.length === 0) return [onset];
    const starts = [onset.startTicks, ...swallowed.map(({ startTicks }) => startTicks), next.startTicks];
    return starts.slice(0, -1).map((startTicks, place): Onset => {
      const room = (starts[place + 1] as number) - startTicks;
      return place === 0
        ? { ...onset, durationTicks: Math.min(onset.durationTicks, room) }
        : { startTicks, durationTicks: room, move: null, neighbour: false, motive: null };
    });
  });
}

/**
 * Where the phrases of a chorus are, when their notes begin, and which finger motives they are made of. At most three motives;
 * each comes back, changed, in the next phrase or the same. A pickup rests.
 * @param ground what the changes ask of the places where they begin and end
 * @param growth how far the chorus has grown (growth.ts)
 * @param motives what it is made of; none for its own
 */
export function planPhrases(
  bars: readonly PlayedBar[],
  level: ChorusLevel,
  ground: PhraseGround,
  growth: number,
  motives: readonly MotivePin[],
  random: RandomSource,
): PhrasePlan[] {
  const full = bars.filter(({ bar }) => bar.number > 0);
  const pulses = full.flatMap(pulsesOf);
  const [first] = pulses;
  const last = full.at(-1);
  if (first === undefined || last === undefined) return [];
  const endTicks = last.startTicks + last.bar.durationTicks;
  const given = motives.map((pin) => motiveOfPin(pin, first));
  const making: Making = { pulses, level, growth, nextMotive: motiveMemory(first.cells, level, given, random), random };
  return phrasePlaces(full, level, ground, growth, random).map((place, index) => {
    const mayBeNew = endTicks - place.firstTicks >= BARS_TO_COME_BACK * last.bar.durationTicks;
    return { onsets: heardAgain(onsetsOf(place, mayBeNew, making), ground), isAnswer: index % 2 === 1 };
  });
}
