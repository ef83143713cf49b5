import { describe, expect, test } from 'vitest';
import { messageOf, type IssueCode, type Result } from '../issue/index.ts';
import { formatKey } from '../theory/index.ts';
import { barsOf, type Bar, type Chart } from './chart.ts';
import { unfold } from './form/unfold.ts';
import { formatMeter } from './meter.ts';
import { LONGEST_CHART_CHARACTERS, MOST_CHART_BARS, readChart } from './read-chart.ts';

const read = (text: string): Chart => {
  const chart = readChart(text);
  if (!chart.ok) throw new Error(`${text}\n${JSON.stringify(chart.issues, null, 1)}`);
  return chart.value;
};
/** Chords with their beats: `Fm7:2 Bb7:2`. */
const chords = (bar: Bar | undefined): string =>
  (bar?.slots ?? []).map((slot) => `${slot.chord.symbol}:${slot.durationTicks / 960}`).join(' ');
/** Bars as they are played. */
const played = (text: string): string =>
  unfold(read(text))
    .bars.map(({ bar }) => bar.number)
    .join(' ');
const codes = (chart: Result<Chart>): IssueCode[] => (chart.ok ? chart.warnings : chart.issues).map(({ code }) => code);

describe('headings and sections', () => {
  test('what a chart says of itself', () => {
    const chart = read(
      'title: Lantern Street: a study\nkey: Eb major\nmeter: 3/4\ntempo: 132\nfeel: even\n# of our own\nA:\n| Fm7 |\nLast A: | Bb7 |',
    );
    expect(chart).toMatchObject({ title: 'Lantern Street: a study', tempoBpm: 132, feel: 'even' });
    expect(chart.key && formatKey(chart.key)).toBe('Eb major');
    expect(formatMeter(chart.meter)).toBe('3/4');
    expect(chart.sections.map((section) => [section.name, section.bars.length])).toEqual([
      ['A', 1],
      ['Last A', 1],
    ]);
  });

  test('all of it is optional', () => {
    const chart = read('Fm7 | Bb7');
    expect(chart).toMatchObject({ title: '', key: null, tempoBpm: null, feel: 'swing', meter: { count: 4, unit: 4 } });
    expect(chart.sections).toHaveLength(1);
    expect(chart.sections[0]?.name).toBeNull();
  });

  test('names of headings in any case; ends of lines of any system; a byte order mark', () => {
    const chart = read('\uFEFFTitle: x\r\nKEY: G\r\rMeter: 4/4\n|G|');
    expect(chart.title).toBe('x');
    expect(barsOf(chart)).toHaveLength(1);
  });

  test('a colon that belongs to a bar line opens no section', () => {
    expect(barsOf(read('|: Fm7 | Bb7 :|\n|: C | D7 :|'))).toHaveLength(4);
    expect(played('Fm7 :|')).toBe('1 1');
    expect(played('Fm7:| Bb7')).toBe('1 1 2');
    expect(read('A2:| Fm7 |').sections[0]?.name).toBe('A2');
    expect(read('Fm7: | Bb7 |').sections[0]?.name).toBe('Fm7');
  });
});

describe('chords in a bar', () => {
  test.each([
    ['4/4', 'C', 'C:4'],
    ['4/4', 'C F', 'C:2 F:2'],
    ['4/4', 'C F G A', 'C:1 F:1 G:1 A:1'],
    ['4/4', 'C / / F', 'C:3 F:1'],
    ['3/4', 'C F G', 'C:1 F:1 G:1'],
    ['5/4', 'C / / F /', 'C:3 F:2'],
    ['7/4', 'C / / / F / /', 'C:4 F:3'],
    ['2/2', 'C F', 'C:2 F:2'],
    ['6/8', 'C F', 'C:1.5 F:1.5'],
    ['6/8', 'C /', 'C:3'],
    ['9/8', 'C / F', 'C:3 F:1.5'],
    ['12/8', 'C F', 'C:3 F:3'],
    ['12/8', 'C / / F', 'C:4.5 F:1.5'],
    ['7/8', 'C / / F / G /', 'C:1.5 F:1 G:1'],
    ['4/4', 'C / / /&F', 'C:3.5 F:0.5'],
    ['4/4', 'C&F G / /', 'C:0.5 F:0.5 G:3'],
    ['6/8', 'C&/&F G', 'C:1 F:0.5 G:1.5'],
    ['4/4', 'N.C. F', 'N.C.:2 F:2'],
    ['4/4', 'C7(b9, b13) F', 'C7(b9,b13):2 F:2'],
    ['4/4', 'C7 (b9) F', 'C7(b9):2 F:2'],
  ])('in %s | %s | is %s', (meter, bar, expected) => {
    expect(chords(barsOf(read(`meter: ${meter}\n| ${bar} |`))[0])).toBe(expected);
  });

  test('% repeats the bar before, / at the beginning goes on with its last chord', () => {
    const bars = barsOf(read('| C F | % | / / G / | / / / / |'));
    expect(bars.map(chords)).toEqual(['C:2 F:2', 'C:2 F:2', 'F:2 G:2', 'G:4']);
    expect(new Set(bars.flatMap((bar) => bar.slots.map((slot) => slot.id))).size).toBe(7);
  });

  test('a pickup is bar 0, its time negative, its beats the last of the bar', () => {
    const form = unfold(read('pickup: 1\n| G7 | C | % |'));
    expect(form.bars.map(({ bar, startTicks }) => [bar.number, startTicks])).toEqual([
      [0, -960],
      [1, 0],
      [2, 3840],
    ]);
    expect(form.slots[0]?.beat).toBe(4);
  });

  test('metre and key changes hold from their bar on', () => {
    const bars = barsOf(read('| C | 3/4 D | E |\nkey: Ab major\nmeter: 6/8\n| Ab | Db |'));
    expect(bars.map((bar) => formatMeter(bar.meter))).toEqual(['4/4', '3/4', '3/4', '6/8', '6/8']);
    expect(bars.map((bar) => (bar.keyChange === null ? '' : formatKey(bar.keyChange)))).toEqual([
      '',
      '',
      '',
      'Ab major',
      '',
    ]);
    expect(formatMeter(read('| 5/4 C |').meter)).toBe('5/4');
  });
});

/** Played orders as any musician reads these signs: common practice. */
describe('repeats, endings, jumps', () => {
  test.each([
    ['|: C | D :| E', '1 2 1 2 3'],
    ['| C | D :| E', '1 2 1 2 3'],
    ['|: C :|x4', '1 1 1 1'],
    ['|: C :|3x D', '1 1 1 2'],
    ['|: C :|: D :|', '1 1 2 2'],
    ['|: C :||: D :|', '1 1 2 2'],
    ['|: C :| |: D :|', '1 1 2 2'],
    ['|: C |1. D :|2. E | F', '1 2 1 3 4'],
    ['|: C |1. D | E :|2. F || G', '1 2 3 1 4 5'],
    ['|: C |1.2. D :|3. E', '1 2 1 2 1 3'],
    ['|: C |1.-3. D :|4. E', '1 2 1 2 1 2 1 3'],
    ['|: C |1,3. D :|2,4. E :| F', '1 2 1 3 1 2 1 3 4'],
    ['|: C |1. D :|2. E :|3. F :|4. G |', '1 2 1 3 1 4 1 5'],
    ['|: C |1. D :|2. E |: F :|', '1 2 1 3 4 4'],
    ['pickup: 1\n| G7 | C :| D', '0 1 1 2'],
    ['| C | D D.C.', '1 2 1 2'],
    ['| C fine | D D.C. al fine', '1 2 1'],
    ['pickup: 1\n| G7 | C fine | D DC al Fine', '0 1 2 1'],
    ['| C | segno D | E D.S.', '1 2 3 2 3'],
    ['| C | segno D fine | E D.S. al fine', '1 2 3 2'],
    ['| C | 𝄋 D | E To Coda | F D.S. al Coda | 𝄌 G', '1 2 3 4 2 3 5'],
    ['|: C :| D fine | E D.C. al fine', '1 1 2 3 1 2'],
    ['|: C |1. D :|2. E || F D.C.', '1 2 1 3 4 1 3 4'],
    ['|: C | D to coda :| E D.C. al coda | coda F', '1 2 1 2 3 1 2 4'],
    ['|: segno C to coda |1. D :|2. E D.S. al coda || coda F', '1 2 1 3 1 4'],
  ])('%s', (text, expected) => expect(played(text)).toBe(expected));

  test('a section ends a last ending', () => {
    const bars = barsOf(read('A:\n|: C |1. D :|2. E | F |\nB:\n| G |'));
    expect(bars.map((bar) => bar.endings)).toEqual([[], [1], [2], [2], []]);
    expect(bars.map((bar) => bar.startsEnding)).toEqual([false, true, true, false, false]);
  });
});

describe('faults: code, line, column, bar', () => {
  test.each<[string, IssueCode, number, number, number?]>([
    ['', 'chart.empty', 1, 1],
    ['title: x', 'chart.empty', 1, 1],
    ['key: Q\nC', 'chart.key', 1, 6],
    ['key:\nC', 'chart.key', 1, 1],
    ['meter: 4/5\nC', 'chart.meter', 1, 8],
    ['meter: 33/4\nC', 'chart.meter', 1, 8],
    ['tempo: 19\nC', 'chart.tempo', 1, 8],
    ['tempo: fast\nC', 'chart.tempo', 1, 8],
    ['feel: bossa\nC', 'chart.feel', 1, 7],
    ['pickup: half\nC', 'chart.pickup', 1, 9],
    ['pickup: 4\nC', 'chart.pickup', 1, 9],
    ['temp: 120\nC', 'chart.header-unknown', 1, 1],
    ['A: Fm7 | Bb7', 'chart.section-line', 1, 1],
    ['title: x\ntitle: y\nC', 'chart.header-twice', 2, 1],
    ['C\ntempo: 120', 'chart.header-late', 2, 1],
    ['C\nkey: F', 'chart.nothing-follows', 2, 1],
    ['A:\nB:\n| C |', 'chart.nothing-follows', 1, 1],
    ['| C |\nA:', 'chart.nothing-follows', 2, 1],
    ['| C | | D |', 'chart.bar-empty', 1, 5, 2],
    ['| C | D E F |', 'chart.split', 1, 7, 2],
    ['meter: 5/4\n| C D |', 'chart.split', 2, 3, 1],
    ['meter: 3/4\n| C D |', 'chart.split', 2, 3, 1],
    ['| C D E F G |', 'chart.cells', 1, 3, 1],
    ['| C / F |', 'chart.cells', 1, 3, 1],
    ['| C / / / / |', 'chart.cells', 1, 3, 1],
    ['| / / C / |', 'chart.nothing-before', 1, 3, 1],
    ['| % | C |', 'chart.nothing-before', 1, 3, 1],
    ['| C | % D |', 'chart.repeat-bar-alone', 1, 7, 2],
    ['| C | 3/4 % |', 'chart.repeat-bar-length', 1, 11, 2],
    ['| C& F G A |', 'chart.off-beat', 1, 3, 1],
    ['| C F G A&&B |', 'chart.off-beat', 1, 9, 1],
    ['| C | Dmx |', 'chord.unknown', 1, 9, 2],
    ['| C | 𝄋 Dmx |', 'chord.unknown', 1, 11, 2],
    ['| C7(9,b9) |', 'chord.contradiction', 1, 8, 1],
    ['| C | h7 |', 'chord.root', 1, 7, 2],
    ['| C/X |', 'chord.bass', 1, 5, 1],
    ['| C | D7 (x2) |', 'chord.unknown', 1, 11, 2],
    ['| C | (b9) |', 'chord.root', 1, 7, 2],
    ['|: C | D', 'chart.repeat-unclosed', 1, 4, 1],
    ['| C |:', 'chart.repeat-unclosed', 1, 5],
    ['|: C :| D :|', 'chart.repeat-unopened', 1, 11, 2],
    ['|: C |: D :| E :|', 'chart.repeat-nested', 1, 9, 2],
    ['|: C :|x1', 'chart.repeat-times', 1, 6, 1],
    ['|: C :|x99', 'chart.repeat-times', 1, 6, 1],
    ['|: C |1. D :|x3 2. E', 'chart.repeat-count', 1, 12, 2],
    ['|: C |1. D :| E', 'chart.ending-missing', 1, 7, 2],
    ['|: C |1. D :|3. E', 'chart.ending-missing', 1, 7, 2],
    ['|: C |1. D | E', 'chart.ending-unclosed', 1, 7, 2],
    ['|: C |1. D |2. E :|', 'chart.ending-unclosed', 1, 7, 2],
    ['|: C |1. D :|1. E', 'chart.ending-twice', 1, 14, 3],
    ['|: C :|\n| D |1. E :|2. F', 'chart.ending-outside', 2, 6, 3],
    ['|: C |1. D :|5. E', 'chart.ending-number', 1, 14, 3],
    ['| C D.S.', 'chart.jump-without', 1, 5, 1],
    ['| C D.C. al fine', 'chart.jump-without', 1, 5, 1],
    ['| C D.C. al coda | coda D', 'chart.jump-without', 1, 5, 1],
    ['| C to coda | D D.C. al coda | E', 'chart.jump-without', 1, 17, 2],
    ['| C D.C. al end', 'chart.words', 1, 5, 1],
    ['| C | D D.X.', 'chart.words', 1, 9, 2],
    ['| C D.C. | D D.C.', 'chart.mark-twice', 1, 14, 2],
    ['| segno C | segno D D.S.', 'chart.mark-twice', 1, 13, 2],
    ['|: C |1. D D.C. :|2. E', 'chart.jump-never', 1, 12, 2],
  ])('%j: %s', (text, code, line, column, bar) => {
    const chart = readChart(text);
    expect(chart.ok).toBe(false);
    const issues = chart.ok ? [] : chart.issues;
    expect(issues.filter((issue) => issue.code === code)[0]?.place).toEqual({
      line,
      column,
      ...(bar === undefined ? {} : { bar }),
    });
    expect(new Set(issues.map((issue) => JSON.stringify(issue))).size).toBe(issues.length);
    if (code !== 'chart.ending-number') expect(codes(chart)).toEqual([code]);
  });

  test('a mark nobody jumps to is a warning', () => {
    const chart = readChart('| C fine | segno D |');
    expect(chart.ok).toBe(true);
    expect(codes(chart)).toEqual(['chart.mark-unused', 'chart.mark-unused']);
  });

  test('five mistakes are five issues, in the order of the text', () => {
    const chart = readChart('tempo: quick\nkey: Fmi7\nA:\n| Fm7 | Bb7 Eb Ab | Cxx |\n| G7 | C / |\n');
    expect(codes(chart)).toEqual(['chart.tempo', 'chart.key', 'chart.split', 'chord.unknown', 'chart.cells']);
  });

  test('a note that ends a line is a bar; numbers go on after a fault', () => {
    const chart = readChart('| X | |\n| Y |');
    expect((chart.ok ? [] : chart.issues).map((issue) => issue.place.bar)).toEqual([1, 2, 3]);
  });
});

describe('bounds', () => {
  test('a chart of 1,000 bars', () => {
    const chart = read(Array.from({ length: 250 }, () => '| Fm7 Bb7 | Ebmaj7 | % | C7(b9) |').join('\n'));
    expect(barsOf(chart)).toHaveLength(1000);
    expect(barsOf(chart).at(-1)?.number).toBe(1000);
  });

  test('too long, too many bars, too long when played, too many faults', () => {
    expect(codes(readChart('x'.repeat(LONGEST_CHART_CHARACTERS + 1)))).toEqual(['chart.too-large']);
    expect(codes(readChart('C|'.repeat(MOST_CHART_BARS + 1)))).toEqual(['chart.too-many-bars']);
    // among more faults than are listed, too
    expect(codes(readChart('x|'.repeat(MOST_CHART_BARS + 1)))).toEqual(['chart.too-many-bars']);
    expect(barsOf(read('C|'.repeat(MOST_CHART_BARS)))).toHaveLength(MOST_CHART_BARS);
    expect(codes(readChart(`|: ${'C|'.repeat(3000)} D :|x32`))).toEqual(['chart.form-too-long']);
    const long = readChart(`key: ${'𝄋'.repeat(1000)}\n| C${'&'.repeat(5000)} |`);
    for (const issue of long.ok ? [] : long.issues) expect(messageOf(issue).length).toBeLessThan(300);
    const faulty = codes(readChart('x|'.repeat(2000)));
    expect(faulty).toHaveLength(1001);
    expect(faulty.at(-1)).toBe('chart.more-faults');
  });
});
