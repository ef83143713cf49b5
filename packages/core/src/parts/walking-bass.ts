import type { Analysis, AnalysedSlot, Reason } from '../analysis/index.ts';
import { beatTicksOf } from '../chart/index.ts';
import type { RandomSource } from '../random.ts';
import {
  accidentalsOf,
  degree,
  degreeOnStep,
  formatNoteName,
  noteAbove,
  pitchAt,
  pitchClassOf,
  type Chord,
  type NoteName,
} from '../theory/index.ts';
import { approachesTo } from './approach-note.ts';
import { cheapestBass, type BassStepChoice, type BassStep } from './bass-line.ts';
import type { BassReasonCode } from './bass-reason-words.ts';
import type { BassNote } from './note.ts';
import { walkingTones, type BassLevel, type WalkingTone } from './walking-tones.ts';

/** A tone that nothing else could stand for. */
const UNWEIGHED = { cost: 0, leaving: 'free' } as const;

/** What the left hand plays as the chord's ground: the written bass, else the root. */
function groundOf(chord: Chord): NoteName {
  return chord.bass ?? chord.root;
}

/** The chord's own fifth; where it has none (alt), the flat fifth it implies; a sixth's or power chord's is perfect. */
function fifthOf(chord: Chord): NoteName {
  const own = degreeOnStep(chord, 4);
  if (own !== undefined) return noteAbove(chord.root, own);
  if (!chord.degrees.includes(degree('#11'))) return noteAbove(chord.root, degree('5'));
  const flatFifth = noteAbove(chord.root, degree('b5'));
  // G flat altered walks to C, not to D double flat
  return Math.abs(accidentalsOf(flatFifth)) <= 1 ? flatFifth : noteAbove(chord.root, degree('#11'));
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

/** Root and fifth in turn, the written bass for the root. */
function plainTone(chord: Chord, beat: number): WalkingTone {
  const ground = groundOf(chord);
  const fifth = fifthOf(chord);
  if (beat % 2 === 0) return { name: ground, function: chord.bass === null ? 'root' : 'bass', ...UNWEIGHED };
  // a chord over its own fifth (C7/G) would stand still on it: its root takes the fifth's turn
  const repeats = pitchClassOf(fifth) === pitchClassOf(ground);
  return repeats
    ? { name: chord.root, function: 'root', ...UNWEIGHED }
    : { name: fifth, function: 'fifth', ...UNWEIGHED };
}

function stepsOfSlot(analysis: Analysis, index: number, level: BassLevel): BassStep[] {
  const slot = analysis.slots[index] as AnalysedSlot;
  const { chord } = slot;
  if (chord === null) return [];
  const following = analysis.slots[index + 1];
  const next = following?.chord ?? null;
  const changes = next !== null && next.symbol !== chord.symbol;
  const starts = beatStarts(slot);
  const ground = groundOf(chord);
  return starts.map((startTicks, beat): BassStep => {
    const isLast = beat === starts.length - 1;
    const place = {
      slotIndex: index,
      startTicks,
      durationTicks: (starts[beat + 1] ?? slot.played.endTicks) - startTicks,
      approaches: [],
      turnsBack: false,
      walks: level > 1,
    };
    if (following !== undefined && changes && beat > 0 && isLast) {
      const approaches = approachesTo(groundOf(next), following.reading.key, slot.chordScales[0]?.notes ?? []);
      return { ...place, tones: [], approaches };
    }
    if (beat > 0 && level !== 1) {
      const strength = beat % 2 === 0 ? 'strong' : 'weak';
      return {
        ...place,
        tones: walkingTones(chord, slot.chordScales[0], slot.reading.key, ground, fifthOf(chord), strength, level),
      };
    }
    const turnsBack = level === 1 && beat % 2 === 0 && isLast && beat > 0 && next !== null;
    return { ...place, tones: [plainTone(chord, beat)], turnsBack };
  });
}

/** Steps that follow each other without a rest. */
function stretchesOf(steps: readonly BassStep[]): BassStep[][] {
  const stretches: BassStep[][] = [];
  let end = Number.NaN;
  for (const step of steps) {
    if (step.startTicks !== end) stretches.push([]);
    stretches.at(-1)?.push(step);
    end = step.startTicks + step.durationTicks;
  }
  return stretches;
}

const WHY: Readonly<Record<BassNote['function'], BassReasonCode>> = {
  root: 'bass.root',
  bass: 'bass.written-bass',
  fifth: 'bass.fifth',
  third: 'bass.third',
  seventh: 'bass.seventh',
  scale: 'bass.scale',
  approach: 'bass.approach',
};

/** What a note is for: its name, its chord, and for an approach its kind. */
function reasonOf({ name, function: role, leaving, approach }: BassStepChoice, chord: string): Reason {
  const isChromatic = leaving === 'on up' || leaving === 'on down';
  const args = { note: formatNoteName(name), chord };
  return {
    code: isChromatic ? 'bass.passing' : WHY[role],
    args: approach === null ? args : { ...args, by: approach.kind },
  };
}

/**
 * A walking bass for the left hand, a note a beat. Level 1: the chord's own root and fifth in turn. At every level a chord
 * begins on its root, or its written bass; the last beat before a change approaches the next one by a half step, a scale
 * step or its dominant; two-beat chords have root and approach, one-beat chords their root; N.C. rests; no pitch comes twice
 * running (where the root would, R 5 R′ | R in three, it takes the octave). Level 2 walks in between through chord and
 * chord-scale, chord tones on the strong beats; level 3 also through the half steps between. The line is the cheapest in
 * motion, found exactly. Common practice.
 * @param random its own named source: the same gives the same line
 * @example walkBass(analysis, randomSource(1, 'bass'))[0]?.function // → 'root'
 */
export function walkBass(analysis: Analysis, random: RandomSource, level: BassLevel = 1): BassNote[] {
  const steps = analysis.slots.flatMap((_, index) => stepsOfSlot(analysis, index, level));
  return stretchesOf(steps).flatMap((stretch) =>
    cheapestBass(stretch, random).map((choice, index): BassNote => {
      const step = stretch[index] as BassStep;
      return {
        slotIndex: step.slotIndex,
        startTicks: step.startTicks,
        durationTicks: step.durationTicks,
        pitch: pitchAt(choice.name, choice.midi),
        function: choice.function,
        why: reasonOf(choice, analysis.slots[step.slotIndex]?.chord?.symbol ?? ''),
      };
    }),
  );
}
