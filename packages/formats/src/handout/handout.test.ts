import { DEFAULT_CHOICES, makeLesson, readChart } from '@fivespan/core';
import { describe, expect, it, beforeAll, afterAll } from 'vitest';
import { createEngraver, type Engraver } from '../engraving/index.ts';
import { pageFonts } from '../../../../checks/handout-fonts.ts';
import { writeHandout, type HandoutOptions } from './handout.ts';
import { inventedLesson } from './invented-lesson.ts';

const lesson = inventedLesson({
  key: 'Gb major',
  sections: [['A', 'Abm7:iim7 | Db7:V7 | Gbmaj7:Imaj7 | Gbmaj7:Imaj7']],
});

describe('a handout', () => {
  let engraver: Engraver;
  let options: Omit<HandoutOptions, 'view' | 'paper'>;

  beforeAll(async () => {
    engraver = await createEngraver();
    options = { engraver, fonts: pageFonts() };
  });
  afterAll(() => engraver.close());

  it('has the same bytes each time, whatever was written before it', async () => {
    const first = await writeHandout(lesson, { ...options, view: 'study', paper: 'a4' });
    await writeHandout(lesson, { ...options, view: 'play', paper: 'letter' });
    const again = await writeHandout(lesson, { ...options, view: 'study', paper: 'a4' });
    expect(Buffer.compare(first, again)).toBe(0);
    const fresh = await writeHandout(lesson, { ...options, fonts: pageFonts(), view: 'study', paper: 'a4' });
    expect(Buffer.compare(first, fresh)).toBe(0);
  });

  it('is made of a chart of a thousand bars that uses one hand every other bar', async () => {
    const bars = Array.from({ length: 250 }, () => 'Dm7:iim7 | G7:V7 | Cmaj7:Imaj7 | A7:V7/ii').join(' | ');
    const long = inventedLesson({ key: 'C major', sections: [['A', bars]] });
    // the engraver's systems are cut at the page anyway; without them the test is quick
    const silent = {
      ...long,
      score: { ...long.score, thumbs: [], staves: long.score.staves.map((staff) => ({ ...staff, notes: [] })) },
    };
    for (const view of ['study', 'play'] as const) {
      const pdf = await writeHandout(silent, { ...options, view, paper: 'letter' });
      expect(pdf.length).toBeGreaterThan(10_000);
    }
  });

  it('to hand out has one page: everything of a short tune, of a very long one the chart alone', async () => {
    const sheetOf = async (text: string): Promise<{ pages: number; said: string }> => {
      const chart = readChart(text);
      if (!chart.ok) throw new Error('the chart must be right');
      const pdf = await writeHandout(makeLesson(chart.value, DEFAULT_CHOICES), {
        ...options,
        view: 'sheet',
        paper: 'letter',
      });
      const said = new TextDecoder('latin1').decode(pdf);
      return { pages: said.match(/\/Type \/Page\b/gu)?.length ?? 0, said };
    };
    const short = await sheetOf('title: Short\nkey: Eb major\n\n| Fm7 | Bb7 | Ebmaj7 | % | Am7b5 | D7alt | Gm6 | % |');
    expect(short.pages).toBe(1);
    // headings are in the outline: the phrase, what rubs and the steps are all there
    expect(short.said.match(/\/Title/gu)?.length).toBeGreaterThanOrEqual(5);
    const long = await sheetOf(
      `title: ${'Long '.repeat(18)}\nkey: F major\n\n${'| Gm7 C7 | Fmaj7 | Am7 D7 | Gm7 '.repeat(16)}|`,
    );
    // four and sixty bars with every thumb of the family are more than a page: the chart goes on, and nothing else is there
    expect(long.pages).toBe(2);
    expect(long.said.match(/\/Title/gu)?.length).toBe(1);
  });

  it('is made where there is no music, no position and no title', async () => {
    const bare = {
      ...lesson,
      chart: { ...lesson.chart, title: ' ' },
      plan: {
        ...lesson.plan,
        slots: lesson.plan.slots.map((slot) => ({ ...slot, position: null, family: null, thumbMidi: null })),
      },
      bass: [],
      chorus: [],
      arpeggios: [],
      score: { ...lesson.score, thumbs: [], staves: lesson.score.staves.map((staff) => ({ ...staff, notes: [] })) },
    };
    for (const view of ['study', 'play', 'sheet'] as const) {
      const pdf = await writeHandout(bare, { ...options, view, paper: 'a4' });
      expect(new TextDecoder('latin1').decode(pdf.slice(0, 8))).toBe('%PDF-1.7');
    }
  });
});
