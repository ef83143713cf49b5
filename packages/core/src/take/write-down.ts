/**
 * A phrase of a take as notation: where its notes stand on paper, how long they last, and which finger of which position struck
 * them. The player's own pulse and swing are known (follow-time.ts); every beat is divided as simply as its strokes allow, and the
 * cheapest way through all strokes is found by dynamic programming over the places they may have.
 */
import { FINGERS, type Finger } from '../hand/index.ts';
import { LONGEST_PIN_TICKS, MOST_NOTES_OF_PIN, SHORTEST_PINNED_TICKS, type NotePin } from '../parts/index.ts';
import { TICKS_PER_QUARTER } from '../chart/index.ts';
import { median } from './figures.ts';
import { indexAt, type Course, type CourseSlot } from './course.ts';
import { offsetAt } from './follow-time.ts';
import { gridOf, type HeardLine, type PlacedNote } from './heard-line.ts';
import type { JudgedTake } from './judge.ts';
import { topLine } from './over-chords.ts';
import type { FoundPlace } from './positions.ts';

/** A note of a take as it is written. Ticks count from the first full bar of the take's first time through. */
export interface WrittenDownNote {
  readonly startTicks: number;
  readonly durationTicks: number;
  /** MIDI number. */
  readonly key: number;
  /** Where the hand was; null in the left hand, and where too little is known. */
  readonly place: FoundPlace | null;
  /** The finger that has the key there; null where the position has not this key. */
  readonly finger: Finger | null;
}

/** What was played over some chords, ready to be the teacher's own notes there. */
export interface WrittenDown {
  readonly notes: readonly WrittenDownNote[];
  /** A pin for every chord of the stretch, silence included, in the key that the lesson was played in. */
  readonly pins: readonly NotePin[];
  /** Keys under the line that notation leaves out: a line has one note at a time. */
  readonly leftOut: number;
  /** How sure the places are, 0 to 1; 0 where nothing was played. */
  readonly sure: number;
}

/** Which stretch of a take: whole chords are taken, at most one time through the form. */
export interface Stretch {
  readonly hand: 'right' | 'left';
  readonly fromTicks: number;
  readonly toTicks: number;
}

/**
 * A way to divide a beat: shares at which strokes are heard, and where they are written, with what it costs to be so fine. A stroke on
 * the telling place gives some of it back: three strokes in a beat are a triplet rather than sixteenths that break off.
 */
interface Division {
  readonly heard: readonly number[];
  readonly ticks: readonly number[];
  readonly cost: number;
  readonly tellingTicks: number;
}

/**
 * How rare finer parts are, in nats. Of the beats of swing solos some 50 in 100 have halves or less, 4 an even triplet, 4.5 four
 * sixteenths (Weimar data package, computed for parts/chorus/figure.ts).
 */
const COST = { halves: 0, thirds: 4.5, quarters: 4.9, telling: 2.5 } as const;

/** How far strokes stray from their places, in seconds; at least this. Measured: docs/takes.md. */
const LEAST_STRAY_SECONDS = 0.012;
const USUAL_STRAY_SECONDS = 0.018;

function divisionsOf({ isCompound, pulseTicks }: Course, off: number): readonly Division[] {
  const even = (parts: number, cost: number, telling = 1): Division => {
    const places = Array.from({ length: parts }, (_, place) => place);
    return {
      heard: places.map((place) => place / parts),
      ticks: places.map((place) => (place * pulseTicks) / parts),
      cost,
      tellingTicks: cost === COST.halves ? -1 : (telling * pulseTicks) / parts,
    };
  };
  if (isCompound) return [even(3, COST.halves), even(6, COST.quarters)];
  if (pulseTicks < TICKS_PER_QUARTER) return [even(1, COST.halves), even(2, COST.quarters)];
  const half = pulseTicks / 2;
  return [
    { heard: [0, off], ticks: [0, half], cost: COST.halves, tellingTicks: -1 },
    even(3, COST.thirds),
    {
      heard: [0, off / 2, off, (1 + off) / 2],
      ticks: [0, half / 2, half, half + half / 2],
      cost: COST.quarters,
      tellingTicks: half + half / 2,
    },
  ];
}

/** A place a stroke may have. */
interface Choice {
  readonly beat: number;
  readonly division: number;
  readonly ticks: number;
  readonly cost: number;
}

interface Paper {
  readonly divisions: readonly Division[];
  readonly strayShare: number;
  readonly pulseTicks: number;
  /** What a place within the beat costs, since the hand goes there seldom; nothing where it is not named. */
  readonly seldom: ReadonlyMap<number, number>;
}

/** A stroke's choices: every place of the beats about it that is not absurdly far. */
function choicesAt(own: number, { divisions, strayShare, pulseTicks, seldom }: Paper): Choice[] {
  const choices: Choice[] = [];
  for (let beat = Math.floor(own) - 1; beat <= Math.floor(own) + 1; beat++) {
    for (const [division, { heard, ticks, tellingTicks }] of divisions.entries()) {
      for (const [place, share] of heard.entries()) {
        const apart = own - beat - share;
        if (Math.abs(apart) > 0.55) continue;
        const inBeat = ticks[place] as number;
        const cost =
          0.5 * (apart / strayShare) ** 2 + (seldom.get(inBeat) ?? 0) - (inBeat === tellingTicks ? COST.telling : 0);
        choices.push({ beat, division, ticks: beat * pulseTicks + inBeat, cost });
      }
    }
  }
  return choices;
}

/** The written place of each stroke, in order, no two the same, and how sure each is. */
function placesOf(owns: readonly number[], paper: Paper): { readonly ticks: number; readonly sure: number }[] {
  const { divisions } = paper;
  const all = owns.map((own) => choicesAt(own, paper));
  const came: Int32Array[] = [];
  let costs: number[] = [];
  for (const [index, choices] of all.entries()) {
    const before = index === 0 ? null : (all[index - 1] as readonly Choice[]);
    const way = new Int32Array(choices.length).fill(-1);
    const next = choices.map((choice, at) => {
      const opened = (divisions[choice.division] as Division).cost;
      if (before === null) return choice.cost + opened;
      let best = Number.POSITIVE_INFINITY;
      for (const [from, other] of before.entries()) {
        if (other.ticks >= choice.ticks) continue;
        const isSameBeat = other.beat === choice.beat;
        if (isSameBeat && other.division !== choice.division) continue;
        const cost = (costs[from] as number) + (isSameBeat ? 0 : opened);
        if (cost < best) {
          best = cost;
          way[at] = from;
        }
      }
      return best + choice.cost;
    });
    // more strokes than a beat has places: an ornament, which stays where it is nearest
    if (before !== null && next.every((cost) => cost === Number.POSITIVE_INFINITY)) {
      const cheapest = costs.indexOf(Math.min(...costs));
      choices.forEach(({ cost }, at) => {
        next[at] = (costs[cheapest] as number) + cost;
        way[at] = cheapest;
      });
    }
    came.push(way);
    costs = next;
  }
  const places: { ticks: number; sure: number }[] = [];
  let at = costs.indexOf(Math.min(...costs));
  for (let index = owns.length - 1; index >= 0; index--) {
    const choices = all[index] as readonly Choice[];
    const { ticks, cost } = choices[at] as Choice;
    const others = choices.filter((each) => each.ticks !== ticks).map((each) => each.cost);
    const second = Math.min(...others, cost + 20);
    places.push({ ticks, sure: 1 / (1 + Math.exp(cost - second)) });
    at = came[index]?.[at] ?? 0;
  }
  return places.reverse();
}

/** What is believed of a place before the hand is heard, in strokes; the most that a seldom place costs, in nats. */
const BELIEVED_STROKES = 3;
const MOST_SELDOM = 3;

/** How seldom the hand goes to each place within the beat: a walking bass keeps to the beats, and what lies near one is that beat. */
function seldomPlaces(
  places: readonly { readonly ticks: number }[],
  { divisions, pulseTicks }: Omit<Paper, 'seldom'>,
): Map<number, number> {
  const counts = new Map<number, number>();
  for (const each of divisions) for (const place of each.ticks) counts.set(place, 0);
  for (const { ticks } of places) {
    const place = ((ticks % pulseTicks) + pulseTicks) % pulseTicks;
    counts.set(place, (counts.get(place) ?? 0) + 1);
  }
  const most = Math.max(...counts.values());
  return new Map(
    [...counts].map(([place, count]) => [
      place,
      Math.min(MOST_SELDOM, Math.log((most + BELIEVED_STROKES) / (count + BELIEVED_STROKES))),
    ]),
  );
}

/** From this share of the time to the next note on, a note goes on to it; a shorter one leaves a rest. */
const JOINED_SHARE = 0.7;

/** How much of its written length a note of a line usually sounds. Common practice. */
const SOUNDING = 0.94;

/** The written length of a note that stops before the next: to the beat or half beat that it reaches best. */
function lengthBefore(startTicks: number, soundedPulses: number, mostTicks: number, pulseTicks: number): number {
  const wished = (soundedPulses * pulseTicks) / SOUNDING;
  const step = pulseTicks / (pulseTicks % 3 === 0 && pulseTicks > TICKS_PER_QUARTER ? 3 : 2);
  let best = Math.min(mostTicks, step);
  let least = Number.POSITIVE_INFINITY;
  for (let end = (Math.floor(startTicks / step) + 1) * step; end - startTicks <= mostTicks; end += step) {
    const apart = Math.abs(Math.log((end - startTicks) / wished));
    if (apart >= least) break;
    [best, least] = [end - startTicks, apart];
  }
  return best;
}

/** The lowest keys of the strokes: a bass line. */
function bottomLine(notes: readonly PlacedNote[]): PlacedNote[] {
  return topLine(notes.map((note) => ({ ...note, key: 127 - note.key }))).map((note) => ({
    ...note,
    key: 127 - note.key,
  }));
}

function fingerOf({ key }: PlacedNote, place: FoundPlace | null): Finger | null {
  if (place === null) return null;
  return FINGERS[place.steps.indexOf((key - place.thumb + 120) % 12)] ?? null;
}

/** How often the places are read, each time with what the time before has told. */
const READINGS = 3;

/** Off-beats from which the hand's own swing is believed. */
const FEWEST_OFF_BEATS = 6;

/** Where the off-beats lie within the beat, as a share of it. */
function offBeatShare(
  owns: readonly number[],
  places: readonly { readonly ticks: number }[],
  before: number,
  pulseTicks: number,
): number {
  const shares = places.flatMap(({ ticks }, index) => {
    const beat = Math.floor(ticks / pulseTicks);
    return ticks - beat * pulseTicks === pulseTicks / 2 ? [(owns[index] as number) - beat] : [];
  });
  if (shares.length < FEWEST_OFF_BEATS) return before;
  return Math.max(0.5, Math.min(0.78, median(shares)));
}

/** A line on paper. */
function notated(line: readonly PlacedNote[], heard: HeardLine, strayMs: number | null, course: Course) {
  const grid = gridOf(course);
  const { ratio } = heard.time;
  const { pulseSeconds, pulseTicks } = course;
  const stray = Math.max(LEAST_STRAY_SECONDS, strayMs === null ? USUAL_STRAY_SECONDS : strayMs / 1000);
  const ownOf = ({ startSeconds }: PlacedNote): number =>
    (startSeconds - offsetAt(heard.time, startSeconds, grid.windowSeconds)) / pulseSeconds;
  const owns = line.map(ownOf);
  const strayShare = stray / pulseSeconds;
  // how the hand swings, and where it seldom goes, is known better once its notes have places
  let share = course.swings ? ratio / (ratio + 1) : 0.5;
  let seldom: ReadonlyMap<number, number> = new Map();
  let places: ReturnType<typeof placesOf> = [];
  for (let reading = 0; reading < READINGS; reading++) {
    const paper: Paper = { divisions: divisionsOf(course, share), strayShare, pulseTicks, seldom };
    places = placesOf(owns, paper);
    seldom = seldomPlaces(places, paper);
    if (course.swings) share = offBeatShare(owns, places, share, pulseTicks);
  }
  return places.map(({ ticks, sure }, index) => {
    const note = line[index] as PlacedNote;
    const next = places[index + 1]?.ticks ?? Number.POSITIVE_INFINITY;
    const isJoined = note.lengthPulses >= JOINED_SHARE * note.toNextPulses;
    // an ornament's notes may share a place: nothing is shorter than what can be written
    const most = Math.max(SHORTEST_PINNED_TICKS, Math.min(LONGEST_PIN_TICKS, next - ticks));
    const length = isJoined && Number.isFinite(next) ? most : lengthBefore(ticks, note.lengthPulses, most, pulseTicks);
    return { note, startTicks: ticks, durationTicks: Math.max(SHORTEST_PINNED_TICKS, Math.min(most, length)), sure };
  });
}

function pinOf(
  part: NotePin['part'],
  slot: CourseSlot,
  notes: readonly WrittenDownNote[],
  chorusTicks: number,
): NotePin {
  const { played } = slot.planned.analysed;
  // no note sounds beyond the double bar
  const end = (Math.floor(slot.startTicks / chorusTicks) + 1) * chorusTicks;
  const own = notes.filter(({ startTicks }) => startTicks >= slot.startTicks && startTicks < slot.endTicks);
  let until = Number.NEGATIVE_INFINITY;
  return {
    part,
    slot: played.slot.id,
    pass: played.playedBar.pass,
    over: played.slot.chord.symbol,
    notes: own
      .flatMap(({ startTicks, durationTicks, key }) => {
        const length = Math.min(durationTicks, end - startTicks);
        if (startTicks < until || length < SHORTEST_PINNED_TICKS) return [];
        until = startTicks + length;
        return [{ onsetTicks: startTicks - slot.startTicks, durationTicks: length, key }];
      })
      .slice(0, MOST_NOTES_OF_PIN),
  };
}

/**
 * Writes down what a hand played over some chords: the line of its highest notes, the left hand's of its lowest. The stretch is made
 * wider to whole chords, and ends where the form has gone round once. The pins name slots and passes, so that the second time
 * through the form is written where the first one stands; `changePinsInKey` takes them to the key a lesson is kept in.
 * @example const { pins } = writeDown(judged, { hand: 'right', fromTicks: 0, toTicks: 3840 }); // one a chord
 */
export function writeDown(judged: JudgedTake, { hand, fromTicks, toTicks }: Stretch): WrittenDown {
  const { course } = judged;
  const { slots, chorusTicks } = course;
  const first = slots[indexAt(slots, fromTicks)] as CourseSlot;
  const last = Math.min(toTicks, first.startTicks + chorusTicks);
  const own = slots.filter(({ startTicks, endTicks }) => endTicks > first.startTicks && startTicks < last);
  const [from, to] = [first.startTicks, own.at(-1)?.endTicks ?? first.endTicks];
  const heard = judged[hand].line;
  const line = hand === 'right' ? topLine(heard.notes) : bottomLine(heard.notes);
  // with the neighbours, whose places bind the first and last note; what is written far away does not
  const margin = course.barTicks;
  const near = line.filter(({ ticks }) => ticks >= from - margin && ticks < to + margin);
  const written = notated(near, heard, judged[hand].time.stray?.value ?? null, course).filter(
    ({ startTicks }) => startTicks >= from && startTicks < to,
  );
  const places = new Map(
    judged.bars.flatMap((bar) =>
      bar.slots.flatMap((verdict) =>
        verdict.notes.map((each, index) => [each, verdict.places[index] ?? null] as const),
      ),
    ),
  );
  const notes = written.map(({ note, startTicks, durationTicks }): WrittenDownNote => {
    const place = hand === 'right' ? (places.get(note) ?? null) : null;
    return { startTicks, durationTicks, key: note.key, place, finger: fingerOf(note, place) };
  });
  const all = heard.notes.filter(({ ticks }) => ticks >= from && ticks < to).length;
  const part = hand === 'right' ? 'chorus' : 'bass';
  return {
    notes,
    pins: own.map((slot) => pinOf(part, slot, notes, chorusTicks)),
    leftOut: Math.max(0, all - notes.length),
    sure:
      written.length === 0
        ? 0
        : Math.round((written.reduce((sum, { sure }) => sum + sure, 0) / written.length) * 100) / 100,
  };
}
