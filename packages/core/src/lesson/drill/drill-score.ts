import { DRILLS, PARTS, type PartStaff } from '../../parts/index.ts';
import type { Score, ScoreStaff } from '../../score/index.ts';
import { formatKey, typeset } from '../../theory/index.ts';
import type { Drill, DrillInKey } from './drill.ts';

/** The staves that a drill is written on: the right hand's, and the left's where it has something to play. */
export function stavesOfDrill({ order }: Pick<Drill, 'order'>): readonly PartStaff[] {
  const { leftHand } = DRILLS[order.kind];
  return PARTS.filter(({ group, hand }) => group === 'piano' && (hand === 'right' || leftHand !== 'none')).map(
    ({ staff }) => staff,
  );
}

/** A score moved to a later time; its bars are counted on. */
function later(score: Score, key: DrillInKey['key'], ticks: number, barsBefore: number): Score {
  const at = <Placed extends { readonly startTicks: number }>(each: Placed): Placed => ({
    ...each,
    startTicks: each.startTicks + ticks,
  });
  return {
    ...score,
    bars: score.bars.map((bar, index) => ({
      ...at(bar),
      number: barsBefore + index + 1,
      section: index === 0 ? typeset(formatKey(key)) : bar.section,
    })),
    chords: score.chords.map(at),
    thumbs: score.thumbs.map(at),
    staves: score.staves.map((staff) => ({ ...staff, notes: staff.notes.map(at) })),
    phrases: score.phrases.map((phrase) => ({ ...at(phrase), endTicks: phrase.endTicks + ticks })),
    endTicks: score.endTicks + ticks,
  };
}

/** All keys of a drill as one score, one after the other, each beginning under its name; on the drill's own staves. */
export function scoreOfDrill(drill: Drill): Score {
  const staves = stavesOfDrill(drill);
  let whole: Score | undefined;
  for (const { key, lesson } of drill.keys) {
    const { score } = lesson;
    const own = later(score, key, whole?.endTicks ?? 0, whole?.bars.length ?? 0);
    const before: Score = whole ?? {
      ...own,
      bars: [],
      chords: [],
      thumbs: [],
      phrases: [],
      staves: own.staves.map((staff) => ({ ...staff, notes: [] })),
    };
    whole = {
      ...before,
      bars: [...before.bars, ...own.bars],
      chords: [...before.chords, ...own.chords],
      thumbs: [...before.thumbs, ...own.thumbs],
      phrases: [...before.phrases, ...own.phrases],
      staves: before.staves.map((staff, index) => ({
        ...staff,
        notes: [...staff.notes, ...(own.staves[index] as ScoreStaff).notes],
      })),
      endTicks: own.endTicks,
    };
  }
  if (whole === undefined) throw new RangeError('drill must have at least one key');
  return { ...whole, staves: whole.staves.filter(({ role }) => staves.includes(role)) };
}
