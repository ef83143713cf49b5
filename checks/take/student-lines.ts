/** What students play before anything goes wrong: lines of the lesson and free ones inside its families, as people play them. */
import {
  DEFAULT_CHOICES,
  makeLesson,
  perform,
  pitchClassOf,
  readChart,
  setOfChord,
  usualKeys,
  type HeardNote,
  type Key,
  type Lesson,
  type RandomSource,
} from '@fivespan/core';

/** Our own charts: cadences, blues, minor, waltz, long chords, half bars, even feel. */
export const CHARTS: readonly string[] = [
  'A:\n| Fm7 | Bb7 | Ebmaj7 | % |\n| Am7b5 | D7alt | Gm6 | % |\n| Abmaj7 | Abm7 Db7 | Ebmaj7 | C7(b9) |\n| Fm7 | Bb7 | Ebmaj7 | Fm7 Bb7 |',
  'A:\n| F7 | Bb7 | F7 | Cm7 F7 |\n| Bb7 | Bdim7 | F7 | Am7b5 D7(b9) |\n| Gm7 | C7 | F7 D7 | Gm7 C7 |',
  'meter: 3/4\nA:\n| Gmaj7 | % | Am7 | D7 |\n| Bm7 | Bbdim7 | Am7 | D7 |\n| Em7 | A7 | Am7 | D7 |\n| Gmaj7 | E7 | Am7 | D7 |',
  'A:\n| Cm6 | Dm7b5 G7alt | Cm6 | Cm7 |\n| Fm7 | Bb7 | Ebmaj7 | Abmaj7 |\n| Dm7b5 | G7(b9) | Cm(maj7) | Cm7 |\n| Abmaj7 | Dm7b5 Db7 | Cm6 | G7alt |',
  'feel: even\nA:\n| Dm7 | G7 | Cmaj7 | % |\n| Em7 | A7 | Dm7 | % |\n| Fm7 | Bb7 | Cmaj7 | A7 |\n| Dm7 | G7 | Cmaj7 | % |',
  'A:\n| Bbmaj7 G7 | Cm7 F7 | Dm7 G7 | Cm7 F7 |\n| Fm7 Bb7 | Ebmaj7 Ab7 | Dm7 G7 | Cm7 F7 |\nB:\n| D7 | % | G7 | % |\n| C7 | % | F7 | % |',
  'A:\n| Em7 | % | % | % |\n| Fm7 | % | % | % |\n| Em7 | % | A7 | % |\n| Dm7 | G7 | Cmaj7 | B7alt |',
];

const lessons = new Map<string, Lesson>();

/** A lesson, made once. */
export function lessonOf(chart: number, keyIndex: number, level: 1 | 2 | 3 | 4, seed: number): Lesson {
  const name = `${chart} ${keyIndex} ${level} ${seed}`;
  let lesson = lessons.get(name);
  if (lesson === undefined) {
    const read = readChart(CHARTS[chart] as string);
    if (!read.ok) throw new TypeError('text must be a chart');
    const home = makeLesson(read.value, { ...DEFAULT_CHOICES, seed, level });
    const keys = usualKeys(home.analysis.key.mode);
    const key: Key | null = keyIndex === 0 ? null : (keys[keyIndex % keys.length] ?? null);
    lesson = key === null ? home : makeLesson(read.value, { ...DEFAULT_CHOICES, seed, level }, key);
    lessons.set(name, lesson);
  }
  return lesson;
}

/** About normal, by twelve throws (Irwin–Hall). */
export function normal(random: RandomSource): number {
  let sum = 0;
  for (let throws = 0; throws < 12; throws++) sum += random.integer(1_000_000) / 1_000_000;
  return sum - 6;
}

export type Written = Omit<HeardNote, 'startSeconds' | 'durationSeconds'> & {
  readonly startTicks: number;
  readonly startSeconds: number;
  readonly durationSeconds: number;
};

export interface Chances {
  readonly random: RandomSource;
  readonly lesson: Lesson;
  readonly tempoBpm: number;
  readonly swing: number;
}

export const tickSecondsOf = ({ lesson, tempoBpm }: Chances): number =>
  60 / tempoBpm / (lesson.score.meter.unit === 8 ? 1440 : 960);

/** A free line: random steps among the family's notes, avoid notes left out, in phrases with rests between. */
export function freeLine(chances: Chances): Written[] {
  const { random, lesson, swing } = chances;
  const tick = tickSecondsOf(chances);
  const notes: Written[] = [];
  const end = lesson.analysis.form.endTicks;
  let at = random.integer(3) * 480;
  let left = 5 + random.integer(12);
  let key = 62 + random.integer(12);
  while (at < end - 240) {
    const slot = lesson.plan.slots.findLast(({ analysed }) => analysed.played.startTicks <= at);
    const length = [480, 480, 480, 960, 960][random.integer(5)] as number;
    const { chord } = slot?.analysed ?? { chord: null };
    if (slot === undefined || slot.position === null || chord === null) {
      at += 480;
      continue;
    }
    const avoid = new Set(slot.chordScale?.avoid.map(({ note }) => pitchClassOf(note) as number) ?? []);
    const positions = slot.family?.positions ?? [slot.position];
    const position = random.integer(4) === 0 ? positions[random.integer(positions.length)] : slot.position;
    const isLast = left === 1;
    const tones = setOfChord(chord);
    const fits = (each: number): boolean =>
      ((position?.set ?? 0) & (1 << (each % 12))) !== 0 &&
      !avoid.has(each % 12) &&
      each !== key &&
      (!isLast || (tones & (1 << (each % 12))) !== 0);
    const near = Array.from({ length: 25 }, (_, index) => key - 12 + index)
      .filter((each) => each >= 57 && each <= 86 && fits(each))
      .sort((a, b) => Math.abs(a - key) - Math.abs(b - key));
    const next = near[random.integer(Math.max(1, Math.min(3, near.length)))];
    if (next === undefined) {
      at += 480;
      continue;
    }
    key = next;
    const place = (ticks: number): number => {
      const share = (ticks % 960) / 960;
      const off = share === 0.5 && lesson.score.feel === 'swing' ? swing / (swing + 1) : share;
      return (Math.floor(ticks / 960) * 960 + off * 960) * tick;
    };
    const velocity = 74 + (at % 960 === 0 ? 0 : 5);
    const last = Math.min(end, at + length);
    notes.push({
      startTicks: at,
      startSeconds: place(at),
      durationSeconds: (place(last) - place(at)) * 0.92,
      key,
      velocity,
      hand: 'right',
    });
    at += length;
    left--;
    if (left === 0) {
      at += 960 * (1 + random.integer(3));
      at -= at % 480;
      left = 5 + random.integer(12);
    }
  }
  return notes;
}

/** A hand of the lesson's own performance at a tempo. */
export function written(chances: Chances, hand: 'right' | 'left'): Written[] {
  const { lesson, tempoBpm } = chances;
  const part = perform({ ...lesson.score, tempoBpm }).parts.find(({ player }) => player === `${hand} hand`);
  return (part?.notes ?? []).map(({ startSeconds, durationSeconds, midi, velocity, writtenStartTicks }) => ({
    startTicks: writtenStartTicks,
    startSeconds,
    durationSeconds,
    key: midi,
    velocity,
    hand,
  }));
}

/** One as a person plays it. */
export function humanly(notes: readonly Written[], random: RandomSource): Written[] {
  const stray = (8 + random.integer(13)) / 1000;
  const behind = (random.integer(18) - 3) / 1000;
  const loud = 4 + random.integer(8);
  let wander = 0;
  return notes.map((note) => {
    wander = 0.96 * wander + 0.002 * normal(random);
    const late = behind + wander + stray * normal(random);
    const velocity = Math.max(20, Math.min(120, Math.round(note.velocity + loud * normal(random))));
    return { ...note, startSeconds: note.startSeconds + late, velocity };
  });
}
