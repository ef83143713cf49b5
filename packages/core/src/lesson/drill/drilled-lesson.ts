import type { Analysis, AnalysedSlot, Reason, Region } from '../../analysis/index.ts';
import {
  barsOf,
  beatAt,
  beatTicksOf,
  type Bar,
  type BarId,
  type Chart,
  type PlayedBar,
  type PlayedSlot,
  type Section,
  type Slot,
  type SlotId,
} from '../../chart/index.ts';
import {
  makeParts,
  nameOfPassage,
  NO_PART_PINS,
  walkBass,
  type BassNote,
  type ChorusNote,
  type DrillKind,
  type HandNote,
  type Passage,
} from '../../parts/index.ts';
import { perform } from '../../performance/index.ts';
import type { PlannedSlot } from '../../plan/index.ts';
import { randomSource } from '../../random.ts';
import { buildScore } from '../../score/index.ts';
import { formatKey, type Key } from '../../theory/index.ts';
import type { Choices, Lesson } from '../lesson.ts';
import type { LessonGround } from '../make-lesson.ts';
import { leadingOn } from '../programme/chorus-parts.ts';

/** A passage with its bars in the drill: numbers from 1, both included. */
export interface PlacedPassage {
  readonly label: Reason;
  readonly fromBar: number;
  readonly toBar: number;
}

/** A drill in one key: a chart of its own and everything written over it. */
export interface DrilledLesson {
  readonly lesson: Lesson;
  readonly passages: readonly PlacedPassage[];
}

/** The key in force at each written bar. */
function keysInForce({ chart, analysis }: LessonGround): ReadonlyMap<BarId, Key> {
  let key = analysis.key;
  return new Map(
    barsOf(chart).map((bar) => {
      key = bar.keyChange ?? key;
      return [bar.id, key];
    }),
  );
}

const NO_MARKS: Bar['marks'] = { segno: false, coda: false, fine: false, toCoda: false };

/** The bars, slots and form of a drill while they are put down. */
interface Laying {
  readonly sections: { id: string; name: string | null; bars: Bar[] }[];
  readonly bars: PlayedBar[];
  readonly slots: PlannedSlot[];
  readonly passages: { readonly passage: Passage; readonly placed: PlacedPassage; readonly slots: PlannedSlot[] }[];
  endTicks: number;
}

/** Puts passages down one after the other: bars count from 1, ticks from 0. */
function lay(passages: readonly Passage[], ground: LessonGround): Laying {
  const laying: Laying = { sections: [], bars: [], slots: [], passages: [], endTicks: 0 };
  const inForce = keysInForce(ground);
  let key = ground.analysis.key;
  let labelBefore = '';
  for (const passage of passages) {
    const label = JSON.stringify(passage.label);
    const name = nameOfPassage(passage.label);
    const isNew = label !== labelBefore || passage.bars.length > 1;
    if (laying.sections.length === 0 || (isNew && name !== null)) {
      laying.sections.push({ id: `d${laying.sections.length + 1}`, name, bars: [] });
    }
    labelBefore = label;
    const section = laying.sections.at(-1) as Section & { bars: Bar[] };
    const own: PlannedSlot[] = [];
    const fromBar = laying.bars.length + 1;
    for (const { source, slots } of passage.bars) {
      const number = laying.bars.length + 1;
      const here = inForce.get(source.playedBar.bar.id) ?? key;
      const written = slots.map(({ slot, startTicks, durationTicks }, index): Slot => ({
        id: `d${number}.${index + 1}` as SlotId,
        startTicks,
        durationTicks,
        chord: slot.analysed.played.slot.chord,
      }));
      const bar: Bar = {
        ...source.playedBar.bar,
        id: `d${number}` as BarId,
        number,
        keyChange: formatKey(here) === formatKey(key) ? null : here,
        slots: written,
        startsRepeat: false,
        endsRepeatTimes: 0,
        endings: [],
        startsEnding: false,
        marks: NO_MARKS,
        jump: null,
      };
      key = here;
      section.bars.push(bar);
      const playedBar: PlayedBar = { bar, section, pass: 1, index: number - 1, startTicks: laying.endTicks };
      laying.bars.push(playedBar);
      for (const [index, { slot }] of slots.entries()) {
        const planned = {
          ...slot,
          analysed: placed(slot.analysed, written[index] as Slot, playedBar, laying.slots.length),
        };
        laying.slots.push(planned);
        own.push(planned);
      }
      laying.endTicks += bar.durationTicks;
    }
    const toBar = laying.bars.length;
    laying.passages.push({ passage, placed: { label: passage.label, fromBar, toBar }, slots: own });
  }
  return laying;
}

function placed(analysed: AnalysedSlot, slot: Slot, playedBar: PlayedBar, index: number): AnalysedSlot {
  const startTicks = playedBar.startTicks + slot.startTicks;
  const played: PlayedSlot = {
    slot,
    playedBar,
    index,
    startTicks,
    endTicks: startTicks + slot.durationTicks,
    beat: beatAt(playedBar, startTicks),
    beats: slot.durationTicks / beatTicksOf(playedBar.bar.meter),
  };
  return { ...analysed, played };
}

function regionsOf(slots: readonly PlannedSlot[]): Region[] {
  const regions: { key: Key; fromSlot: number; toSlot: number }[] = [];
  for (const [index, { analysed }] of slots.entries()) {
    const { key } = analysed.reading;
    const open = regions.at(-1);
    if (open !== undefined && formatKey(open.key) === formatKey(key)) open.toSlot = index + 1;
    else regions.push({ key, fromSlot: index, toSlot: index + 1 });
  }
  return regions;
}

/** A note of the right hand as the chorus's staff holds it. */
export const asChorusNote = (note: HandNote & Partial<ChorusNote>): ChorusNote => ({
  octaves: 0,
  neighbour: null,
  motive: null,
  ...note,
});

/** The bass of one passage, leading on into itself, for each of them: all are the same bars. */
function sameBassEachTime(analysis: Analysis, { passages }: Laying, choices: Choices): BassNote[] {
  const [first] = passages;
  const last = first?.slots.at(-1);
  if (first === undefined || last === undefined) return [];
  const lengthTicks = last.analysed.played.endTicks;
  const own: Analysis = {
    ...analysis,
    form: { ...analysis.form, endTicks: lengthTicks },
    slots: analysis.slots.slice(0, first.slots.length),
  };
  const walked = walkBass(leadingOn(own, own), randomSource(choices.seed, 'bass'), {
    level: choices.level,
    ...choices.bass,
  }).filter(({ slotIndex }) => slotIndex < first.slots.length);
  return passages.flatMap((_, time) =>
    walked.map((note) => ({
      ...note,
      startTicks: note.startTicks + time * lengthTicks,
      slotIndex: note.slotIndex + time * first.slots.length,
    })),
  );
}

/**
 * A drill in one key as a lesson of its own: its chart has the passages' bars, its right hand plays them, and everything that can be
 * done with a lesson can be done with it.
 * @param ground the whole chart in this key, for what the bars come from
 */
export function drilledLesson(
  kind: DrillKind,
  passages: readonly Passage[],
  ground: LessonGround,
  choices: Choices,
): DrilledLesson {
  const laying = lay(passages, ground);
  const { sections, bars, slots, endTicks } = laying;
  const [first] = bars;
  if (first === undefined) throw new RangeError('passages must have at least one bar');
  const { key } = ground.analysis;
  const chart: Chart = { ...ground.chart, key, meter: first.bar.meter, sections };
  const analysis: Analysis = {
    chart,
    form: { bars, slots: slots.map(({ analysed }) => analysed.played), endTicks },
    key,
    keyFound: ground.analysis.keyFound,
    regions: regionsOf(slots),
    slots: slots.map(({ analysed }) => analysed),
    cadences: [],
  };
  const plan = { slots, totalTravelMm: 0 };
  const chorus = laying.passages.flatMap(({ passage, slots: own }) => passage.write(own).map(asChorusNote));
  const { level, hand, seed, bass, voicings } = choices;
  const random = (name: string) => randomSource(seed, name);
  const sources = { analysis, plan, level, hand, bass, voicings, pins: NO_PART_PINS, random };
  const parts = makeParts(sources, {
    chorus,
    arpeggios: [],
    upperVoicings: [],
    voicings: [],
    ...(kind.leftHand === 'walks the same each time' ? { bass: sameBassEachTime(analysis, laying, choices) } : {}),
  });
  const score = buildScore({ chart, analysis, plan, ...parts });
  const { writtenKey, pins } = ground;
  const lesson: Lesson = {
    chart,
    writtenKey,
    choices: { ...choices, pins },
    analysis,
    plan,
    ...parts,
    score,
    performance: perform(score),
  };
  return { lesson, passages: laying.passages.map((each) => each.placed) };
}
