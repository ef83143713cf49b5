import { describe, expect, it } from 'vitest';
import { analyse, NO_ANALYSIS_PINS, type Analysis } from '../analysis/index.ts';
import { readChart } from '../chart/index.ts';
import { ALL_SHAPES, maskOf } from '../hand/index.ts';
import { messageOf } from '../issue/index.ts';
import { transposeSet } from '../theory/index.ts';
import { inventedAnalysis } from './invented-analysis.ts';
import { planPinIssues } from './pin-issues.ts';
import { pinsOf } from './pinned.ts';
import { NO_PLAN_PINS, type PlanPins } from './plan.ts';
import { planRoute, type RouteOptions } from './route.ts';

const PLAIN: RouteOptions = { pins: NO_PLAN_PINS, hand: 'medium', level: 1 };
const slotId = (analysis: Analysis, index: number): string => analysis.slots[index]!.played.slot.id;

describe('a pin that no longer fits', () => {
  // the chord under the pin was C+7 (C whole-tone: C D E F♯ G♯) and is Gm7 now: G Dorian has no F♯ and no G♯
  const analysis = inventedAnalysis('Gm7 | C7 | Fmaj7', 'F major');
  const slot = slotId(analysis, 0);
  const pinned = { ...NO_PLAN_PINS, positions: [{ slot, pass: 1, shape: '0-2-4-6-8', thumbMidi: 60 }] };

  it('is told with its bar, in words for a musician, and passed over', () => {
    const issues = planPinIssues(analysis, pinned, 'medium');
    expect(issues).toMatchObject([{ code: 'plan.pin-fit', place: { bar: 1 } }]);
    expect(messageOf(issues[0]!)).toMatch(/thumb on C.* does not fit Gm7/u);
    expect(planRoute(analysis, { ...PLAIN, pins: pinned })).toEqual(planRoute(analysis, PLAIN));
  });

  it('is told where it lies outside a chord-scale pinned at the same chord', () => {
    const positions = [{ slot: slotId(analysis, 1), pass: 1, shape: 'minor-pentatonic', thumbMidi: 67 }];
    const chordScales = [{ slot: slotId(analysis, 1), pass: 1, chordScale: 'altered@1' }];
    expect(planPinIssues(analysis, { ...NO_PLAN_PINS, positions }, 'medium')).toEqual([]);
    const both = { ...NO_PLAN_PINS, chordScales, positions };
    expect(planPinIssues(analysis, both, 'medium')).toMatchObject([{ code: 'plan.pin-fit', args: { thumb: 'G' } }]);
    expect(planRoute(analysis, { ...PLAIN, pins: both }).slots[1]!.chordScale!.name).toBe('altered');
  });

  it('never stops a plan: all 330 shapes at all twelve thumbs are obeyed or told', () => {
    const kept = analysis.slots[0]!.chordScales;
    let [obeyed, told] = [0, 0];
    for (const shape of ALL_SHAPES) {
      for (let thumbMidi = 60; thumbMidi < 72; thumbMidi++) {
        const pins = { ...NO_PLAN_PINS, positions: [{ slot, pass: 1, shape: shape.id, thumbMidi }] };
        const issues = planPinIssues(analysis, pins, 'large').map((each) => each.code);
        const set = transposeSet(maskOf(shape), thumbMidi);
        const isHeld = kept.some((each) => (set & ~each.set) === 0);
        expect(issues.includes('plan.pin-fit')).toBe(!isHeld);
        expect(pinsOf(analysis.slots[0]!, pins).place !== null).toBe(isHeld);
        if ((obeyed + told) % 40 === 0) expect(() => planRoute(analysis, { ...PLAIN, pins })).not.toThrow();
        if (isHeld) obeyed++;
        else told++;
      }
    }
    expect([obeyed > 0, told > 0, obeyed + told]).toEqual([true, true, 3960]);
  });
});

describe('a pin of one time through', () => {
  it('is obeyed that time and no other', () => {
    const chart = readChart('key: F major\nmeter: 4/4\n|: Gm7 | C7 | Fmaj7 | Fmaj7 :|\n');
    if (!chart.ok) throw new TypeError('the chart must be read');
    const analysis = analyse(chart.value, NO_ANALYSIS_PINS);
    const [first, second] = [analysis.slots[0]!, analysis.slots[4]!];
    expect(second.played.slot.id).toBe(first.played.slot.id);
    const pin = { slot: first.played.slot.id, pass: 2 };
    const thumbs = (pins: PlanPins) => {
      const { slots } = planRoute(analysis, { ...PLAIN, pins });
      return [slots[0]!, slots[4]!].map((each) => [each.chordScale!.id, each.position!.shape.id, each.thumbMidi]);
    };
    const [usual] = thumbs(NO_PLAN_PINS);
    const position = { ...pin, shape: 'minor-pentatonic', thumbMidi: 74 };
    expect(usual).not.toEqual(['dorian@1', 'minor-pentatonic', 74]);
    expect(thumbs({ ...NO_PLAN_PINS, positions: [position] })).toEqual([usual, ['dorian@1', 'minor-pentatonic', 74]]);
    const other = first.chordScales[1]!.id;
    const scales = thumbs({ ...NO_PLAN_PINS, chordScales: [{ ...pin, chordScale: other }] });
    expect(scales.map(([id]) => id)).toEqual(['dorian@1', other]);
  });
});
