/**
 * Handouts as another program reads them.
 * Sources: poppler 22 or later (Debian package poppler-utils: pdfinfo, pdffonts, pdftotext), an independent reader of
 * PDF; paper sizes of ISO 216 (A4 is 210 × 297 mm) and ANSI/ASME Y14.1 (letter is 8.5 × 11 in; M).
 */
import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { DEFAULT_CHOICES, makeLesson, parseKey, readChart, type Lesson } from '@fivespan/core';
import { createEngraver, type Engraver } from '@fivespan/formats/engraving';
import { writeHandout, type HandoutFonts, type Paper, type View } from '@fivespan/formats/handout';
import { pageFonts } from '../handout-fonts.ts';
import { inventedLesson, type InventedChart } from '../../packages/formats/src/handout/invented-lesson.ts';

const hasPoppler = existsSync('/usr/bin/pdfinfo');

const EIGHT =
  'Fm7:iim7 | Bb7:V7 | Ebmaj7:Imaj7 | Ebmaj7:Imaj7 | Am7b5:iim7b5/iii | D7alt:V7/iii | Gm7:iiim7 C7:V7/ii | Fm7:iim7 Bb7(b9,b13):V7';

/** Charts of our own: flats, sharps, minor with alterations, three four, compound, one bar, crowded bars, hostile names. */
const CHARTS: Readonly<Record<string, InventedChart>> = {
  'thirty-two bars': {
    key: 'Eb major',
    sections: [
      ['A', EIGHT],
      ['A', EIGHT],
      ['B', EIGHT],
      ['A', EIGHT],
    ],
  },
  repeats: {
    key: 'Eb major',
    sections: [
      ['A', '|: Fm7:iim7 | Bb7:V7 | 1. Ebmaj7:Imaj7 C7:V7/ii :| 2. Ebmaj7(#11):Imaj7'],
      ['B', 'Ebmaj7:I C7:V7/ii Fm7:ii Bb7:V7 | Ebmaj7/G:I'],
    ],
  },
  'one bar': { key: 'F# minor', sections: [[null, 'F#m6:i6']] },
  minor: { key: 'F# minor', tempoBpm: 88, sections: [['A', 'G#m7b5:iim7b5 | C#7(b9,b13):V7 | F#m(maj7):i | F#m6:i6']] },
  waltz: {
    title:
      'A waltz for <b>nobody</b> & 🎷 the rest of us, with a title so long that it must wrap over more than one line of the page',
    key: 'Gb major',
    meter: { count: 3, unit: 4 },
    sections: [
      ['Intro 🎹', 'Gbmaj7:I | Abm7:iim7 | Db7:V7 | Gbmaj7:I'],
      [null, 'Gbmaj7:I | Abm7:iim7 | Db7:V7 | Gbmaj7:I'],
    ],
  },
  names: {
    title: `${'&lt;script&gt;'.repeat(40)} ${'W'.repeat(900)} \u202Eback\u0000 \n\n third line`,
    key: 'C major',
    sections: [
      [`A section whose name ${'goes on '.repeat(30)}`, 'Dm7:iim7 | G7:V7 | Cmaj7:I | Cmaj7:I'],
      ['🎷🎺 <i>', 'Dm7:iim7 G7:V7 Cmaj7:I Cmaj7(#11):I | Cmaj7:I'],
    ],
  },
  compound: {
    key: 'B major',
    meter: { count: 6, unit: 8 },
    tempoBpm: 66,
    swing: false,
    sections: [['A', 'Bmaj7:I | C#m7:iim7 | F#7:V7 | Bmaj7:I']],
  },
};

interface Word {
  text: string;
  page: number;
  left: number;
  top: number;
  right: number;
  bottom: number;
}

/** The project's own charts, and its demo in the keys with most flats and sharps. */
const EXAMPLES = [
  ...readdirSync(new URL('../../examples', import.meta.url))
    .filter((file) => file.endsWith('.chart'))
    .map((file) => [file.replace('.chart', ''), 'its own key'] as const),
  ['DEMO', 'Gb major'],
  ['DEMO', 'B major'],
] as const;

/** No word leaves its page, and none stands on another. */
function expectApart(words: readonly Word[], paper: Paper): void {
  const [width, height] = paper === 'a4' ? [595.28, 841.89] : [612, 792];
  expect(words.length).toBeGreaterThan(20);
  // a word's box has the font's full ascent and descent; its letters stand in the middle of it
  const ink = (word: Word) => {
    const tall = word.bottom - word.top;
    return {
      left: word.left + 0.6,
      right: word.right - 0.6,
      top: word.top + tall * 0.2,
      bottom: word.bottom - tall * 0.22,
    };
  };
  // one assertion for all of it: an assertion a pair of words takes longer than writing the pages
  const faults: string[] = [];
  const inked = words.map(ink);
  for (const [index, word] of words.entries()) {
    if (word.left <= 30 || word.right >= width - 30 || word.top <= 20 || word.bottom >= height - 20) {
      faults.push(`'${word.text}' leaves page ${word.page}`);
    }
    const a = inked[index]!;
    for (let next = index + 1; next < words.length; next++) {
      const other = words[next]!;
      if (other.page !== word.page) continue;
      const b = inked[next]!;
      const overlap = a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
      if (overlap) faults.push(`'${word.text}' and '${other.text}' overlap on page ${word.page}`);
    }
  }
  expect(faults).toEqual([]);
}

describe.skipIf(!hasPoppler)(`handouts${hasPoppler ? '' : ' (skipped: poppler-utils not here)'}`, () => {
  let engraver: Engraver;
  let fonts: HandoutFonts;
  let folder: string;

  beforeAll(async () => {
    engraver = await createEngraver();
    fonts = pageFonts();
    folder = mkdtempSync(join(tmpdir(), 'fivespan-handout-'));
  });
  afterAll(() => {
    engraver.close();
    rmSync(folder, { recursive: true });
  });

  let written = 0;
  const write = async (lesson: Lesson, view: View, paper: Paper): Promise<string> => {
    const file = join(folder, `${written++}-${view}-${paper}.pdf`);
    writeFileSync(file, await writeHandout(lesson, { view, paper, engraver, fonts }));
    return file;
  };

  /** The invented charts' pages, each written once for all that is asked of it. */
  const pages = new Map<string, Promise<string>>();
  const pageOf = (name: keyof typeof CHARTS, view: View, paper: Paper): Promise<string> => {
    const key = `${name} ${view} ${paper}`;
    const page = pages.get(key) ?? write(inventedLesson(CHARTS[name]!), view, paper);
    pages.set(key, page);
    return page;
  };

  const read = (program: string, ...args: string[]): string => execFileSync(program, args, { encoding: 'utf8' });

  const wordsOf = (file: string): Word[] => {
    const words: Word[] = [];
    let page = 0;
    for (const line of read('pdftotext', '-bbox', file, '-').split('\n')) {
      if (line.includes('<page ')) page++;
      const found = /<word xMin="([\d.-]+)" yMin="([\d.-]+)" xMax="([\d.-]+)" yMax="([\d.-]+)">(.*)<\/word>/u.exec(
        line,
      );
      if (found === null) continue;
      const [left = 0, top = 0, right = 0, bottom = 0] = found.slice(1, 5).map(Number);
      words.push({ text: found[5] ?? '', page, left, top, right, bottom });
    }
    return words;
  };

  const cases = Object.keys(CHARTS).flatMap((name) =>
    (['study', 'play'] as const).flatMap((view) =>
      (['a4', 'letter'] as const).map((paper) => [name, view, paper] as const),
    ),
  );

  it.each(cases)('%s, %s on %s: nothing overlaps or is cut off', async (name, view, paper) => {
    expectApart(wordsOf(await pageOf(name, view, paper)), paper);
  });

  it.each(EXAMPLES)('examples/%s in %s: nothing overlaps or is cut off', async (name, keyText) => {
    const read = readChart(readFileSync(new URL(`../../examples/${name}.chart`, import.meta.url), 'utf8'));
    if (!read.ok) throw new TypeError(`examples/${name}.chart must be a chart`);
    const lesson = makeLesson(read.value, DEFAULT_CHOICES, keyText === 'its own key' ? null : parseKey(keyText)!);
    for (const view of ['study', 'play'] as const) {
      const words = wordsOf(await write(lesson, view, 'a4'));
      expectApart(words, 'a4');
      // invented lessons have none
      expect(words.some(({ text }) => text === 'Voicings')).toBe(view === 'study');
    }
  });

  /** Fifteen majors or minors, one more and fewer accidentals at a time: common practice. */
  const KEYS = {
    major: 'Cb Gb Db Ab Eb Bb F C G D A E B F# C#'.split(' '),
    minor: 'Ab Eb Bb F C G D A E B F# C# G# D# A#'.split(' '),
  };
  const charts = EXAMPLES.filter(([, key]) => key === 'its own key').map(([name]) => name);
  // every key once, every example in several; FIVESPAN_ALL_KEYS=1 takes each example through all of them
  const all = process.env['FIVESPAN_ALL_KEYS'] !== undefined;
  const inKeys = KEYS.major.flatMap((_, at) =>
    charts.filter((_name, index) => all || index === at % charts.length).map((name) => [name, at] as const),
  );

  // the music is engraved for the charts above; here it is left out, which takes most of the time
  const without: Engraver = { engrave: () => [], close: () => {} };

  it.each(inKeys)('examples/%s in key %i of fifteen: chart, pictures and words keep apart', async (name, at) => {
    const read = readChart(readFileSync(new URL(`../../examples/${name}.chart`, import.meta.url), 'utf8'));
    if (!read.ok) throw new TypeError(`examples/${name}.chart must be a chart`);
    const home = makeLesson(read.value, DEFAULT_CHOICES).analysis.key.mode;
    const lesson = makeLesson(read.value, DEFAULT_CHOICES, parseKey(`${KEYS[home][at]} ${home}`)!);
    const file = join(folder, `${name}-${at}.pdf`);
    writeFileSync(file, await writeHandout(lesson, { view: 'study', paper: 'a4', engraver: without, fonts }));
    expectApart(wordsOf(file), 'a4');
  });

  it('of a hostile chart keep apart: a long title, seven chords of twelve characters in two bars, 64 bars', async () => {
    const seven = 'Ebmaj13(#11) Abm(maj7)/Gb C#7(b9,b13) Bbm11b5/Ab | Gb7(#9,b13)/C / Fmaj9(#11)/A D+maj9(#11)';
    const quiet = Array.from({ length: 62 }, (_, bar) => ['Dm7', 'G7', 'Cmaj7', 'A7'][bar % 4]).join(' | ');
    const title = 'A title so long that it goes over every line the page would give it '.repeat(2).trim();
    const read = readChart(`title: ${title}\nkey: C major\nmeter: 4/4\n\nA:\n| ${seven} | ${quiet} |\n`);
    if (!read.ok) throw new TypeError(JSON.stringify(read.issues));
    const lesson = makeLesson(read.value, DEFAULT_CHOICES);
    for (const view of ['study', 'play'] as const) {
      const file = join(folder, `hostile-${view}.pdf`);
      writeFileSync(file, await writeHandout(lesson, { view, paper: 'a4', engraver: without, fonts }));
      expectApart(wordsOf(file), 'a4');
    }
  });

  it('have the paper asked for, embedded subsets only, a title, a language and tags', async () => {
    for (const [paper, size] of [
      ['a4', [210, 297]],
      ['letter', [215.9, 279.4]],
    ] as const) {
      const file = await pageOf('waltz', 'study', paper);
      const info = read('pdfinfo', file);
      const [, width, height] = /Page size:\s+([\d.]+) x ([\d.]+) pts/u.exec(info)!;
      expect((Number(width) * 25.4) / 72).toBeCloseTo(size[0], 1);
      expect((Number(height) * 25.4) / 72).toBeCloseTo(size[1], 1);
      expect(info).toContain('A waltz for <b>nobody</b>');
      expect(info).toMatch(/Tagged:\s+yes/u);
      const rows = read('pdffonts', file).trim().split('\n').slice(2);
      expect(rows.length).toBeGreaterThan(3);
      for (const row of rows) expect(row).toMatch(/\+\S+\s+CID (TrueType|Type 0C)\s+Identity-H\s+yes yes yes/u);
    }
  });

  it('read right: symbols, tempo marks, titles as they were typed', async () => {
    // a raised alteration is text of its own after its root and kind, so lines are read in the order they were written
    const repeats = read('pdftotext', '-raw', await pageOf('repeats', 'study', 'a4'), '-').replaceAll(/\s/gu, '');
    expect(repeats).toContain('B♭7');
    expect(repeats).toContain('E♭maj7(♯11)');
    expect(repeats).toContain('E♭maj7/G');
    const waltz = read('pdftotext', '-layout', await pageOf('waltz', 'study', 'a4'), '-');
    expect(waltz).toContain('A waltz for <b>nobody</b> & \uFFFD');
    const struct = read('pdfinfo', '-struct-text', await pageOf('compound', 'study', 'a4'));
    expect(struct).toContain('H1');
    expect(struct).toContain('Where the thumb goes');
    expect(struct).toContain('Figure');
  });

  it('say what their signs mean, and name a feel only where the metre can swing', async () => {
    const text = (name: string, view: View): Promise<string> =>
      pageOf(name, view, 'a4').then((file) => read('pdftotext', '-layout', file, '-'));
    const study = await text('repeats', 'study');
    expect(study).toMatch(/thumb here.*bold\s+chord tone\s+italic\s+tension\s+✕\s+rubs \(avoid note\)/u);
    expect(await text('repeats', 'play')).not.toContain('chord tone');
    // common practice: three four swings, six eight does not
    expect(await text('waltz', 'study')).toContain('= 132 · swing · study page');
    for (const view of ['study', 'play'] as const)
      expect(await text('compound', view)).toContain(`= 66 · ${view} page`);
  });

  it('are set closer where a last page would hold little more than the steps', async () => {
    const twenty = Array.from({ length: 5 }, () => 'Bmaj7:I | C#m7:iim7 | F#7:V7 | Bmaj7:I').join(' | ');
    const lesson = inventedLesson({ ...CHARTS['compound']!, sections: [['A', twenty]] });
    const pages = read('pdftotext', '-layout', await write(lesson, 'study', 'a4'), '-')
      .split('\f')
      .slice(0, -1);
    expect(pages.map((page) => page.includes('Steps'))).toEqual([false, true]);
    expect(pages[1]).toContain('One way to play it');
  });

  it('keep the play view bare: no numerals, no degrees, no fingers over the notes', async () => {
    const file = await pageOf('minor', 'play', 'a4');
    const text = read('pdftotext', '-layout', file, '-');
    expect(text).not.toMatch(/iim7|♭13 ?5|rubs|Steps/u);
    expect(text).toContain('thumb now');
    const study = read('pdftotext', '-layout', await pageOf('minor', 'study', 'a4'), '-');
    for (const words of ['What rubs', 'Left hand', 'Chords in thirds', 'One way to play it', 'Rest five minutes']) {
      expect(study).toContain(words);
    }
  });
});
