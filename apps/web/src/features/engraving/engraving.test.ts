import fc from 'fast-check';
import { expect, it } from 'vitest';
import { stretchesOfBars } from './engraving.ts';

it('stretches hold every bar once, none too long, cut at sections where there is one in reach', () => {
  const bars = fc.array(fc.record({ section: fc.option(fc.constant('A'), { freq: 8 }) }), { maxLength: 200 });
  fc.assert(
    fc.property(bars, (all) => {
      const stretches = stretchesOfBars(all);
      expect(stretches.flatMap(({ from, to }) => all.slice(from, to))).toEqual(all);
      for (const { from, to } of stretches) {
        expect(to).toBeGreaterThan(from);
        expect(to - from).toBeLessThanOrEqual(24);
        const hasSection = all.slice(from + 1, from + 25).some(({ section }) => section !== null);
        if (to < all.length && hasSection) expect(all[to]?.section).toBe('A');
      }
    }),
    { seed: 3, numRuns: 200 },
  );
});
