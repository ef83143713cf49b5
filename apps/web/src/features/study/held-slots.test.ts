import { expect, test } from 'vitest';
import { heldAfter } from './held-slots.ts';
import { lessonOf } from './invented-study.ts';

/** Bar numbers of what goes on after the chord of an index. */
function barsHeld(bars: string, index: number): number[] {
  const { plan } = lessonOf(`key: C minor\n\n${bars}\n`);
  return heldAfter(plan.slots, index).map(({ analysed }) => analysed.played.playedBar.bar.number);
}

// % repeats the bar before it: common practice
test.each([
  ['a bar that is repeated by its sign', '| Cm6 | % | % | Fm7 |', 0, [2, 3]],
  ['from the chosen bar on, not before it', '| Cm6 | % | % | Fm7 |', 1, [3]],
  ['a chord written again', '| Cm6 | Cm6 | Fm7 | Cm6 |', 0, [2]],
  ['a chord held into the next bar', '| Fm7 Bb7 | Bb7 | Cm6 | Cm6 |', 1, [2]],
  ['each chord of a repeated bar in its place', '| Dm7b5 G7 | % | Cm6 | % |', 0, [2]],
  ['not a bar that only begins alike', '| Dm7b5 G7 | Dm7b5 Db7 | Cm6 | % |', 0, []],
  ['not back over a repeat sign', '|: Cm6 | % :|', 1, []],
  ['nothing where the next chord is another', '| Fm7 | Cm6 | % | % |', 0, []],
  ['no silence', '| N.C. | % | Cm6 | % |', 0, []],
])('%s', (_what, bars, index, held) => expect(barsHeld(bars, index)).toEqual(held));

test('there must be such a slot', () => {
  expect(() => heldAfter(lessonOf('| Cm6 |').plan.slots, 7)).toThrow(/^index /u);
});
