import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { parseKey } from '../../theory/index.ts';
import { barsOf, type Bar } from '../chart.ts';
import { inventedChart } from '../invented-chart.ts';
import { readAround } from '../read-around.ts';
import { readChart } from '../read-chart.ts';
import { transposeChart } from '../transpose-chart.ts';
import { appendBar, insertBarAfter, insertBarBefore, removeBar, setBarChords } from './edit-bars.ts';
import { setHeading } from './edit-headings.ts';
import { renameSection, setKeyChange, startSection } from './edit-sections.ts';
import { setBarMeter, setEnding, setJump, setMark, setRepeatEnd, setRepeatStart } from './edit-signs.ts';
import { placesOf } from './places.ts';
import { transposeText } from './transpose-text.ts';

const barsRead = (text: string): Bar[] => {
  const { chart } = readAround(text);
  return chart === null ? [] : barsOf(chart);
};
/** What a bar plays, whatever its number and id. */
const playsOf = (bar: Bar): unknown => [
  bar.meter,
  bar.durationTicks,
  bar.slots.map(({ startTicks, durationTicks, chord }) => [startTicks, durationTicks, chord.symbol]),
];
const signsOf = (bar: Bar): unknown => [bar.startsRepeat, bar.endsRepeatTimes, bar.endings, bar.marks, bar.jump];

test('a bar appended after a bar line too many leaves no empty bar between', () => {
  expect(appendBar('| Fm7 || |\n', 'Bb7')).toBe('| Fm7 || Bb7 |\n');
  expect(appendBar('| Fm7 | |', 'Bb7')).toBe('| Fm7 | Bb7 |');
  // a bar line on a line of its own would close a repeat that nobody opened
  expect(appendBar('|: Fm7 | Cm7 :|\n:|\n', 'Bb7')).toBe('|: Fm7 | Cm7 :| Bb7 |\n');
  expect(appendBar('|: Fm7 | Cm7 :| :|', 'Bb7')).toBe('|: Fm7 | Cm7 :| Bb7 |');
  expect(appendBar('| Fm7 |\n\n  ||\n', 'Bb7')).toBe('| Fm7 | Bb7 |\n');
});

describe('where things are written', () => {
  test('bars, bar lines, chords, endings, metres, marks and jumps', () => {
    const text =
      '\uFEFFtitle: Dusk\r\nA: |: Fm7 /&Bb7 / / |1. 3/4 segno Eb :|2. C7 fine D.C. al fine ||\r\n# note\n𝄋 G';
    const { bars, sections, headers } = placesOf(text);
    const cut = ({ start, end }: { readonly start: number; readonly end: number }): string => text.slice(start, end);
    expect(bars.map((bar) => cut(bar.words))).toEqual([
      'Fm7 /&Bb7 / /',
      '1. 3/4 segno Eb',
      '2. C7 fine D.C. al fine',
      '𝄋 G',
    ]);
    expect(bars.map((bar) => cut(bar.chords))).toEqual(['Fm7 /&Bb7 / /', 'Eb', 'C7', 'G']);
    expect(bars.map((bar) => bar.lineBefore && cut(bar.lineBefore))).toEqual(['|:', '|', ':|', null]);
    expect(bars.map((bar) => bar.lineAfter && cut(bar.lineAfter))).toEqual(['|', ':|', '||', null]);
    expect(bars.map((bar) => bar.ending && cut(bar.ending))).toEqual([null, '1.', '2.', null]);
    expect(bars.map((bar) => bar.meter && cut(bar.meter))).toEqual([null, '3/4', null, null]);
    expect(bars.flatMap((bar) => bar.marks.map(cut))).toEqual(['segno', 'fine', '𝄋']);
    expect(bars.flatMap((bar) => bar.jumps.map(cut))).toEqual(['D.C. al fine']);
    expect(sections.map(({ name }) => name && cut(name))).toEqual(['A']);
    expect(headers.map(({ value, line }) => [cut(value), cut(line)])).toEqual([['Dusk', 'title: Dusk']]);
  });
});

describe('edits by example: nothing but what was meant changes', () => {
  test.each([
    ['|Fm7|Bb7|', 1, 'Bb7 E7', '|Fm7|Bb7 E7|'],
    ['Fm7 | Bb7', 0, 'C', 'C | Bb7'],
    ['|: 1. 3/4 segno Fm7 fine D.C. al fine :|x3', 0, 'C', '|: 1. 3/4 segno C fine D.C. al fine :|x3'],
    ['# my chart\n|  Fm7   Bb7 |  C |  # no comment', 0, 'G', '# my chart\n|  G |  C |  # no comment'],
    ['| Fm7 | | C |', 1, 'Bb7', '| Fm7 | Bb7 | C |'],
    ['| Fm7 | Bb7 |', 0, ' ', '| N.C. | Bb7 |'],
    ['| Fm7 | Bb7 |', 0, 'C:| D', '| C D | Bb7 |'],
    ['Fm7 | Bb7', 0, '#', '| # | Bb7'],
    ['|Fm7|Bb7|', 0, ']', '| ]|Bb7|'],
    ['|: A :|Fm7|Bb7|', 1, 'x3', '|: A :| x3|Bb7|'],
  ])('%s: bar %i says %s', (text, index, chords, after) => {
    expect(setBarChords(text, index, chords)).toBe(after);
  });

  test.each([
    ['|: Fm7 :| C', 0, '|: Fm7 | N.C. :| C'],
    ['|Fm7|Bb7|', 1, '|Fm7|Bb7 | N.C. |'],
    ['Fm7 | Bb7', 1, 'Fm7 | Bb7 | N.C.'],
    ['| Fm7 | % |', 0, '| Fm7 | N.C. | Fm7 |'],
    ['| Fm7 | / / G7 / |', 0, '| Fm7 | N.C. | Fm7 / G7 / |'],
    ['| Fm7 fine | C |', 0, '| Fm7 fine | N.C. | C |'],
    ['| Fm7 | | C |', 1, '| Fm7 | N.C. | N.C. | C |'],
  ])('%s: a bar after bar %i', (text, index, after) => {
    expect(insertBarAfter(text, index)).toBe(after);
  });

  test.each([
    ['|: Fm7 :| C', 0, '|: N.C. | Fm7 :| C'],
    ['Fm7 | Bb7', 0, 'N.C. | Fm7 | Bb7'],
    ['A: | Fm7 |', 0, 'A: | N.C. | Fm7 |'],
    ['| Fm7 | % |', 1, '| Fm7 | N.C. | Fm7 |'],
    ['| Fm7 |1. 3/4 Bb7 :|2. C', 1, '| Fm7 | N.C. | 1. 3/4 Bb7 :|2. C'],
    ['| Fm7 | / / G7 / |', 1, '| Fm7 | N.C. | Fm7 / G7 / |'],
    // between two endings nothing can stand: it is the later one's first
    ['|: Fm7 |1. Bb7 :|2. Ebmaj7 |', 2, '|: Fm7 |1. Bb7 :|2. N.C. | Ebmaj7 |'],
    ['|: Fm7 |1. Bb7 :|2. % || Cm7 |', 2, '|: Fm7 |1. Bb7 :|2. N.C. | Bb7 || Cm7 |'],
    ['|: Fm7 |1. Bb7 :|2. A7 :|3. 3/4 Dm7 |', 3, '|: Fm7 |1. Bb7 :|2. A7 :|3. 3/4 N.C. | Dm7 |'],
  ])('%s: a bar before bar %i', (text, index, after) => {
    expect(insertBarBefore(text, index)).toBe(after);
  });

  test.each([
    ['| A | B | C |', 1, '| A | C |'],
    ['|: A | B :|', 1, '|: A :|'],
    ['|: A | B :|', 0, '|: B :|'],
    ['| A |: B :| C |', 1, '| A | C |'],
    ['| A | B :|x3 C |', 1, '| A :|x3 C |'],
    ['| A || B | C', 1, '| A || C'],
    ['A | B', 0, 'B'],
    ['A | B', 1, 'A |'],
    ['| A |\n# b\n| B |\n', 1, '| A |\n# b\n'],
    ['A:\n| A |\n\nB:\n| B |\n', 1, 'A:\n| A |\n\n'],
    ['A:\n| A |\n\nB: | B |\n', 1, 'A:\n| A |\n\n'],
    ['A: | A |\n| C |\nB: | B |\n', 0, 'A: \n| C |\nB: | B |\n'],
    ['| A | 3/4 B | C |', 1, '| A | 3/4 C |'],
    ['|: A |1. B | C :|2. D', 1, '|: A | 1. C :|2. D'],
    ['| A | B | % |', 1, '| A | B |'],
    ['pickup: 1\n| A | B |', 0, '| B |'],
    ['| A |', 0, '| N.C. |'],
    ['|: A :|: B :|: C :|', 1, '|: A :|: C :|'],
  ])('%s without bar %i', (text, index, after) => {
    expect(removeBar(text.replaceAll(/\b[ABCD]\b(?!:)/gu, '$&7'), index).replaceAll('7', '')).toBe(after);
  });

  test.each([
    ['| A | B :|', 1, true, '| A |: B :|'],
    ['A | B :|', 0, true, '|: A | B :|'],
    ['| A :|x3 B', 1, true, '| A :|x3 |: B'],
    ['| A :|: B :|', 1, false, '| A :| B :|'],
    ['| A |:\n| B :|', 1, false, '| A |\n| B :|'],
    ['|: A :|', 0, true, '|: A :|'],
  ])('%s: bar %i begins a repeat: %s', (text, index, isThere, after) => {
    expect(setRepeatStart(text, index, isThere)).toBe(after);
  });

  test.each([
    ['|: A | B |', 1, 2, '|: A | B :|'],
    ['|: A | B', 1, 3, '|: A | B :|x3'],
    ['|: A | B :|x4 C', 1, 2, '|: A | B :| C'],
    ['|: A | B :| C', 1, null, '|: A | B | C'],
    ['|: A | B |: C', 1, 2, '|: A | B :|: C'],
    ['|: A | B\n:| C', 1, null, '|: A | B\n| C'],
    ['|: A | B || C', 1, 2, '|: A | B :|| C'],
  ])('%s: bar %i ends a repeat: %s', (text, index, times, after) => {
    expect(setRepeatEnd(text, index, times)).toBe(after);
  });

  test.each([
    ['|: A | B :|', 1, [1], '|: A | 1. B :|'],
    ['|: A |1. B :|', 1, [1, 2], '|: A |1.2. B :|'],
    ['|: A |1. B :|', 1, [], '|: A |B :|'],
    ['|: A |1.B7 :|', 1, [], '|: A |B7 :|'],
  ])('%s: bar %i begins ending %j', (text, index, numbers, after) => {
    expect(setEnding(text, index, numbers)).toBe(after);
  });

  const three = { count: 3, unit: 4 };
  test.each([
    ['| A | B |', 1, three, '| A | 3/4 B |'],
    ['| A | 6/8 B |', 1, three, '| A | 3/4 B |'],
    ['| A | 6/8 B |', 1, null, '| A | B |'],
    ['| A |1. B |', 1, three, '| A |1. 3/4 B |'],
    ['| A |\nmeter: 6/8\n| B |', 1, three, '| A |\n| 3/4 B |'],
    ['| 6/8 A | B |', 0, three, 'meter: 3/4\n\n| A | B |'],
  ])('%s: bar %i has another metre', (text, index, meter, after) => {
    expect(setBarMeter(text, index, meter)).toBe(after);
  });

  test('marks and jumps: one of each, where they are written on paper', () => {
    expect(setMark('| A | B |', 1, 'fine', true)).toBe('| A | B fine |');
    expect(setMark('| A | 1. B |', 1, 'segno', true)).toBe('| A | 1. segno B |');
    expect(setMark('| A | B D.C. |', 1, 'to coda', true)).toBe('| A | B to coda D.C. |');
    expect(setMark('| A fine | B |', 1, 'fine', true)).toBe('| A | B fine |');
    expect(setMark('| A to coda | B |', 0, 'to coda', false)).toBe('| A | B |');
    expect(setMark('| segno A |', 0, 'segno', false)).toBe('| A |');
    expect(setJump('| A | B |', 1, { kind: 'da capo', until: 'fine' })).toBe('| A | B D.C. al fine |');
    expect(setJump('| A D.C. al fine | B |', 1, { kind: 'dal segno', until: 'coda' })).toBe('| A | B D.S. al coda |');
    expect(setJump('| A D.C. al fine | B |', 0, null)).toBe('| A | B |');
  });

  test('sections', () => {
    expect(startSection('| A | B |', 1, 'Bridge')).toBe('| A |\n\nBridge:\n| B |');
    expect(startSection('| A |\r\n| B |', 1, 'B')).toBe('| A |\r\n\r\nB:\r\n| B |');
    expect(startSection('key: F\n\n| A |', 0, 'A')).toBe('key: F\n\nA:\n| A |');
    expect(startSection('| A :|: B :|', 1, 'B')).toBe('| A :|\n\nB:\n|: B :|');
    expect(startSection('A:\n| A |', 0, 'C')).toBe('C:\n| A |');
    expect(renameSection('A:\n# on\n| A |\nB: | B |', 1, 'C : d|')).toBe('A:\n# on\n| A |\nC d: | B |');
    expect(renameSection('| A |\n\nB:\n| B |', 1, '')).toBe('| A |\n\n| B |');
    expect(renameSection('| A |\nB: | B |', 1, '')).toBe('| A |\n| B |');
    expect(renameSection('A:|: C :|', 0, 'Bb7')).toBe('Bb7: |: C :|');
    expect(setKeyChange('| A | B |', 1, parseKey('Ab')!)).toBe('| A |\nkey: Ab major\n| B |');
    expect(setKeyChange('| A |\nkey: F\n| B |', 1, null)).toBe('| A |\n| B |');
  });

  test('headings', () => {
    expect(setHeading('| A |', 'title', 'Dusk\n')).toBe('title: Dusk\n\n| A |');
    expect(setHeading('# mine\n| A |', 'tempo', '99')).toBe('# mine\ntempo: 99\n\n| A |');
    expect(setHeading('title: a\nfeel: even\n\n| A |', 'key', 'F minor')).toBe(
      'title: a\nkey: F minor\nfeel: even\n\n| A |',
    );
    expect(setHeading('title:\n| A |', 'title', 'Dusk')).toBe('title: Dusk\n| A |');
    expect(setHeading('Title:  a  \n| A |', 'title', 'Dusk')).toBe('Title:  Dusk  \n| A |');
    expect(setHeading('title: a\nkey: F\n| A |', 'key', '')).toBe('title: a\n| A |');
    expect(setHeading('', 'title', 'Dusk')).toBe('title: Dusk\n');
    expect(setHeading('key: F\n| A |\nkey: G\n| B |', 'key', 'C')).toBe('key: C\n| A |\nkey: G\n| B |');
  });

  test('a first bar, and one more at the end', () => {
    expect(appendBar('', 'Fm7')).toBe('| Fm7 |\n');
    expect(appendBar('title: a', 'Fm7')).toBe('title: a\n\n| Fm7 |\n');
    expect(appendBar('title: a\n', 'Fm7')).toBe('title: a\n\n| Fm7 |\n');
    expect(appendBar('A:\n', 'Fm7')).toBe('A:\n| Fm7 |\n');
    expect(appendBar('| Fm7 |\n', 'Bb7')).toBe('| Fm7 | Bb7 |\n');
    expect(appendBar('Fm7', 'Bb7')).toBe('Fm7 | Bb7 |');
    expect(appendBar('|: Fm7 :|', 'Bb7')).toBe('|: Fm7 :| Bb7 |');
    expect(appendBar('| A | B | C | D |\n# end\n', 'Bb7')).toBe('| A | B | C | D |\n| Bb7 |\n# end\n');
  });

  test('another key, where it stands', () => {
    const text = '# Cm in a comment\nkey: C\n|  Dm7   G7/B | /&C6/9  / / / |\nkey: A minor\n| Bm7b5 Hx | % |';
    expect(transposeText(text, parseKey('Eb')!)).toBe(
      '# Cm in a comment\nkey: Eb major\n|  Fm7   Bb7/D | /&Eb6/9  / / / |\nkey: C minor\n| Dm7b5 Hx | % |',
    );
    expect(transposeText('| Dm7 | G7 |', parseKey('F')!, parseKey('C')!)).toBe('key: F major\n\n| Gm7 | C7 |');
    expect(transposeText('', parseKey('F')!)).toBeUndefined();
  });
});

describe('laws of edits', () => {
  const withComments = inventedChart.map(
    ({ text }) => `# first\nkey: Eb\n${text.replaceAll('\n', '\n# in between\n\n')}# last\n`,
  );
  const isComment = (line: string): boolean => line.startsWith('#');
  const commentsOf = (text: string): string[] => text.split('\n').filter(isComment);

  test('a bar put in or taken out leaves all others playing what they played, and every comment', () => {
    fc.assert(
      fc.property(withComments, fc.nat(), fc.constantFrom('after', 'before', 'out'), (text, pick, how) => {
        const before = barsRead(text);
        const index = pick % before.length;
        if (before.length === 1 && how === 'out') return;
        const edited =
          how === 'out'
            ? removeBar(text, index)
            : how === 'after'
              ? insertBarAfter(text, index, 'Gm7')
              : insertBarBefore(text, index, 'Gm7');
        const after = barsRead(edited);
        const isPickupGone = how === 'out' && before[index]?.number === 0;
        const isPickupMoved = how === 'before' && before[index]?.number === 0;
        const kept = before.filter((_, at) => how !== 'out' || at !== index);
        const now = after.filter((_, at) => how === 'out' || at !== index + (how === 'after' ? 1 : 0));
        expect(commentsOf(edited)).toEqual(commentsOf(text));
        expect(after).toHaveLength(before.length + (how === 'out' ? -1 : 1));
        // a bar before the pickup is the pickup: the old one becomes a full bar
        if (!isPickupGone && !isPickupMoved) expect(now.map(playsOf)).toEqual(kept.map(playsOf));
      }),
      { seed: 21, numRuns: 800 },
    );
  });

  test('chords written into a bar: that bar says them, no other changes but those that go on with it', () => {
    fc.assert(
      fc.property(
        withComments,
        fc.nat(),
        fc.constantFrom('Gm7', 'Gm7 C7', 'N.C.', 'Gm7 / / C7', 'Hx', '#', ']'),
        (text, pick, chords) => {
          const before = barsRead(text);
          const index = pick % before.length;
          const edited = setBarChords(text, index, chords);
          const after = barsRead(edited);
          expect(commentsOf(edited)).toEqual(commentsOf(text));
          expect(after.map(signsOf)).toEqual(before.map(signsOf));
          const next = placesOf(text).bars[index + 1]?.cells[0]?.text ?? '';
          for (const [at, bar] of after.entries()) {
            const goesOn = at === index + 1 && /^[%/]/u.test(next);
            if (at !== index && !goesOn) expect(bar).toEqual(before[at]);
          }
          // written back, nothing has changed
          const chordsBefore = placesOf(text).bars[index]?.chords;
          expect(
            setBarChords(edited, index, text.slice(chordsBefore?.start, chordsBefore?.end)).replaceAll('| | ', '| '),
          ).toBe(text);
        },
      ),
      { seed: 22, numRuns: 800 },
    );
  });

  test('a sign set and taken away again leaves what is played as it was', () => {
    fc.assert(
      fc.property(withComments, fc.nat(), (text, pick) => {
        const before = barsRead(text);
        const index = pick % before.length;
        const bar = before[index] as Bar;
        const same = (edited: string): void => {
          expect(barsRead(edited)).toEqual(before);
          expect(commentsOf(edited)).toEqual(commentsOf(text));
        };
        const place = placesOf(text).bars[index];
        if (place?.opensRepeat === false) same(setRepeatStart(setRepeatStart(text, index, true), index, false));
        if (place?.closesRepeat === false) same(setRepeatEnd(setRepeatEnd(text, index, 2), index, null));
        if (place?.ending === null) same(setEnding(setEnding(text, index, [3]), index, []));
        if (!bar.marks.fine && before.every((each) => !each.marks.fine)) {
          same(setMark(setMark(text, index, 'fine', true), index, 'fine', false));
        }
        if (before.every((each) => !each.marks.segno))
          same(setMark(setMark(text, index, 'segno', true), index, 'segno', false));
        if (before.every((each) => each.jump === null)) {
          same(setJump(setJump(text, index, { kind: 'da capo', until: 'end' }), index, null));
        }
        if (index > 0) same(setBarMeter(setBarMeter(text, index, { count: 7, unit: 8 }), index, null));
      }),
      { seed: 23, numRuns: 400 },
    );
  });

  test('a section begun at any bar has the bars from there on; its name gone, all is as it was', () => {
    fc.assert(
      fc.property(withComments, fc.nat(), (text, pick) => {
        const before = barsRead(text);
        const index = pick % before.length;
        const edited = startSection(text, index, 'Bridge');
        const { chart } = readAround(edited);
        expect(chart?.sections.at(-1)?.name).toBe('Bridge');
        expect(chart?.sections.at(-1)?.bars).toHaveLength(before.length - index);
        expect(barsRead(edited).map(playsOf)).toEqual(before.map(playsOf));
        expect(commentsOf(edited)).toEqual(commentsOf(text));
        expect(barsRead(renameSection(edited, index > 0 ? 1 : 0, ''))).toEqual(before);
      }),
      { seed: 24, numRuns: 400 },
    );
  });

  test('in another key it reads as the transposed chart, its comments kept', () => {
    const keys = ['C', 'Db', 'F#', 'Gb', 'A', 'B'].map((name) => parseKey(name)!);
    fc.assert(
      fc.property(withComments, fc.constantFrom(...keys), (text, key) => {
        const chart = readChart(text);
        if (!chart.ok) throw new Error('an invented chart reads');
        const moved = transposeText(text, key) as string;
        expect(readChart(moved)).toMatchObject({ ok: true, value: transposeChart(chart.value, key) });
        expect(commentsOf(moved)).toEqual(commentsOf(text));
      }),
      { seed: 25, numRuns: 400 },
    );
  });
});
