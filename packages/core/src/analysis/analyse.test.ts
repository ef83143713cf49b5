import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readChart, transposeChart, type Chart } from '../chart/index.ts';
import { formatKey, formatNoteName, parseKey, usualKey, type Key, type PitchClass } from '../theory/index.ts';
import { analyse, rankedKeys } from './analyse.ts';
import { NO_ANALYSIS_PINS, type Analysis, type AnalysisPins } from './analysis.ts';
import { wordsOfReason } from './reasons.ts';

function chartOf(text: string): Chart {
  const chart = readChart(text);
  if (!chart.ok) throw new TypeError(JSON.stringify(chart.issues));
  return chart.value;
}

const read = (text: string, pins: AnalysisPins = NO_ANALYSIS_PINS): Analysis => analyse(chartOf(text), pins);
const numerals = (analysis: Analysis): string => analysis.slots.map((slot) => slot.reading.numeral).join(' ');
const keys = (analysis: Analysis): string[] =>
  analysis.regions.map(({ key, fromSlot, toSlot }) => `${formatKey(key)} ${fromSlot}-${toSlot}`);
/** Figures as `kind in key: chords`. */
const figures = (analysis: Analysis, kind: string): string[] =>
  analysis.cadences
    .filter((each) => each.kind === kind)
    .map(
      ({ key, slots }) => `${formatKey(key)}: ${slots.map((slot) => analysis.slots[slot]?.chord?.symbol).join(' ')}`,
    );

describe('keys', () => {
  test('a stated key is obeyed, the found one is told all the same', () => {
    const analysis = read('key: G major\n\n| Dm7 | G7 | Cmaj7 | Cmaj7 |');
    expect([formatKey(analysis.key), formatKey(analysis.keyFound)]).toEqual(['G major', 'C major']);
  });

  test('a stated key keeps its spelling', () => {
    expect(formatKey(read('key: C# major\n\n| C#maj7 | D#m7 G#7 | C#maj7 |').key)).toBe('C# major');
    expect(formatKey(read('| F#maj7 | G#m7 C#7 | F#maj7 |').keyFound)).toBe('F# major');
    expect(formatKey(read('| Gbmaj7 | Abm7 Db7 | Gbmaj7 |').keyFound)).toBe('Gb major');
  });

  test('a stretch with its own cadence and its own I is a region, spelled as the chart spells it', () => {
    const analysis = read('| Bbmaj7 | % | Cm7 | F7 | C#m7 | F#7 | Bmaj7 | % | Cm7 | F7 | Bbmaj7 | % |');
    expect(keys(analysis)).toEqual(['Bb major 0-4', 'B major 4-8', 'Bb major 8-12']);
  });

  test('a region is spelled as the chart writes its tonic', () => {
    const analysis = read('| Ebmaj7 | % | Dbm7 | Gb7 | Bmaj7 | % | Fm7 | Bb7 | Ebmaj7 | % |');
    expect(keys(analysis)).toEqual(['Eb major 0-2', 'B major 2-6', 'Eb major 6-10']);
  });

  test('one ii–V of another degree is no region', () => {
    expect(keys(read('| Cmaj7 | Em7b5 A7 | Dm7 | G7 | Cmaj7 | Gm7 C7 | Fmaj7 | G7 | C6 |'))).toEqual(['C major 0-11']);
  });

  test('the last pass has the last word: a second ending decides', () => {
    expect(
      formatKey(read('|: Am7 | D7 | Gmaj7 | Cmaj7 | F#m7b5 | B7(b9) | 1. Em6 | Em6 :| 2. Gmaj7 | Gmaj7 |').keyFound),
    ).toBe('G major');
    expect(
      formatKey(read('|: Am7 | D7 | Gmaj7 | Cmaj7 | F#m7b5 | B7(b9) | 1. Em6 | Em6 :| 2. Em6 | Em6 |').keyFound),
    ).toBe('E minor');
  });

  test('a turnaround at the end points to the top', () => {
    expect(formatKey(read('| Ebmaj7 | C7 | Fm7 | Bb7 | Gm7 C7 | Fm7 Bb7 | Ebmaj7 C7 | Fm7 Bb7 |').keyFound)).toBe(
      'Eb major',
    );
  });

  test('a minor chord that rests for bars is a region of its own, not the ii of a key that never comes', () => {
    const rests = `| ${['Dm7', 'Dm7', 'Ebm7', 'Dm7'].flatMap((each) => [each, each, each, each]).join(' | ')} |`;
    expect(keys(read(rests))).toEqual(['D minor 0-8', 'Eb minor 8-12', 'D minor 12-16']);
  });

  test('a blues keeps its I7 at home', () => {
    const analysis = read('| F7 | Bb7 | F7 | F7 | Bb7 | Bb7 | F7 | F7 | C7 | Bb7 | F7 | C7 |');
    expect(formatKey(analysis.keyFound)).toBe('F major');
    expect(numerals(analysis)).toBe('I7 IV7 I7 I7 IV7 IV7 I7 I7 V7 IV7 I7 V7');
  });
});

describe('numerals', () => {
  test.each([
    ['| Cmaj7 | A7 | Dm7 | G7 |', 'Imaj7 V7/ii iim7 V7'],
    ['| Cmaj7 | Eb7 | Dm7 | Db7 |', 'Imaj7 subV7/ii iim7 subV7'],
    ['| Cmaj7 | Gm7 C7 | Fmaj7 | Fm6 | C6 |', 'Imaj7 iim7/IV V7/IV IVmaj7 ivm6 I6'],
    ['| Cmaj7 | Gm7 Gb7 | Fmaj7 | G7 | C6 |', 'Imaj7 iim7/IV subV7/IV IVmaj7 V7 I6'],
    ['| C6 | C#dim7 | Dm7 | G7 | C6 |', 'I6 #idim7 iim7 V7 I6'],
    ['| C6 | Ebdim7 | Dm7 | G7 | C6 |', 'I6 biiidim7 iim7 V7 I6'],
    ['| F6 | F#dim7 | C6/G | G7 | C6 |', 'IV6 #ivdim7 I6 V7 I6'],
    ['| Cm6 | Dm7b5 | G7(b9) | Cm6 |', 'im6 iim7b5 V7(b9) im6'],
    ['| Cm6 | Fm7 | Bb7 | Ebmaj7 | Abmaj7 | Dm7b5 G7 | Cm6 |', 'im6 iim7/bIII V7/bIII bIIImaj7 bVImaj7 iim7b5 V7 im6'],
    ['| Cm6 | Am7b5 D7 | G7 | Cm6 |', 'im6 iim7b5/V V7/V V7 im6'],
    ['| Cm6 | Am7b5 D7 | Gm7 | Dm7b5 G7 | Cm6 |', 'im6 iim7b5/v V7/v vm7 iim7b5 V7 im6'],
    ['| C6 | D7 Db7 | C6 | A7 Ab7 | G7 | C6 |', 'I6 V7/V subV7 I6 V7/ii subV7/V V7 I6'],
    ['| Cmaj7 | Dm7b5 | G7 | Cmaj7 |', 'Imaj7 iim7b5 V7 Imaj7'],
    ['| Cmaj7 | Dm7 | F/G | Cmaj7 | Dm7/G | C6 |', 'Imaj7 iim7 V9sus Imaj7 V9sus I6'],
    ['| Cmaj7 | Fm7 | Bb7 | Cmaj7 |', 'Imaj7 ivm7 bVII7 Imaj7'],
    ['| Cmaj7 | N.C. | Dm7 G7 | Cmaj7 |', 'Imaj7  iim7 V7 Imaj7'],
  ])('%s', (changes, expected) => expect(numerals(read(changes))).toBe(expected));

  test('a dominant knows the mode of what it leads to', () => {
    const modes = (changes: string): unknown[] => read(changes).slots.map(({ reading }) => reading.targetMode);
    expect(modes('| Cmaj7 | A7 | Dm7 | G7 | C6 |')).toEqual([null, 'minor', 'major', 'major', null]);
    expect(modes('| Cm6 | D7 | G7 | Cm6 |')[2]).toBe('minor');
    expect(modes('| C6 | E7 | Amaj7 | Dm7 G7 | C6 |')[1]).toBe('major');
  });

  test('a chord over a bass that makes it a suspended dominant keeps its own notes in the ladder', () => {
    for (const { chord, chordScales } of read('| Cmaj7 | F/G | Cmaj7 | Dm7/G | C6 |').slots) {
      if (chord?.bass === null) continue;
      expect(chordScales[0]?.notes.map(formatNoteName).sort()).toEqual(['A', 'B', 'C', 'D', 'E', 'F', 'G']);
    }
  });

  test('every reason has words', () => {
    for (const { reading } of read('| Cmaj7 | A7 | Dm7 | Abm7 Db7 | Gm7 C7 | F6 F#dim7 | N.C. | F#maj7 | C6 |').slots) {
      expect(wordsOfReason(reading.reason)).not.toMatch(/undefined|^$/u);
    }
    expect(() => wordsOfReason({ code: 'none such', args: {} })).toThrow(RangeError);
  });
});

describe('a minor chord with a sixth', () => {
  // common practice: im6 is a minor tonic; ii7b5 V7(b9) lead to it, whatever the next ii is
  test('is home where its own ii and V lead to it and it stays', () => {
    const analysis = read('key: F major\n\n| Fmaj7 | Em7b5 | A7b9 | Dm6 | % | Dm7 | G7 | Gm7 | C7 | Fmaj7 |');
    expect(numerals(analysis)).toContain('im6 im6');
    expect(keys(analysis)).toContainEqual(expect.stringContaining('D minor'));
    expect(analysis.slots[3]?.reading.role).toBe('tonic');
  });
});

describe('alternatives', () => {
  test('a second good reading is kept with what it costs more, and never repeats the chosen one', () => {
    const { slots } = read('| Cmaj7 | Am7 D7 | Dm7 G7 | Cmaj7 |');
    const ofAm7 = [slots[1]?.reading, ...(slots[1]?.alternatives ?? []).map(({ reading }) => reading)];
    expect(ofAm7.slice(0, 2).map((reading) => reading?.numeral)).toEqual(['iim7/V', 'vim7']);
    for (const { reading, alternatives } of slots) {
      const all = alternatives.map((each) => `${each.reading.numeral} ${formatKey(each.reading.key)}`);
      expect(all).not.toContain(`${reading.numeral} ${formatKey(reading.key)}`);
      expect(new Set(all).size).toBe(all.length);
      const costs = alternatives.map((each) => each.costAbove);
      expect(costs).toEqual([...costs].sort((a, b) => a - b));
    }
  });
});

describe('pins', () => {
  const text = '| Cmaj7 | Em7b5 A7 | Dm7 | G7 | Cmaj7 |';
  const slotId = (index: number): string => read(text).slots[index]?.played.slot.id as string;

  test('a fixed region is obeyed until the next, and the ladder follows', () => {
    const regions = [
      { slot: slotId(1), pass: 1, key: parseKey('D minor') as Key },
      { slot: slotId(4), pass: 1, key: parseKey('C major') as Key },
    ];
    const analysis = read(text, { regions, numerals: [] });
    expect(keys(analysis)).toEqual(['C major 0-1', 'D minor 1-4', 'C major 4-6']);
    expect(numerals(analysis)).toBe('Imaj7 iim7b5 V7 im7 V7 Imaj7');
    expect(analysis.slots[3]?.chordScales[0]?.name).toBe('Dorian');
  });

  test('a region begins within a held chord', () => {
    const held = '| C6 | C6 | F6 | C6 |';
    const id = read(held).slots[1]?.played.slot.id as string;
    const analysis = read(held, { regions: [{ slot: id, pass: 1, key: parseKey('F major') as Key }], numerals: [] });
    expect(keys(analysis)).toEqual(['C major 0-1', 'F major 1-4']);
  });

  test('a fixed numeral is obeyed, and its neighbours follow', () => {
    const plain = '| Cmaj7 | Am7 D7 | Dm7 G7 | Cmaj7 |';
    const id = read(plain).slots[1]?.played.slot.id as string;
    const analysis = read(plain, { regions: [], numerals: [{ slot: id, pass: 1, numeral: 'vim7' }] });
    expect(numerals(analysis)).toBe('Imaj7 vim7 V7/V iim7 V7 Imaj7');
    expect(analysis.slots[1]?.chordScales[0]?.name).toBe('Aeolian');
    expect(analysis.slots[1]?.alternatives.map(({ reading }) => reading.numeral)).not.toContain('vim7');
  });

  test('pins whose slot or numeral is not there change nothing', () => {
    const pins: AnalysisPins = {
      regions: [{ slot: 'gone', pass: 1, key: parseKey('E major') as Key }],
      numerals: [
        { slot: slotId(0), pass: 7, numeral: 'vim7' },
        { slot: slotId(0), pass: 1, numeral: 'nonsense' },
      ],
    };
    expect(read(text, pins)).toEqual(read(text));
  });
});

describe('figures', () => {
  test.each([
    ['ii-V-I', '| Dm7 | G7sus G7 | Cmaj7 | C6 |', ['C major: Dm7 G7sus G7 Cmaj7']],
    ['ii-V-I', '| Dm7 | F/G | Cmaj7 | C6 |', ['C major: Dm7 F/G Cmaj7']],
    ['ii-V-I', '| Dm7/G | G7 | Cmaj7 | C6 |', ['C major: Dm7/G G7 Cmaj7']],
    ['ii-V-I', '| Dm7b5 | G7alt | Cm6 | Cm6 |', ['C minor: Dm7b5 G7alt Cm6 Cm6']],
    ['ii-V', '| Cmaj7 | F#m7 B7 | Fm7 Bb7 | Cmaj7 |', ['E minor: F#m7 B7']],
    ['ii-subV-I', '| Dm7 | Db7 | Cmaj7 | C6 |', ['C major: Dm7 Db7 Cmaj7']],
    ['subV-I', '| Cmaj7 | Db7 | Cmaj7 | C6 |', ['C major: Db7 Cmaj7']],
    ['V-I', '| Cmaj7 | G7 | Cmaj7 | C6 |', ['C major: G7 Cmaj7']],
    ['backdoor', '| Cmaj7 | Fm7 Bb7 | Cmaj7 | C6 |', ['C major: Fm7 Bb7 Cmaj7']],
    ['backdoor', '| Cmaj7 | Bb7 | Cmaj7 | C6 |', ['C major: Bb7 Cmaj7']],
    ['plagal', '| C6 | F6 | C6 | C6 |', ['C major: F6 C6 C6']],
    ['extended dominants', '| C6 | B7 E7 | A7 D7 | G7 | C6 |', ['C major: B7 E7 A7 D7 G7']],
    ['extended dominants', '| C6 | E7 | Em7 A7 | Am7 D7 | G7 | C6 |', ['C major: E7 Em7 A7 Am7 D7 G7']],
    ['turnaround', '| Cmaj7 Ebmaj7 | Abmaj7 Dbmaj7 | Cmaj7 | C6 |', ['C major: Cmaj7 Ebmaj7 Abmaj7 Dbmaj7']],
    ['turnaround', '| C6 C#dim7 | Dm7 G7 | C6 | C6 |', ['C major: C6 C#dim7 Dm7 G7']],
    ['turnaround', '| Cm6 Am7b5 | Dm7b5 G7 | Cm6 | Cm6 |', ['C minor: Cm6 Am7b5 Dm7b5 G7']],
    ['diminished passing', '| C6 | C#dim7 | Dm7 G7 | C6 |', ['C major: C6 C#dim7 Dm7']],
    ['diminished auxiliary', '| C6 | Cdim7 | C6 | C6 |', ['C major: C6 Cdim7 C6 C6']],
    ['line cliche', '| Cm | Cm(maj7) | Cm7 | Cm6 | Fm6 | G7 | Cm | Cm |', ['C minor: Cm Cm(maj7) Cm7 Cm6']],
    ['line cliche', '| C | C+ | C6 | C7 | F6 | G7 | C | C |', ['C major: C C+ C6 C7']],
    ['modal interchange', '| Cmaj7 | Abmaj7 Bb6 | Cmaj7 | G7 | C6 |', ['C major: Abmaj7 Bb6']],
    [
      'constant structure',
      '| Cmaj7 | Ebmaj7 | Gbmaj7 | Amaj7 | Dm7 | G7 | C6 | C6 |',
      ['C major: Cmaj7 Ebmaj7 Gbmaj7 Amaj7'],
    ],
  ])('%s: %s', (kind, changes, expected) => expect(figures(read(changes), kind)).toEqual(expected));

  test('modal stretches: eight bars on one chord, and a vamp of two', () => {
    const eight = read(
      `| ${Array.from({ length: 8 }, () => 'Dm7').join(' | ')} | ${Array.from({ length: 8 }, () => 'Ebm7').join(' | ')} |`,
    );
    expect(figures(eight, 'modal stretch').length).toBe(2);
    expect(eight.slots.every(({ reading }) => reading.role === 'modal')).toBe(true);
    const vamp = read('| Dm7 | Em7 | Dm7 | Em7 | Dm7 | Em7 | Dm7 | Em7 |');
    expect(figures(vamp, 'modal stretch').length).toBe(1);
  });

  test('the blues forms', () => {
    const minor = read('| Cm7 | Fm7 | Cm7 | % | Fm7 | % | Cm7 | % | Ab7 | G7 | Cm7 | G7 |');
    expect(minor.cadences.filter(({ kind }) => kind === 'minor blues').map(({ slots }) => slots.length)).toEqual([12]);
    const twice = read('|: F7 | Bb7 | F7 | Cm7 F7 | Bb7 | Bdim7 | F7 | Am7b5 D7 | Gm7 | C7 | F7 D7 | Gm7 C7 :|');
    expect(twice.cadences.filter(({ kind }) => kind === 'blues').length).toBe(2);
    expect(read('| F7 | Bb7 | F7 | F7 |').cadences.some(({ kind }) => kind === 'blues')).toBe(false);
  });

  test('the rhythm form and its bridge', () => {
    const a = '| Bb6 G7 | Cm7 F7 | Bb6 G7 | Cm7 F7 | Bb7 | Eb6 Edim7 | Bb6 F7 | Bb6 |';
    const bridge = '| D7 | Am7 D7 | G7 | % | C7 | % | F7 | % |';
    const { cadences } = read([a, a, bridge, a].join('\n'));
    expect(cadences.filter(({ kind }) => kind === 'rhythm form').length).toBe(1);
    expect(cadences.filter(({ kind }) => kind === 'rhythm bridge').length).toBe(1);
    expect(read([a, a, a].join('\n')).cadences.some(({ kind }) => kind.startsWith('rhythm'))).toBe(false);
  });
});

test('analysing commutes with transposing', () => {
  const changes = fc.array(
    fc.constantFrom(
      'Dm7 G7',
      'Cmaj7',
      'Em7b5 A7(b9)',
      'Dm7',
      'Fm7 Bb7',
      'C6 C#dim7',
      'Fmaj7',
      'Gm7 C7',
      'Cm6',
      'F7',
      'Db7',
      'E7',
      'Am7 D7',
    ),
    { minLength: 2, maxLength: 8 },
  );
  fc.assert(
    fc.property(changes, fc.integer({ min: 0, max: 11 }), (bars, up) => {
      const chart = chartOf(`key: C major\n\n| ${bars.join(' | ')} |`);
      const here = analyse(chart, NO_ANALYSIS_PINS);
      const there = analyse(transposeChart(chart, usualKey(up as PitchClass, 'major')), NO_ANALYSIS_PINS);
      expect(numerals(there)).toBe(numerals(here));
      expect(there.slots.map(({ reading }) => reading.role)).toEqual(here.slots.map(({ reading }) => reading.role));
      expect(there.cadences.map(({ kind, slots }) => [kind, slots])).toEqual(
        here.cadences.map(({ kind, slots }) => [kind, slots]),
      );
      expect(formatNoteName(there.key.tonic)).toBe(formatNoteName(usualKey(up as PitchClass, 'major').tonic));
    }),
    { seed: 6, numRuns: 40 },
  );
});

test('a chart of silence has a key and no more', () => {
  const analysis = read('| N.C. | N.C. |');
  expect(analysis.slots.map(({ reading }) => reading.role)).toEqual(['none', 'none']);
  expect(keys(analysis)).toEqual(['C major 0-2']);
});

describe('key changes on paper', () => {
  const a = 'key: C major\n\nA:\n| Cmaj7 | Am7 | Dm7 | G7 |\n';
  const b = 'B:\nkey: Eb major\n| Fm7 | Bb7 | Gm7 | Cm7 | Fm7 | Bb7 | Fm7 | Bb7 |\n';

  test('a stated key change opens a region there', () => {
    expect(keys(read(`${a}${b}C:\nkey: C major\n| Dm7 | G7 | Cmaj7 | C6 |\n`))).toEqual([
      'C major 0-4',
      'Eb major 4-12',
      'C major 12-16',
    ]);
  });

  test('it is spelled as written', () => {
    const analysis = read(
      'key: C major\n\n| Cmaj7 | Dm7 G7 |\nB:\nkey: C# major\n| Dbmaj7 | Ebm7 Ab7 | Dbmaj7 | Ebm7 Ab7 |',
    );
    expect(analysis.regions.map(({ key }) => formatKey(key))).toContain('C# major');
  });
});

test('all keys are ranked, the found one first', () => {
  const ranked = rankedKeys(chartOf('| Dm7 | G7 | Cmaj7 | Am7 |'));
  expect(ranked.length).toBe(24);
  expect(ranked[0]).toEqual({ key: parseKey('C major'), costAbove: 0 });
  expect(rankedKeys(chartOf('| N.C. |'))).toEqual([]);
});

test('whatever the chords, every slot is read, regions tile the form, figures name its slots', () => {
  const suffixes = [
    '',
    '6',
    'maj7',
    'maj7(#11)',
    'm',
    'm7',
    'm6',
    'm(maj7)',
    '7',
    '7alt',
    '+7',
    '7sus',
    'sus',
    'm7b5',
    'dim7',
    'dim',
    '+',
    '5',
  ];
  const chord = fc.oneof(
    {
      weight: 12,
      arbitrary: fc
        .tuple(
          fc.constantFrom('C', 'Db', 'C#', 'D', 'Eb', 'E', 'F', 'F#', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B'),
          fc.constantFrom(...suffixes),
        )
        .map((parts) => parts.join('')),
    },
    { weight: 1, arbitrary: fc.constantFrom('N.C.', 'F/G', 'Dm7/G', 'C/E', 'Ab/C') },
  );
  const bar = fc.oneof(
    chord,
    fc.tuple(chord, chord).map((two) => two.join(' ')),
  );
  fc.assert(
    fc.property(fc.array(bar, { minLength: 1, maxLength: 24 }), fc.constantFrom('4/4', '2/4', '6/4'), (bars, meter) => {
      const analysis = read(`meter: ${meter}\n\n|: ${bars.join(' | ')} :|`);
      const count = analysis.form.slots.length;
      expect(analysis.slots.length).toBe(count);
      let at = 0;
      for (const { fromSlot, toSlot } of analysis.regions) {
        expect(fromSlot).toBe(at);
        at = toSlot;
      }
      expect(at).toBe(count);
      for (const { chord: read, reading, chordScales } of analysis.slots) {
        expect(chordScales.length > 0).toBe(read !== null);
        expect(reading.numeral === '').toBe(read === null);
        expect(wordsOfReason(reading.reason)).not.toContain('undefined');
      }
      for (const { slots } of analysis.cadences) {
        expect(slots.length).toBeGreaterThan(0);
        expect(slots.every((slot, index) => slot < count && (index === 0 || slot > (slots[index - 1] as number)))).toBe(
          true,
        );
      }
    }),
    { seed: 7, numRuns: 60 },
  );
});
