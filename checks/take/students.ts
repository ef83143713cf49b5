/**
 * Synthetic students: our own choruses and free lines inside the lesson's families, played with the timing and dynamics of people,
 * and with one fault at a time. The spreads are measured on the open data (C): strokes stray from their own pulse by 8 to 22 ms
 * (Groove MIDI Dataset, ride; Jazz Trio Database, piano and bass), hands lie 0 to 25 ms behind, velocities stray by 6 to 14 about their
 * line (Groove; Vienna 4x22). `bench/take-students.ts` prints what is found.
 */
import {
  DEFAULT_CHOICES,
  makeLesson,
  perform,
  pitchClassOf,
  randomSource,
  readChart,
  setOfChord,
  transposeSet,
  usualKeys,
  type HeardNote,
  type Key,
  type Lesson,
  type PlannedSlot,
  type RandomSource,
} from '@fivespan/core';

export const FAULTS = [
  'position.wrong',
  'position.other-move',
  'avoid.hanging',
  'time.rushing',
  'time.dragging',
  'time.late',
  'time.early',
  'left.dropped',
  'left.root-wrong',
  'left.uneven',
  'dynamics.flat',
  'phrase.no-rests',
  'guide-tones.missed',
] as const;
export type Fault = (typeof FAULTS)[number];

/** A student's take, and what is wrong with it. */
export interface StudentTake {
  readonly about: string;
  readonly lesson: Lesson;
  readonly tempoBpm: number;
  readonly notes: readonly HeardNote[];
  /** Bars that have the fault, as counted on paper. */
  readonly bars: readonly number[];
}

/** Our own charts: cadences, blues, minor, waltz, long chords, half bars, even feel. */
const CHARTS: readonly string[] = [
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
function lessonOf(chart: number, keyIndex: number, level: 1 | 2 | 3 | 4, seed: number): Lesson {
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
function normal(random: RandomSource): number {
  let sum = 0;
  for (let throws = 0; throws < 12; throws++) sum += random.integer(1_000_000) / 1_000_000;
  return sum - 6;
}

type Written = Omit<HeardNote, 'startSeconds' | 'durationSeconds'> & {
  readonly startTicks: number;
  readonly startSeconds: number;
  readonly durationSeconds: number;
};

interface Chances {
  readonly random: RandomSource;
  readonly lesson: Lesson;
  readonly tempoBpm: number;
  readonly swing: number;
}

const tickSecondsOf = ({ lesson, tempoBpm }: Chances): number =>
  60 / tempoBpm / (lesson.score.meter.unit === 8 ? 1440 : 960);

/** A free line: random steps among the family's notes, avoid notes left out, in phrases with rests between. */
function freeLine(chances: Chances): Written[] {
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
function written(chances: Chances, hand: 'right' | 'left'): Written[] {
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
function humanly(notes: readonly Written[], random: RandomSource): Written[] {
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

interface Faulty {
  readonly notes: readonly Written[];
  readonly bars: readonly number[];
}

/** Bars of the course: number on paper, start in ticks. */
function barsOf({ lesson }: Chances, choruses: number): { number: number; from: number; to: number }[] {
  const { form } = lesson.analysis;
  return Array.from({ length: choruses }, (_, chorus) =>
    form.bars.map(({ bar, startTicks }) => ({
      number: bar.number,
      from: chorus * form.endTicks + startTicks,
      to: chorus * form.endTicks + startTicks + bar.durationTicks,
    })),
  ).flat();
}

/** Puts one fault into a take; null where it has no place for it. */
function spoiled(fault: Fault, notes: readonly Written[], chances: Chances, choruses: number): Faulty | null {
  const { random, lesson } = chances;
  const bars = barsOf(chances, choruses);
  const tick = tickSecondsOf(chances);
  const pulse = 960 * tick;
  const inBar = (note: Written, bar: { from: number; to: number }): boolean =>
    note.startTicks >= bar.from && note.startTicks < bar.to;
  const right = notes.filter(({ hand }) => hand === 'right');
  const slotAt = (ticks: number) =>
    lesson.plan.slots.findLast(({ analysed }) => analysed.played.startTicks <= ticks % lesson.analysis.form.endTicks);
  const slotsIn = (bar: { from: number; to: number }) => [
    ...new Set(right.filter((note) => inBar(note, bar)).map((note) => slotAt(note.startTicks) as PlannedSlot)),
  ];
  const all = bars.map(({ number }) => number);
  const pick = <Value>(values: readonly Value[]): Value | null =>
    values[random.integer(Math.max(1, values.length))] ?? null;
  const shifted = (by: (note: Written) => number): Faulty => ({
    notes: notes.map((note) => ({ ...note, startSeconds: note.startSeconds + by(note) })),
    bars: all,
  });
  switch (fault) {
    case 'position.wrong': {
      const bar = pick(bars.filter((each) => right.filter((note) => inBar(note, each)).length >= 4));
      if (bar === null) return null;
      const by = [1, -1][random.integer(2)] as number;
      // what lands within something that the lesson allows is not wrong
      const strange = right.filter((note) => {
        const slot = slotAt(note.startTicks);
        const lands = (slot?.chordScale?.set ?? 0xfff) & (1 << ((note.key + by) % 12));
        return inBar(note, bar) && lands === 0;
      });
      const allowed = slotsIn(bar).every((slot) => {
        const moved = right
          .filter((note) => inBar(note, bar) && slotAt(note.startTicks) === slot)
          .reduce((set, note) => set | (1 << ((note.key + by) % 12)), 0);
        const isSlip = [1, 11].some(
          (each) => slot.position !== null && (moved & ~transposeSet(slot.position.set, each)) === 0,
        );
        const isAllowed = slot.analysed.chordScales.some(
          (scale) => !scale.reason.code.startsWith('scale.side-slip') && (moved & ~scale.set) === 0,
        );
        return isAllowed && !(isSlip && slot.chordScale?.inside === true);
      });
      if (strange.length < 2 || allowed) return null;
      return {
        notes: notes.map((note) =>
          note.hand === 'right' && inBar(note, bar) ? { ...note, key: note.key + by } : note,
        ),
        bars: [bar.number],
      };
    }
    case 'position.other-move': {
      // the raised row: over a major tonic chord the whole family a fifth higher
      const raised = bars.filter((bar) => {
        const slot = slotAt(bar.from);
        const isAlone = slotAt(bar.to - 1) === slot;
        const up = slot?.analysed.chordScales.find(({ reason }) => reason.code === 'scale.raised-tonic');
        const own = right.filter((note) => inBar(note, bar));
        return (
          isAlone &&
          up !== undefined &&
          slot?.chordScale !== up &&
          own.length >= 4 &&
          own.some(({ key }) => ((slot?.chordScale?.set ?? 0) & (1 << ((key + 7) % 12))) === 0) &&
          own.every(({ key }) => (up.set & (1 << ((key + 7) % 12))) !== 0)
        );
      });
      const bar = pick(raised);
      if (bar === null) return null;
      return {
        notes: notes.map((note) => (note.hand === 'right' && inBar(note, bar) ? { ...note, key: note.key - 5 } : note)),
        bars: [bar.number],
      };
    }
    case 'avoid.hanging': {
      // the last note of a phrase
      const ends = right.filter((note, index) => {
        const next = right[index + 1];
        const slot = slotAt(note.startTicks);
        const after = slotAt(note.startTicks + 960);
        return (
          (next === undefined || next.startSeconds - note.startSeconds - note.durationSeconds > 0.8 * pulse) &&
          note.durationSeconds > 0.4 * pulse &&
          (slot?.chordScale?.avoid.length ?? 0) > 0 &&
          slot === after
        );
      });
      const end = pick(ends);
      const note = slotAt(end?.startTicks ?? 0)?.chordScale?.avoid[0]?.note;
      const ending = slotAt(end?.startTicks ?? 0)?.analysed.played.endTicks ?? 0;
      const ends1 = end === null ? 0 : (end.startTicks % lesson.analysis.form.endTicks) + end.durationSeconds / tick;
      // held into the next chord it may be taken in
      if (end === null || note === undefined || ends1 > ending) return null;
      let key = end.key - 6;
      while (key % 12 !== pitchClassOf(note)) key++;
      return {
        notes: notes.map((each) => (each === end ? { ...each, key } : each)),
        bars: bars.filter((bar) => inBar(end, bar)).map(({ number }) => number),
      };
    }
    case 'time.rushing':
      return shifted(({ startTicks }) => (-0.02 * startTicks) / ((bars[1]?.from ?? 3840) || 3840));
    case 'time.dragging':
      return shifted(({ startTicks }) => (0.02 * startTicks) / ((bars[1]?.from ?? 3840) || 3840));
    case 'time.late':
      return shifted(() => 0.06);
    case 'time.early':
      return shifted(() => -0.06);
    case 'left.dropped': {
      const inner = bars.slice(1, -1);
      const bar = pick(inner);
      if (bar === null) return null;
      const beats = notes.filter((note) => note.hand === 'left' && inBar(note, bar) && note.startTicks % 960 === 0);
      const dropped = pick(beats);
      if (dropped === null) return null;
      if (random.integer(2) === 0) return { notes: notes.filter((each) => each !== dropped), bars: [bar.number] };
      return {
        notes: notes.flatMap((each) => {
          if (each === dropped) return [];
          if (each.hand === 'right' || each.startTicks < dropped.startTicks) return [each];
          return [{ ...each, startSeconds: each.startSeconds - pulse, startTicks: each.startTicks - 960 }];
        }),
        bars: [bar.number],
      };
    }
    case 'left.root-wrong': {
      const changes = lesson.plan.slots.filter(
        ({ analysed }, index) =>
          analysed.chord !== null &&
          analysed.chord.symbol !== lesson.plan.slots[index - 1]?.analysed.chord?.symbol &&
          analysed.played.startTicks > 0,
      );
      const slot = pick(changes);
      const root = notes.find(
        ({ hand, startTicks }) => hand === 'left' && startTicks === slot?.analysed.played.startTicks,
      );
      if (slot === null || root === undefined) return null;
      const by = [1, -1, 2, -2, 6, 3][random.integer(6)] as number;
      return {
        notes: notes.map((each) => (each === root ? { ...each, key: each.key + by } : each)),
        bars: [slot.analysed.played.playedBar.bar.number],
      };
    }
    case 'left.uneven':
      return {
        notes: notes.map((note) =>
          note.hand === 'left' ? { ...note, startSeconds: note.startSeconds + 0.045 * normal(random) } : note,
        ),
        bars: all,
      };
    case 'dynamics.flat':
      return { notes: notes.map((note) => ({ ...note, velocity: 70 + random.integer(3) })), bars: all };
    case 'phrase.no-rests': {
      const filled = right.flatMap((note, index): Written[] => {
        const next = right[index + 1];
        const own = [note];
        const until = next?.startTicks ?? note.startTicks;
        for (let at = note.startTicks + 480; at < until; at += 480) {
          const share =
            at % 960 === 0 ? 0 : chances.lesson.score.feel === 'swing' ? chances.swing / (chances.swing + 1) : 0.5;
          const start = (Math.floor(at / 960) + share) * pulse;
          const slot = slotAt(at);
          let key = (own.at(-1) as Written).key + (random.integer(2) === 0 ? 1 : -1);
          const avoid = new Set(slot?.chordScale?.avoid.map((each) => pitchClassOf(each.note) as number) ?? []);
          while (((slot?.position?.set ?? 0xfff) & (1 << (key % 12))) === 0 || avoid.has(key % 12)) key++;
          own.push({ ...note, key, startTicks: at, startSeconds: start });
        }
        return own.map((each, at) => ({
          ...each,
          durationSeconds:
            ((own[at + 1] ?? next)?.startSeconds ?? each.startSeconds + pulse / 2) - each.startSeconds - 0.01,
        }));
      });
      return { notes: [...filled, ...notes.filter(({ hand }) => hand === 'left')], bars: all };
    }
    case 'guide-tones.missed': {
      const missing = right.map((note) => {
        const slot = slotAt(note.startTicks);
        const { chord } = slot?.analysed ?? { chord: null };
        if (chord === null || slot === undefined) return note;
        const above = (key: number): number => (key - pitchClassOf(chord.root) + 120) % 12;
        const isGuide = (key: number): boolean => [3, 4, 9, 10, 11].includes(above(key));
        if (!isGuide(note.key)) return note;
        const avoid = new Set(slot.chordScale?.avoid.map((each) => pitchClassOf(each.note) as number) ?? []);
        for (const by of [2, -2, 1, -1, 3, -3, 4, -4, 5, -5]) {
          const key = note.key + by;
          if (((slot.chordScale?.set ?? 0) & (1 << (key % 12))) !== 0 && !isGuide(key) && !avoid.has(key % 12))
            return { ...note, key };
        }
        return note;
      });
      return { notes: [...missing, ...notes.filter(({ hand }) => hand === 'left')], bars: all };
    }
  }
}

/**
 * A student's take.
 * @param fault null for a clean one
 * @returns null where this take has no place for the fault
 */
export function studentTake(seed: number, fault: Fault | null): StudentTake | null {
  const random = randomSource(seed, 'student');
  const chart = random.integer(CHARTS.length);
  const keyIndex = random.integer(3);
  const level = (1 + random.integer(4)) as 1 | 2 | 3 | 4;
  const choruses = 1 + random.integer(3);
  const lesson = lessonOf(chart, keyIndex, level, 1 + random.integer(2));
  const tempoBpm = 60 + random.integer(161);
  const chances: Chances = { random, lesson, tempoBpm, swing: 1.2 + random.integer(90) / 100 };
  const isFree = random.integer(2) === 0;
  const isSolo = fault?.startsWith('left.') === true || random.integer(3) > 0;
  const chorusSeconds = lesson.analysis.form.endTicks * tickSecondsOf(chances);
  const notes: Written[] = [];
  for (let chorus = 0; chorus < choruses; chorus++) {
    const hands = [
      ...(isFree ? freeLine(chances) : written(chances, 'right')),
      ...(isSolo ? written(chances, 'left') : []),
    ];
    for (const note of hands) {
      notes.push({
        ...note,
        startTicks: note.startTicks + chorus * lesson.analysis.form.endTicks,
        startSeconds: note.startSeconds + chorus * chorusSeconds,
      });
    }
  }
  // now and then somebody comes in late
  const from = random.integer(6) === 0 ? lesson.analysis.form.endTicks / 4 : 0;
  const late = notes.filter(({ startTicks }) => startTicks >= from);
  late.sort((a, b) => a.startSeconds - b.startSeconds);
  const about = `chart ${chart} key ${keyIndex} level ${level} ×${choruses} at ${tempoBpm} ${isFree ? 'free' : 'chorus'} ${isSolo ? 'two hands' : 'right hand'}`;
  const played = [
    ...humanly(
      late.filter(({ hand }) => hand === 'right'),
      random,
    ),
    ...humanly(
      late.filter(({ hand }) => hand === 'left'),
      random,
    ),
  ];
  const faulty = fault === null ? { notes: played, bars: [] } : spoiled(fault, played, chances, choruses);
  if (faulty === null) return null;
  const sorted = faulty.notes.toSorted((a, b) => a.startSeconds - b.startSeconds);
  return { about, lesson, tempoBpm, notes: sorted, bars: faulty.bars };
}
