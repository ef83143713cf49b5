import { describe, expect, it } from 'vitest';
import { familyIn, USUAL_SHAPES } from '../hand/index.ts';
import { NO_PLAN_PINS, planRoute } from '../plan/index.ts';
import { inventedAnalysis } from '../plan/invented-analysis.ts';
import {
  CHORD_KINDS_BY_SYMBOL,
  degree,
  degreeOnStep,
  midiOf,
  noteAbove,
  pitchClassOf,
  type Chord,
} from '../theory/index.ts';
import { semitonesInStack, stacksOf, type StackedChord } from './arpeggios-stack.ts';
import { arpeggioStudy, stackChord } from './arpeggios.ts';

const ROOTS = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B'];
const BARS = ROOTS.flatMap((root) => CHORD_KINDS_BY_SYMBOL.map(({ suffix }) => `${root}${suffix}`));

/** The chord's own 1 3 5 7 as pitch classes, those it has; a suspended chord's 4 or 2 stands for its third. */
function ownFour(chord: Chord): number[] {
  const third = degreeOnStep(chord, 2) ?? degreeOnStep(chord, 3) ?? degreeOnStep(chord, 1);
  const own = [degree('1'), third, degreeOnStep(chord, 4), degreeOnStep(chord, 6)];
  return own.flatMap((each) => (each === undefined ? [] : [pitchClassOf(noteAbove(chord.root, each))]));
}

/** What a stack breaks, written from the rules: neither from the search nor with its types' helpers. */
function faultsOf(chord: Chord, { stack, runs, top }: StackedChord): string[] {
  const faults: string[] = [];
  const above = semitonesInStack(stack);
  const ends = runs.map((run) => run.from + run.fingers.length);
  if (top < 3) faults.push('ends under the seventh');
  for (const [index, run] of runs.entries()) {
    if (run.from !== (ends[index - 1] ?? 0)) faults.push('has a gap');
    if (run.fingers.length < 2) faults.push('moves for one note');
    if ((run.fingers[0] as number) > 2) faults.push(`comes down on finger ${run.fingers[0]}`);
    if (index > 0 && run.thumbSemitones <= (runs[index - 1]?.thumbSemitones ?? 0))
      faults.push('moves down on the way up');
    for (const [step, finger] of run.fingers.entries()) {
      const semitones = run.thumbSemitones + run.position.shape.steps[finger - 1]!;
      if (semitones !== above[run.from + step]) faults.push(`finger ${finger} lies beside its note`);
      if (step > 0 && finger <= run.fingers[step - 1]!) faults.push('crosses fingers');
    }
  }
  if (stack.onChordRoot) {
    const firstFour = stack.notes.slice(0, 4).map(pitchClassOf);
    if (ownFour(chord).some((each) => !firstFour.includes(each as never)))
      faults.push('lacks a note of its own 1 3 5 7');
  }
  return faults;
}

describe('every chord kind on twelve roots', () => {
  const analysis = inventedAnalysis(BARS.join(' | '), 'C major');

  it('is stacked on its own 1 3 5 7, upwards, in hands that can be joined, out of each usual shape', () => {
    const faults: string[] = [];
    let [onRoot, all] = [0, 0];
    for (const { chord, chordScales } of analysis.slots) {
      const [inside] = chordScales;
      if (chord === null || inside === undefined) continue;
      for (const shape of USUAL_SHAPES) {
        all++;
        const found = stackChord(chord, inside, familyIn(shape, inside.notes));
        const isOwn = stacksOf(chord, inside)[0]?.onChordRoot === true;
        if (isOwn) onRoot++;
        if (isOwn && found?.stack.onChordRoot !== true) faults.push(`${chord.symbol} ${shape.id}: not on its root`);
        if (found !== undefined)
          faults.push(...faultsOf(chord, found).map((each) => `${chord.symbol} ${shape.id}: ${each}`));
      }
    }
    expect(faults).toEqual([]);
    expect(onRoot / all).toBeGreaterThan(0.9);
  });

  it('is left on a note that does not rub', () => {
    const bars = BARS.slice(0, CHORD_KINDS_BY_SYMBOL.length * 2);
    const ownAnalysis = inventedAnalysis(bars.join(' | '), 'C major');
    const plan = planRoute(ownAnalysis, { pins: NO_PLAN_PINS, hand: 'medium', level: 1 });
    const notes = arpeggioStudy(plan);
    const rests = notes.filter((note, index) => notes[index + 1]?.slotIndex !== note.slotIndex);
    const rubbing = rests.filter(({ slotIndex, pitch }) =>
      plan.slots[slotIndex]!.chordScale!.avoid.some(({ note }) => pitchClassOf(note) === pitchClassOf(pitch.name)),
    );
    expect(rubbing.map(({ slotIndex }) => plan.slots[slotIndex]!.analysed.chord!.symbol)).toEqual([]);
    expect(rests.length).toBe(bars.length);
    expect(notes.every((note) => midiOf(note.pitch) <= 93)).toBe(true);
  });
});

describe('chords that were stacked wrongly', () => {
  const firstFourOf = (text: string, key: string): string[] => {
    const analysis = inventedAnalysis(text, key);
    const notes = arpeggioStudy(planRoute(analysis, { pins: NO_PLAN_PINS, hand: 'medium', level: 1 }));
    return analysis.slots.map(({ played }) => {
      const own = notes.filter((note) => note.slotIndex === played.index).slice(0, 4);
      return own.map((note) => pitchClassOf(note.pitch.name)).join(' ');
    });
  };
  // by hand: 1 4 5 ♭7 of C; 1 ♭3 ♭5 𝄫7 of A♭, F♯ and B; 1 ♭3 5 ♭7 of G
  it.each([
    ['C7sus | C7sus | Fmaj7', 'F major', '0 5 7 10'],
    ['Abdim7 | Am7 | D7', 'G major', '8 11 2 5'],
    ['F#dim7 | Gm7 | C7', 'F major', '6 9 0 3'],
    ['Bdim7 | Cm7 | F7', 'Bb major', '11 2 5 8'],
    ['Gm7 | C7 | Fmaj7', 'F major', '7 10 2 5'],
  ])('%s in %s', (text, key, first) => {
    expect(firstFourOf(text, key)[0]).toBe(first);
  });
});
