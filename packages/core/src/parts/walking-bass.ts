import type { Analysis, AnalysedSlot, Reason } from '../analysis/index.ts';
import { beatTicksOf, type PlayedSlot } from '../chart/index.ts';
import type { RandomSource } from '../random.ts';
import {
  accidentalsOf,
  asKept,
  degree,
  degreeOnStep,
  formatNoteName,
  keptNames,
  ownNames,
  noteAbove,
  pitchAt,
  pitchClassOf,
  type Chord,
  type Key,
  type Midi,
  type NoteName,
} from '../theory/index.ts';
import { approachesTo, contradictsThird, type Approach } from './approach-note.ts';
import type { BassStep, BassStepChoice } from './bass-line.ts';
import { pulsesOf, usualFeel } from './bass-pulse.ts';
import type { BassReasonCode } from './bass-reason-words.ts';
import { breakTime, pedalsOf } from './broken-time.ts';
import { figuresOf, freshBass, type BarFigure } from './fresh-bass.ts';
import type { BassChoice, BassFeel, BassNote } from './note.ts';
import type { AboveNote } from './under-line.ts';
import { walkingTones, type BassLevel, type WalkingTone } from './walking-tones.ts';

/** A tone that nothing else could stand for. */
const UNWEIGHED = { cost: 0, leaving: 'free' } as const;

/** An enclosure beside a chord tone; our own, so that it comes now and then. */
const ENCLOSURE_COST = 7;

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

/** The root that ends the line, from its fifth: R 5 R, and over an even number of notes R R′ 5 R. */
function closingTone(chord: Chord, place: number, count: number): WalkingTone {
  const fromEnd = count - 1 - place;
  if (fromEnd === 0 || place === 0 || (place === 1 && count % 2 === 0)) return plainTone(chord, 0);
  return plainTone(chord, fromEnd);
}

/** Notes on the far side of the goal, before a half step from the other: F♯ or E♭ and D♭ around D. Common practice. */
function enclosures(goal: NoteName, key: Key, scale: readonly NoteName[]): WalkingTone[] {
  return approachesTo(goal, key, scale)
    .filter(({ kind }) => kind !== 'dominant')
    .map(({ name, kind }) => ({
      name,
      function: 'enclosure',
      cost: ENCLOSURE_COST,
      leaving: kind.endsWith('above') ? 'around down' : 'around up',
    }));
}

/** What an eighth before a long note may be inside a chord: root or fifth, from level 2 any chord tone. */
function pickUpTones({ chordScales, reading }: AnalysedSlot, chord: Chord, level: BassLevel): WalkingTone[] {
  if (level === 1) return [plainTone(chord, 0), plainTone(chord, 1)];
  return walkingTones(chord, chordScales[0], reading.key, groundOf(chord), fifthOf(chord), 'strong', level);
}

interface SlotSteps {
  readonly analysis: Analysis;
  readonly index: number;
  readonly level: BassLevel;
  readonly feel: BassFeel;
  /** Slots under which a pedal point lies, with its note. */
  readonly pedals: ReadonlyMap<number, NoteName>;
}

function stepsOfSlot({ analysis, index, level, feel, pedals }: SlotSteps): BassStep[] {
  const slot = analysis.slots[index] as AnalysedSlot;
  const { chord } = slot;
  if (chord === null) return [];
  const following = analysis.slots[index + 1];
  const next = following?.chord ?? null;
  const changes = next !== null && next.symbol !== chord.symbol;
  const pedal = pedals.get(index);
  const goal = next === null ? null : (pedals.get(index + 1) ?? groundOf(next));
  const starts = pulsesOf(slot.played, feel, changes);
  const ground = groundOf(chord);
  const scale = slot.chordScales[0]?.notes ?? [];
  const { playedBar } = slot.played;
  return starts.map((startTicks, beat): BassStep => {
    const isLast = beat === starts.length - 1;
    const place = {
      slotIndex: index,
      startTicks,
      durationTicks: (starts[beat + 1] ?? slot.played.endTicks) - startTicks,
      approaches: [],
      turnsBack: false,
      isPedal: pedal !== undefined,
      walks: level > 1,
      leaps: level > 2,
    };
    const staysOnPedal = pedal !== undefined && pedals.get(index + 1) === pedal;
    if (following !== undefined && goal !== null && changes && beat > 0 && isLast && !staysOnPedal)
      return { ...place, isPedal: false, tones: [], approaches: leadingInto(goal, following, scale, chord) };
    if (pedal !== undefined) return { ...place, tones: [{ name: pedal, function: 'pedal', ...UNWEIGHED }] };
    if (feel === 'even' && !(following === undefined && isLast)) {
      const isLong = (at: number): boolean => (at - playedBar.startTicks) % beatTicksOf(playedBar.bar.meter) === 0;
      const order = starts.slice(0, beat).filter(isLong).length;
      // a chord that comes in off the beat begins on its root too
      const tones = beat === 0 || isLong(startTicks) ? [plainTone(chord, order)] : pickUpTones(slot, chord, level);
      return { ...place, tones };
    }
    if (following === undefined) {
      if (isLast || level === 1) return { ...place, tones: [closingTone(chord, beat, starts.length)] };
    }
    if (beat > 0 && level !== 1) {
      const isBar = (startTicks - playedBar.startTicks) % playedBar.bar.durationTicks === 0;
      const strength = isBar ? 'first' : beat % 2 === 0 ? 'strong' : 'weak';
      const tones = walkingTones(chord, slot.chordScales[0], slot.reading.key, ground, fifthOf(chord), strength, level);
      const around =
        level >= 3 && changes && goal !== null && beat === starts.length - 2 && following !== undefined
          ? enclosures(goal, following.reading.key, scale).filter(({ name }) => !contradictsThird(chord, name))
          : [];
      return { ...place, tones: [...tones, ...around] };
    }
    const turnsBack = level === 1 && beat % 2 === 0 && isLast && beat > 0 && next !== null;
    return { ...place, tones: [plainTone(chord, beat)], turnsBack };
  });
}

function leadingInto(goal: NoteName, { reading }: AnalysedSlot, scale: readonly NoteName[], chord: Chord): Approach[] {
  return approachesTo(goal, reading.key, scale, chord);
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
  enclosure: 'bass.enclosure',
  approach: 'bass.approach',
  pedal: 'bass.pedal',
  skip: 'bass.skip',
  drop: 'bass.drop',
};

/**
 * What a note is called over its chord: a chord tone keeps the chord's letters, whatever it leads to; a written bass is as
 * written. What leads on is no ♯9 and no tritone of the chord it leaves: over C7 G♭ falls into F.
 */
function nameOfNote({ name, function: role }: BassStepChoice, { chord, chordScales, reading }: AnalysedSlot): NoteName {
  if (chord === null || role === 'bass') return name;
  const own = ownNames(chord, reading.key);
  if (role === 'approach' || role === 'enclosure') return asKept(name, own);
  return asKept(name, chordScales[0]?.kept ?? keptNames(chord, reading.key, null));
}

/** What a note is for: its name, its chord, and for an approach its kind. */
function reasonOf({ function: role, leaving, approach }: BassStepChoice, name: NoteName, chord: string): Reason {
  const isChromatic = leaving === 'on up' || leaving === 'on down';
  const args = { note: formatNoteName(name), chord };
  return {
    code: isChromatic ? 'bass.passing' : WHY[role],
    args: approach === null ? args : { ...args, by: approach.kind },
  };
}

/** How a bass walks; see BassChoice. */
export interface BassOptions extends BassChoice {
  readonly level: BassLevel;
  /** The key that was struck just before, in the chorus before this one; null where nothing was. */
  readonly after: Midi | null;
  /** The figures of the last two bars before, which are not heard a third time; none where nothing was. */
  readonly heard: readonly BarFigure[];
  /** The line it goes under, in time order; none where it walks alone. */
  readonly line: readonly AboveNote[];
}

const PLAIN: BassOptions = { level: 1, feel: null, range: 'left hand', after: null, heard: [], line: [] };

/**
 * A walking bass. Level 1: root and fifth in turn; 2: chord tones; 3: scale and chromatic passing notes, and the next root enclosed; 4: as
 * well pedal points, triplet drops and broken time. At every level a chord begins on its root, or its written bass; the last note
 * before a change approaches the next one by a half step, a scale step or its dominant, never as the other third of the
 * chord it leaves, unless it ends a chromatic climb; N.C. rests; no pitch comes twice running, no bar's figure three times; the last
 * note is the root. Under a line it keeps clear of minor ninths and doubled notes (under-line.ts). Feel says where notes fall (bass-pulse.ts). The line is the cheapest in motion. Common practice.
 * @param random its own named source: the same gives the same line
 * @example walkBass(analysis, randomSource(1, 'bass'))[0]?.function // → 'root'
 */
export function walkBass(analysis: Analysis, random: RandomSource, options: Partial<BassOptions> = {}): BassNote[] {
  const { level, feel: chosen, range, after, heard, line: above } = { ...PLAIN, ...options };
  const { slots } = analysis;
  const feel = chosen ?? usualFeel(analysis.chart);
  const pedals = level === 4 ? pedalsOf(analysis, random) : new Map<number, NoteName>();
  const steps = slots.flatMap((_, index) => stepsOfSlot({ analysis, index, level, feel, pedals }));
  const playedOf = ({ slotIndex }: BassStep): PlayedSlot => (slots[slotIndex] as AnalysedSlot).played;
  const line: BassNote[] = [];
  for (const [place, stretch] of stretchesOf(steps).entries()) {
    const bounds = { range, after: place === 0 ? after : null };
    const before = [...heard, ...figuresOf(slots, line)].slice(-3);
    const choices = freshBass({ steps: stretch, playedOf, random, bounds, line: above, heard: before });
    for (const [index, choice] of choices.entries()) {
      const step = stretch[index] as BassStep;
      const slot = slots[step.slotIndex] as AnalysedSlot;
      const name = nameOfNote(choice, slot);
      line.push({
        slotIndex: step.slotIndex,
        startTicks: step.startTicks,
        durationTicks: step.durationTicks,
        pitch: pitchAt(name, choice.midi),
        function: choice.function,
        why: reasonOf(choice, name, slot.chord?.symbol ?? ''),
      });
    }
  }
  return level === 4 && feel === 'four' ? breakTime(analysis, line, range, random) : line;
}
