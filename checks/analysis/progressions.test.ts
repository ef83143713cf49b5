/**
 * Published progressions and what they are called. Source: docs/sources.md, 7; each example's own address and
 * mark (R read, C computed there from read data, M from memory) stand beside it. Numerals are compared in our form: lower
 * case for minor thirds, dominants by what they lead to (common practice); where the source prints degrees (III7 VI7 II7 V7) the
 * degrees are compared too.
 */
import { describe, expect, test } from 'vitest';
import {
  analyse,
  formatKey,
  keyIndexOf,
  NO_ANALYSIS_PINS,
  readChart,
  transposeChart,
  usualKeys,
  type Analysis,
  type Chart,
  type Key,
} from '@fivespan/core';

function chartOf(text: string): Chart {
  const chart = readChart(text);
  if (!chart.ok) throw new TypeError(JSON.stringify(chart.issues));
  return chart.value;
}

const numerals = (analysis: Analysis): string => analysis.slots.map((slot) => slot.reading.numeral).join(' ');
const roles = (analysis: Analysis): string[] => analysis.slots.map((slot) => slot.reading.role);
const cadences = (analysis: Analysis): string[] =>
  analysis.cadences.map(
    ({ kind, key, slots }) =>
      `${kind} ${formatKey(key)}: ${slots.map((slot) => analysis.slots[slot]?.chord?.symbol).join(' ')}`,
  );

const PLACES = ['I', 'bII', 'II', 'bIII', 'III', 'IV', 'bV', 'V', 'bVI', 'VI', 'bVII', 'VII'];
/** Degrees as a source prints them: the root's degree, then the suffix. */
const degrees = (analysis: Analysis): string =>
  analysis.slots
    .map(({ chord, reading }) => {
      if (chord === null) return '';
      const place = ((((chord.root - reading.key.tonic) * 7) % 12) + 12) % 12;
      return `${PLACES[place] as string}${chord.suffix}`;
    })
    .join(' ');

/** The chart in its own key and in all twelve of its mode. */
function inTwelveKeys(text: string): Analysis[] {
  const chart = chartOf(text);
  const { key } = analyse(chart, NO_ANALYSIS_PINS);
  return [chart, ...usualKeys(key.mode).map((each: Key) => transposeChart(chart, each, key))].map((each) =>
    analyse(each, NO_ANALYSIS_PINS),
  );
}

interface Example {
  readonly name: string;
  readonly source: string;
  readonly text: string;
  readonly key: string;
  readonly numerals: string;
  /** As printed, where the source prints degrees. */
  readonly degrees?: string;
  /** Figures that must be among those found, in the example's own key. */
  readonly figures: readonly string[];
}

const EXAMPLES: readonly Example[] = [
  {
    name: 'ii–V–I',
    source: 'R memim.com/ii-v-i-turnaround.html',
    text: '| Dm7 | G7 | Cmaj7 | % |',
    key: 'C major',
    numerals: 'iim7 V7 Imaj7 Imaj7',
    figures: ['ii-V-I C major: Dm7 G7 Cmaj7 Cmaj7'],
  },
  {
    name: 'minor ii–V–i, altered',
    source: 'C from R memim.com (IIm7b5 V7alt Im6)',
    text: '| Dm7b5 | G7alt | Cm6 | % |',
    key: 'C minor',
    numerals: 'iim7b5 V7alt im6 im6',
    figures: ['ii-V-I C minor: Dm7b5 G7alt Cm6 Cm6'],
  },
  {
    name: 'minor ii–V–i, flat ninth and thirteenth',
    source: 'C from R memim.com (IIm7b5 V7b9/b13 Im(maj7))',
    text: '| Dm7b5 | G7(b9,b13) | Cm(maj7) | % |',
    key: 'C minor',
    numerals: 'iim7b5 V7(b9,b13) im(maj7) im(maj7)',
    figures: ['ii-V-I C minor: Dm7b5 G7(b9,b13) Cm(maj7) Cm(maj7)'],
  },
  {
    name: 'tritone substitute',
    source: 'R en.m.wikibooks.org Music_Theory/Dominant_substitute',
    text: '| Dm7 | Db7 | Cmaj7 | % |',
    key: 'C major',
    numerals: 'iim7 subV7 Imaj7 Imaj7',
    figures: ['ii-subV-I C major: Dm7 Db7 Cmaj7 Cmaj7'],
  },
  {
    name: 'tritone substitute in triads',
    source: 'R studylib.net/doc/18250500',
    text: '| Cm | B7 | Bb | % |',
    key: 'Bb major',
    numerals: 'iim subV7 I I',
    figures: ['ii-subV-I Bb major: Cm B7 Bb Bb'],
  },
  {
    name: 'backdoor',
    source: 'C from R en.wikipedia.org/wiki/Backdoor_progression (iv7 bVII7 I)',
    text: '| Cmaj7 | Fm7 Bb7 | C | % |',
    key: 'C major',
    numerals: 'Imaj7 ivm7 bVII7 I I',
    figures: ['backdoor C major: Fm7 Bb7 C C'],
  },
  ...(
    [
      ['Cmaj7 Am7 | Dm7 G7', 'Imaj7 vim7 iim7 V7', 'Imaj7 VIm7 IIm7 V7'],
      ['Em7 Am7 | Dm7 G7', 'iiim7 vim7 iim7 V7', 'IIIm7 VIm7 IIm7 V7'],
      ['E7 A7 | D7 G7', 'V7/vi V7/ii V7/V V7', 'III7 VI7 II7 V7'],
      ['Cmaj7 A7 | D7 G7', 'Imaj7 V7/ii V7/V V7', 'Imaj7 VI7 II7 V7'],
    ] as const
  ).map(([changes, expected, printed]): Example => ({
    name: `turnaround ${changes}`,
    source: 'R sussexjazzmag.com tip 22',
    text: `key: C major\n\n| ${changes} |`,
    key: 'C major',
    numerals: expected,
    degrees: printed,
    figures: [`turnaround C major: ${changes.replace('| ', '')}`],
  })),
  {
    name: 'rhythm bridge',
    source: 'R people.uncw.edu/russellr/rhythm.html (III7 VI7 II7 V7)',
    text: 'key: Bb major\n\n| D7 | % | G7 | % | C7 | % | F7 | % |',
    key: 'Bb major',
    numerals: 'V7/vi V7/vi V7/ii V7/ii V7/V V7/V V7 V7',
    degrees: 'III7 III7 VI7 VI7 II7 II7 V7 V7',
    figures: [
      'rhythm bridge Bb major: D7 D7 G7 G7 C7 C7 F7 F7',
      'extended dominants Bb major: D7 D7 G7 G7 C7 C7 F7 F7',
    ],
  },
  {
    name: 'blues',
    source: 'R gh:openmusictheory/openmusictheory.github.io (I I I I | IV IV I I | V IV I I)',
    text: '| F7 | F7 | F7 | F7 | Bb7 | Bb7 | F7 | F7 | C7 | Bb7 | F7 | F7 |',
    key: 'F major',
    numerals: 'I7 I7 I7 I7 IV7 IV7 I7 I7 V7 IV7 I7 I7',
    figures: ['blues F major: F7 F7 F7 F7 Bb7 Bb7 F7 F7 C7 Bb7 F7 F7'],
  },
  {
    name: 'bebop blues',
    source: 'R freedocs.xyz/pdf-613087495',
    text: '| F7 | Bb7 | F7 | Cm7 F7 | Bb7 | Bdim | F7 | Am7b5 D7(b9) | Gm7 | C7 | Am7 D7 | Gm7 C7 |',
    key: 'F major',
    numerals: 'I7 IV7 I7 iim7/IV V7/IV IV7 #ivdim I7 iim7b5/ii V7(b9)/ii iim7 V7 iiim7 V7/ii iim7 V7',
    figures: [
      'blues F major: F7 Bb7 F7 Cm7 F7 Bb7 Bdim F7 Am7b5 D7(b9) Gm7 C7 Am7 D7 Gm7 C7',
      'ii-V Bb major: Cm7 F7',
      'diminished passing F major: Bb7 Bdim F7',
      'ii-V-I G minor: Am7b5 D7(b9) Gm7',
      'turnaround F major: Am7 D7 Gm7 C7',
    ],
  },
];

describe.each(EXAMPLES)('$name ($source)', (example) => {
  test('key, numerals and figures as published', () => {
    const analysis = analyse(chartOf(example.text), NO_ANALYSIS_PINS);
    expect(formatKey(analysis.key)).toBe(example.key);
    expect(numerals(analysis)).toBe(example.numerals);
    if (example.degrees !== undefined) expect(degrees(analysis)).toBe(example.degrees);
    expect(cadences(analysis)).toEqual(expect.arrayContaining([...example.figures]));
  });

  test('the same in twelve keys', () => {
    const [first, ...others] = inTwelveKeys(example.text);
    for (const other of others) {
      expect(keyIndexOf(other.key)).toBe(keyIndexOf(other.chart.key ?? other.keyFound));
      expect(numerals(other)).toBe(example.numerals);
      expect(other.cadences.map(({ kind, slots }) => [kind, slots])).toEqual(
        first?.cadences.map(({ kind, slots }) => [kind, slots]),
      );
    }
  });
});

describe('rhythm changes (R people.uncw.edu/russellr/rhythm.html)', () => {
  const a = '| Bb Gm | Cm F7 | Bb Gm | Cm F7 | Bb Bb7 | Eb Ebm | Bb F7 | Bb |';
  const bridge = '| D7 | % | G7 | % | C7 | % | F7 | % |';
  const analysis = analyse(chartOf([a, a, bridge, a].join('\n')), NO_ANALYSIS_PINS);

  test('the key, the numerals of the A and the whole form', () => {
    expect(formatKey(analysis.key)).toBe('Bb major');
    expect(analysis.regions.length).toBe(1);
    const first = analysis.slots.slice(0, 15).map((slot) => slot.reading.numeral);
    expect(first.join(' ')).toBe('I vim iim V7 I vim iim V7 I V7/IV IV ivm I V7 I');
    const kinds = analysis.cadences.map(({ kind }) => kind);
    expect(kinds.filter((kind) => kind === 'rhythm form').length).toBe(1);
    expect(kinds.filter((kind) => kind === 'rhythm bridge').length).toBe(1);
    expect(kinds.filter((kind) => kind === 'turnaround').length).toBeGreaterThanOrEqual(6);
  });

  test('each dominant of the bridge leads to the next', () => {
    const roleSet = new Set(roles(analysis).slice(30, 36));
    expect(roleSet).toEqual(new Set(['applied dominant']));
  });
});

describe('a flat VII7 is no tritone substitute (R en.wikipedia.org/wiki/Backdoor_progression)', () => {
  test('its role is its own', () => {
    const backdoor = analyse(chartOf('| Cmaj7 | Fm7 Bb7 | C | % |'), NO_ANALYSIS_PINS);
    expect(roles(backdoor)).toEqual(['tonic', 'backdoor predominant', 'backdoor dominant', 'tonic', 'tonic']);
    const substitute = analyse(chartOf('| Dm7 | Db7 | Cmaj7 | % |'), NO_ANALYSIS_PINS);
    expect(roles(substitute)).toEqual(['predominant', 'substitute dominant', 'tonic', 'tonic']);
  });
});
