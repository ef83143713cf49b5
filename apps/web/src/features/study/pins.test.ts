import { NO_ANALYSIS_PINS, NO_PLAN_PINS, parseKey } from '@fivespan/core';
import { describe, expect, it } from 'vitest';
import { isPinned, pinsAt } from './pins.ts';

const name = { slot: 'b1.1', pass: 1 };
const none = { analysis: NO_ANALYSIS_PINS, plan: NO_PLAN_PINS };

describe('pins at a chord', () => {
  it('are those of its slot and pass alone', () => {
    const key = parseKey('Eb major')!;
    const pins = {
      analysis: { regions: [{ ...name, key }], numerals: [{ slot: 'b1.1', pass: 2, numeral: 'V7' }] },
      plan: { chordScales: [{ slot: 'b2.1', pass: 1, chordScale: 'lydian@1' }], positions: [] },
    };
    expect(pinsAt(pins, name)).toEqual({ chordScale: null, position: null, numeral: null, key });
    expect(isPinned(pins, name)).toBe(true);
    expect(isPinned(pins, { slot: 'b3.1', pass: 1 })).toBe(false);
    expect(isPinned(none, name)).toBe(false);
  });
});
