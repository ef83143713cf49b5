import { describe, expect, it } from 'vitest';
import { analyse, NO_ANALYSIS_PINS, type Analysis } from '../analysis/index.ts';
import { readChart, transposeChart } from '../chart/index.ts';
import { accidentalsOf, formatNoteName, parseKey, pitchClassOf, type Key } from '../theory/index.ts';
import { inventedAnalysis } from './invented-analysis.ts';
import { NO_PLAN_PINS, type Plan, type PlanPins, type PlannedSlot } from './plan.ts';
import { choicesOfAnalysis, findRoute, planRoute, type RouteOptions } from './route.ts';

// Source: common practice. One scale, the tonic's, is over I7, IV7 and V7 of a blues; the hand plays it as minor pentatonic on
// the tonic and, for the flat fifth, as the five fingers 1 b3 4 b5 5.

const TWELVE_BARS = 'F7 | Bb7 | F7 | F7 | Bb7 | Bb7 | F7 | D7 | Gm7 | C7 | F7 | C7';
const PLAIN: RouteOptions = { pins: NO_PLAN_PINS, hand: 'medium', level: 1 };

const isBlues = ({ chordScale }: PlannedSlot): boolean => chordScale?.scale.kind.family === 'blues';
const notesOf = ({ position }: PlannedSlot): string => position!.notes.map(formatNoteName).join(' ');

/** The blues scale pinned wherever a ladder has it second. */
function pinnedBlues({ slots }: Analysis): PlanPins {
  const chordScales = slots.flatMap(({ chordScales: [, second], played }) =>
    second?.scale.kind.family === 'blues'
      ? [{ slot: played.slot.id, pass: played.playedBar.pass, chordScale: second.id }]
      : [],
  );
  return { ...NO_PLAN_PINS, chordScales };
}

const inKey = (key: Key): Analysis => {
  const chart = readChart(`key: F major\n| ${TWELVE_BARS} |\n`);
  if (!chart.ok) throw new TypeError(JSON.stringify(chart.issues));
  return analyse(transposeChart(chart.value, key), NO_ANALYSIS_PINS);
};

describe('the blues scale under the hand', () => {
  it('pinned over I7, IV7 and V7 gives its two hands on the tonic', () => {
    const analysis = inventedAnalysis(TWELVE_BARS, 'F major');
    const pins = pinnedBlues(analysis);
    const plan = planRoute(analysis, { ...PLAIN, pins });
    const over = plan.slots.filter(isBlues);
    expect(over.map(({ analysed }) => analysed.chord!.symbol)).toEqual(
      TWELVE_BARS.split(' | ').filter((each) => ['F7', 'Bb7', 'C7'].includes(each)),
    );
    expect(new Set(over.map(notesOf))).toEqual(new Set(['F Ab Bb C Eb', 'F Ab Bb Cb C']));
    // what the teacher may take instead, over each of the three
    const choices = choicesOfAnalysis(analysis, { ...PLAIN, pins });
    for (const index of [0, 1, 9]) {
      expect(new Set(choices[index]!.map(({ position }) => position.shape.name))).toEqual(
        new Set(['minor pentatonic', 'blues five-finger']),
      );
    }
  });

  it('keeps either hand where a teacher puts it', () => {
    const analysis = inventedAnalysis(TWELVE_BARS, 'F major');
    const at = (index: number, shape: string) => ({
      slot: analysis.slots[index]!.played.slot.id,
      pass: 1,
      shape,
      thumbMidi: 65,
    });
    const positions = [at(0, 'minor-pentatonic'), at(1, 'blues-five-finger'), at(9, 'blues-five-finger')];
    const { slots } = planRoute(analysis, { ...PLAIN, pins: { ...NO_PLAN_PINS, positions } });
    expect([0, 1, 9].map((index) => notesOf(slots[index]!))).toEqual(['F Ab Bb C Eb', 'F Ab Bb Cb C', 'F Ab Bb Cb C']);
    expect([0, 1, 9].map((index) => slots[index]!.chordScale!.name)).toEqual(['blues', 'blues', 'blues']);
  });

  it.each(['C', 'Db', 'Gb', 'B'])('lies alike in %s major', (name) => {
    const key = parseKey(`${name} major`)!;
    const analysis = inKey(key);
    const tonic = pitchClassOf(key.tonic);
    const pinned = planRoute(analysis, { ...PLAIN, pins: pinnedBlues(analysis) });
    for (const plan of [pinned, planRoute(analysis, { ...PLAIN, level: 2 })]) {
      const over = plan.slots.filter(isBlues);
      expect(over.length).toBeGreaterThan(0);
      for (const { position, chordScale } of over) {
        expect(pitchClassOf(position!.thumb)).toBe(tonic);
        const others = position!.notes.filter((each) => !chordScale!.kept.includes(each));
        expect(others.map((each) => Math.abs(accidentalsOf(each)))).not.toContain(2);
      }
    }
  });
});

describe('the route through a blues', () => {
  const bluesIn = ({ slots }: Plan): string[] => slots.filter(isBlues).map(({ analysed }) => analysed.reading.numeral);

  it('takes its scale where outsideness is wished, over I7, IV7 and V7 only', () => {
    const analysis = inventedAnalysis(TWELVE_BARS, 'F major');
    expect(bluesIn(planRoute(analysis, PLAIN))).toEqual([]);
    expect(bluesIn(planRoute(analysis, { ...PLAIN, level: 2 })).length).toBeGreaterThan(0);
    const curve = analysis.slots.map(() => 1);
    const taken = new Set(bluesIn(planRoute(analysis, { ...PLAIN, curve })));
    for (const numeral of taken) expect(['I7', 'IV7', 'V7', 'V7/IV']).toContain(numeral);
    expect(taken.size).toBeGreaterThanOrEqual(3);
  });

  it('leaves it to the blues: no other I7 or V7 takes it', () => {
    const tune = inventedAnalysis('Dm7 | G7 | C7 | C7 | Dm7 | G7 | Cmaj7 | C7', 'C major');
    const curve = tune.slots.map(() => 1);
    expect(bluesIn(planRoute(tune, { ...PLAIN, curve }))).toEqual([]);
  });

  it('moves between its two hands on one thumb rather than stay for ever', () => {
    const analysis = inventedAnalysis(TWELVE_BARS, 'F major');
    const { steps } = findRoute(analysis, { ...PLAIN, pins: pinnedBlues(analysis) }, 'chord');
    const first = steps.slice(0, 7);
    expect(new Set(first.map(({ thumbMidi }) => thumbMidi)).size).toBe(1);
    expect(new Set(first.map(({ position }) => position.shape.name)).size).toBe(2);
  });
});
