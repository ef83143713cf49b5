import type { Analysis, AnalysedSlot } from '../analysis/index.ts';
import { beatTicksOf } from '../chart/index.ts';
import type { RandomSource } from '../random.ts';
import {
  degree,
  degreeOnStep,
  midi,
  noteAbove,
  pitchAt,
  pitchClassOf,
  type Chord,
  type Midi,
  type NoteName,
} from '../theory/index.ts';
import { approachesTo, type Approach } from './approach-note.ts';
import type { BassNote } from './note.ts';

/**
 * The left hand's range: F1 to E3, two octaves, so that every note has two keys, all of them below the right hand's lowest
 * (plan/route-cost.ts). Our own choice.
 */
export const LOWEST_BASS = 29;
export const HIGHEST_BASS = 52;
/** Where the line likes to be: C2 to D3, above the mud. Common practice. */
const HOME_LOW = 36;
const HOME_HIGH = 50;

/** Costs of the octave choice; integers, so that every machine decides alike. */
const COST = {
  /** A semitone of motion. */
  semitone: 2,
  /** A semitone outside the home range. */
  strayed: 1,
  /** A motion beyond the octave, on top. */
  wide: 40,
  /** The root on a bar's last beat, before itself, elsewhere than an octave from the root two beats before. */
  noOctave: 30,
  /** The widest seeded whim, of each way to approach: four semitones of motion. */
  whim: 8,
} as const;

/** One beat of the line before it has an octave. */
interface Step {
  readonly slotIndex: number;
  readonly startTicks: number;
  readonly durationTicks: number;
  readonly function: BassNote['function'];
  readonly name: NoteName;
  /** For an approach: the ways into the note that follows; empty otherwise. */
  readonly approaches: readonly Approach[];
  /** A root that will be followed by itself across the bar line: R 5 R′ in three. */
  readonly turnsBack: boolean;
}

/** A step at a pitch, with the way there. */
interface Choice {
  readonly name: NoteName;
  readonly midi: Midi;
  readonly approach: Approach | null;
  readonly cost: number;
  readonly before: Choice | null;
}

/** What the left hand plays as the chord's ground: the written bass, else the root. */
function groundOf(chord: Chord): NoteName {
  return chord.bass ?? chord.root;
}

/** The chord's own fifth; where it has none (alt), the flat fifth it implies; a sixth's or power chord's is perfect. */
function fifthOf(chord: Chord): NoteName {
  const own = degreeOnStep(chord, 4);
  if (own !== undefined) return noteAbove(chord.root, own);
  return noteAbove(chord.root, degree(chord.degrees.includes(degree('#11')) ? 'b5' : '5'));
}

/** Starts of the slot's beats: its own start, then every beat line of the bar inside it. */
function beatStarts({ played }: AnalysedSlot): number[] {
  const { startTicks: barStart, bar } = played.playedBar;
  const beat = beatTicksOf(bar.meter);
  const starts = [played.startTicks];
  const firstLine = barStart + Math.ceil((played.startTicks - barStart + 1) / beat) * beat;
  for (let line = firstLine; line < played.endTicks; line += beat) starts.push(line);
  return starts;
}

function stepsOfSlot(analysis: Analysis, index: number): Step[] {
  const slot = analysis.slots[index] as AnalysedSlot;
  const { chord } = slot;
  if (chord === null) return [];
  const following = analysis.slots[index + 1];
  const next = following?.chord ?? null;
  const changes = next !== null && next.symbol !== chord.symbol;
  const starts = beatStarts(slot);
  const ground = groundOf(chord);
  const fifth = fifthOf(chord);
  return starts.map((startTicks, beat): Step => {
    const isLast = beat === starts.length - 1;
    const place = {
      slotIndex: index,
      startTicks,
      durationTicks: (starts[beat + 1] ?? slot.played.endTicks) - startTicks,
      approaches: [],
      turnsBack: false,
    };
    if (following !== undefined && changes && beat > 0 && isLast) {
      const approaches = approachesTo(groundOf(next), following.reading.key, slot.chordScales[0]?.notes ?? []);
      return { ...place, function: 'approach', name: ground, approaches };
    }
    if (beat % 2 === 0) {
      const turnsBack = isLast && beat > 0 && next !== null;
      return { ...place, function: chord.bass === null ? 'root' : 'bass', name: ground, turnsBack };
    }
    // a chord over its own fifth (C7/G) would stand still on it: its root takes the fifth's turn
    const repeats = pitchClassOf(fifth) === pitchClassOf(ground);
    return repeats ? { ...place, function: 'root', name: chord.root } : { ...place, function: 'fifth', name: fifth };
  });
}

/** Every key of the range that sounds as this note. */
function keysOf(name: NoteName): Midi[] {
  const keys: Midi[] = [];
  for (let key = LOWEST_BASS; key <= HIGHEST_BASS; key++) if (key % 12 === pitchClassOf(name)) keys.push(midi(key));
  return keys;
}

function strayCost(key: number): number {
  return COST.strayed * (Math.max(0, HOME_LOW - key) + Math.max(0, key - HOME_HIGH));
}

/** What it costs to go from one pitch to the next; null where it must not be: no pitch comes twice running. */
function motionCost(from: Choice, to: Midi, step: Step): number | null {
  const interval = Math.abs(to - from.midi);
  if (interval === 0) return null;
  if (from.approach !== null && !from.approach.leadsTo(from.midi, to)) return null;
  const secondBefore = from.before?.midi ?? to;
  const noOctave = step.turnsBack && Math.abs(to - secondBefore) !== 12;
  // what leads in by a leap is judged by its kind, not by its size
  const size = from.approach === null ? interval * COST.semitone : 0;
  return size + (interval > 12 ? COST.wide : 0) + (noOctave ? COST.noOctave : 0);
}

/** The pitches a step may have, each with its own cost. */
function openChoices(step: Step, random: RandomSource): Pick<Choice, 'name' | 'midi' | 'approach' | 'cost'>[] {
  if (step.function !== 'approach') {
    return keysOf(step.name).map((key) => ({ name: step.name, midi: key, approach: null, cost: strayCost(key) }));
  }
  return step.approaches.flatMap((approach) => {
    const whim = random.integer(COST.whim + 1);
    return keysOf(approach.name).map((key) => ({
      name: approach.name,
      midi: key,
      approach,
      cost: approach.cost + whim + strayCost(key),
    }));
  });
}

/** The cheapest choice of octaves and approach notes for a stretch without rests, exactly, looking back two notes. */
function cheapestLine(steps: readonly Step[], random: RandomSource): Choice[] {
  let reached: Choice[] = [];
  for (const [index, step] of steps.entries()) {
    const open = openChoices(step, random);
    if (index === 0) {
      reached = open.map((choice) => ({ ...choice, before: null }));
      continue;
    }
    reached = open.flatMap((choice) => {
      /** By the pitch before, which the next step may look at. */
      const best = new Map<Midi, Choice>();
      for (const from of reached) {
        const motion = motionCost(from, choice.midi, step);
        if (motion === null) continue;
        const cost = from.cost + motion + choice.cost;
        const known = best.get(from.midi);
        if (known === undefined || cost < known.cost) best.set(from.midi, { ...choice, cost, before: from });
      }
      return [...best.values()];
    });
  }
  const line: Choice[] = [];
  let last: Choice | null = reached.reduce<Choice | null>(
    (best, each) => (best === null || each.cost < best.cost ? each : best),
    null,
  );
  for (; last !== null; last = last.before) line.push(last);
  return line.reverse();
}

/** Steps that follow each other without a rest. */
function stretchesOf(steps: readonly Step[]): Step[][] {
  const stretches: Step[][] = [];
  let end = Number.NaN;
  for (const step of steps) {
    if (step.startTicks !== end) stretches.push([]);
    stretches.at(-1)?.push(step);
    end = step.startTicks + step.durationTicks;
  }
  return stretches;
}

const WHY: Readonly<Record<BassNote['function'], string>> = {
  root: 'bass.root',
  bass: 'bass.written-bass',
  fifth: 'bass.fifth',
  third: 'bass.third',
  seventh: 'bass.seventh',
  scale: 'bass.scale',
  approach: 'bass.approach',
};

/**
 * A walking bass for the left hand, level 1: the chord's own root and fifth in turn, a note a beat; the last beat before
 * a change approaches the next root by a half step, a scale step or its dominant. Two-beat chords have root and approach,
 * one-beat chords their root; a written bass stands for the root. N.C. rests. No pitch comes twice running: where the root
 * would (R 5 R′ | R in three), it takes the octave. The octaves are the cheapest in motion, found exactly. Common practice.
 * @param random its own named source: the same gives the same line
 * @example walkBass(analysis, randomSource(1, 'bass'))[0]?.function // → 'root'
 */
export function walkBass(analysis: Analysis, random: RandomSource): BassNote[] {
  const steps = analysis.slots.flatMap((_, index) => stepsOfSlot(analysis, index));
  return stretchesOf(steps).flatMap((stretch) =>
    cheapestLine(stretch, random).map((choice, index): BassNote => {
      const step = stretch[index] as Step;
      return {
        slotIndex: step.slotIndex,
        startTicks: step.startTicks,
        durationTicks: step.durationTicks,
        pitch: pitchAt(choice.name, choice.midi),
        function: step.function,
        why: { code: WHY[step.function], args: choice.approach === null ? {} : { by: choice.approach.kind } },
      };
    }),
  );
}
