/** Charts nobody plays, for tests: text made from a form whose playing order is known by construction. */
import fc from 'fast-check';

/** A stretch of a form: bars played once, or a repeat with or without endings. */
interface Stretch {
  readonly bodyBars: number;
  /** 1: no repeat. */
  readonly times: number;
  /** Bars of each ending; empty for none. Ending n is for pass n, the last for all that are left. */
  readonly endingBars: readonly number[];
}

export interface InventedChart {
  readonly text: string;
  /** Numbers of the bars in the order they are played. */
  readonly played: readonly number[];
  readonly barCount: number;
}

const CHORDS = 'Fm7 Bb7 Ebmaj7 Am7b5 D7(b9,b13) Gm6 C7alt F#dim7 Db7(#11)/Cb N.C. C6/9 E+7 A9sus'.split(' ');

const chord = fc.constantFrom(...CHORDS);
const cell = fc.oneof(
  chord,
  fc.constant('/'),
  fc.tuple(chord, chord).map((both) => both.join('&')),
  chord.map((each) => `/&${each}`),
  chord.map((each) => `${each}&/&${each}`),
);
/** The chords of a bar in four; a lone `/` only after a chord. */
const bar = fc.oneof(
  chord,
  fc.tuple(chord, chord).map((cells) => cells.join(' ')),
  fc.tuple(chord, cell, cell, cell).map((cells) => cells.join(' ')),
);

const stretch = fc.oneof(
  fc.record({ bodyBars: fc.integer({ min: 1, max: 4 }), times: fc.constant(1), endingBars: fc.constant<number[]>([]) }),
  fc.record({
    bodyBars: fc.integer({ min: 1, max: 3 }),
    times: fc.integer({ min: 2, max: 4 }),
    endingBars: fc.constant<number[]>([]),
  }),
  fc.array(fc.integer({ min: 1, max: 2 }), { minLength: 2, maxLength: 4 }).chain((endingBars) =>
    fc.record({
      bodyBars: fc.integer({ min: 1, max: 3 }),
      times: fc.constant(endingBars.length),
      endingBars: fc.constant(endingBars),
    }),
  ),
);

function textAndOrder(
  stretches: readonly Stretch[],
  bars: readonly string[],
  options: { readonly pickup: boolean; readonly jump: 'none' | 'end' | 'fine' },
): InventedChart {
  let next = options.pickup ? 0 : 1;
  let text = options.pickup ? 'pickup: 2\n| Bb7 ' : '';
  const played: number[] = [];
  const returning: number[] = [];
  if (options.pickup) played.push(next++);
  let fineAt: number | null = null;
  const write = (count: number): number[] => {
    const numbers: number[] = [];
    for (let index = 0; index < count; index++) {
      text += `| ${bars[next % bars.length]} `;
      numbers.push(next++);
    }
    return numbers;
  };
  for (const { bodyBars, times, endingBars } of stretches) {
    if (times === 1) {
      const body = write(bodyBars);
      if (options.jump === 'fine' && fineAt === null) {
        text += 'fine ';
        fineAt = body.at(-1) as number;
      }
      played.push(...body);
      returning.push(...body);
      continue;
    }
    text += '|:';
    const start = text.length;
    const body = write(bodyBars);
    text = text.slice(0, start) + text.slice(start + 1);
    const endings = endingBars.map((count, index) => {
      text += `|${index + 1}. `;
      const at = text.length;
      const ending = write(count);
      text = text.slice(0, at) + text.slice(at + 2) + (index + 1 < endingBars.length ? ':' : '|');
      return ending;
    });
    if (endings.length === 0) text += times === 2 ? ':|\n' : `:|x${times}\n`;
    for (let pass = 1; pass <= times; pass++) played.push(...body, ...(endings[pass - 1] ?? []));
    returning.push(...body, ...(endings.at(-1) ?? []));
  }
  const last = write(1);
  played.push(...last);
  returning.push(...last);
  if (options.jump !== 'none' && !(options.jump === 'fine' && fineAt === null)) {
    text += options.jump === 'fine' ? 'D.C. al fine ' : 'D.C. ';
    const end = fineAt === null ? returning.length : returning.indexOf(fineAt) + 1;
    played.push(...returning.slice(0, end));
  }
  return { text: `${text}|\n`, played, barCount: next - (options.pickup ? 0 : 1) };
}

/** Charts in four with repeats, endings, a pickup and a jump, together with the order their bars are played in. */
export const inventedChart: fc.Arbitrary<InventedChart> = fc
  .record({
    stretches: fc.array(stretch, { minLength: 1, maxLength: 6 }),
    bars: fc.array(bar, { minLength: 3, maxLength: 9 }),
    pickup: fc.boolean(),
    jump: fc.constantFrom('none' as const, 'end' as const, 'fine' as const),
  })
  .map(({ stretches, bars, ...options }) => textAndOrder(stretches, bars, options));
