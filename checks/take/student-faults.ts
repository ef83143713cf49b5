/** What goes wrong in students' takes, one fault at a time. */
import { pitchClassOf, transposeSet, type PlannedSlot } from '@fivespan/core';
import { normal, tickSecondsOf, type Chances, type Written } from './student-lines.ts';

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
export function spoiled(fault: Fault, notes: readonly Written[], chances: Chances, choruses: number): Faulty | null {
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
      // heard as wrong over one chord: two strange notes there, and what lands within something that the lesson allows is not wrong
      const shows = slotsIn(bar).some((slot) => {
        const own = right.filter((note) => inBar(note, bar) && slotAt(note.startTicks) === slot);
        const moved = own.reduce((set, note) => set | (1 << ((note.key + by) % 12)), 0);
        const strange = own.filter((note) => ((slot.chordScale?.set ?? 0xfff) & (1 << ((note.key + by) % 12))) === 0);
        const isSlip = [1, 11].some(
          (each) => slot.position !== null && (moved & ~transposeSet(slot.position.set, each)) === 0,
        );
        const isAllowed = slot.analysed.chordScales.some(
          (scale) => !scale.reason.code.startsWith('scale.side-slip') && (moved & ~scale.set) === 0,
        );
        return strange.length >= 2 && (!isAllowed || (isSlip && slot.chordScale?.inside === true));
      });
      if (!shows) return null;
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
        // where each note that the other row alone has leads on by half step, at once or round its goal, also over the bar line, it
        // is an approach to hear; on the last off-beat, at home over the coming chord, it is that chord's note come early
        const keyOf = (note: Written): number => note.key - (inBar(note, bar) ? 5 : 0);
        const next = slotAt(bar.to);
        const tells = (note: Written): boolean => {
          const at = right.indexOf(note);
          const bit = 1 << (keyOf(note) % 12);
          const isEarly = note.startTicks >= bar.to - 480 && ((next?.chordScale?.set ?? 0) & bit) !== 0;
          const soon = right
            .slice(at + 1, at + 3)
            .filter(({ startTicks }) => startTicks - note.startTicks <= 1.6 * 960);
          return (
            ((slot?.chordScale?.set ?? 0) & bit) === 0 &&
            !isEarly &&
            soon.every((after) => Math.abs(keyOf(after) - keyOf(note)) !== 1)
          );
        };
        return (
          isAlone &&
          up !== undefined &&
          slot?.chordScale !== up &&
          own.length >= 4 &&
          own.some(tells) &&
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
