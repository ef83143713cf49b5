import { describe, expect, test } from 'vitest';
import { readChart } from '../chart/index.ts';
// a lesson is what the judge is given; its maker is above this room
import { DEFAULT_CHOICES, judgeAsPlayed, makeLesson, type Lesson } from '../lesson/index.ts';
import { randomSource } from '../random.ts';
import { formatKey } from '../theory/index.ts';
import { FINDING_CODES, PRAISE_CODES } from './finding.ts';
import { heardKey } from './heard-key.ts';
import { judgeTake } from './judge.ts';
import { barOneSeconds } from './start.ts';
import type { HeardNote } from './take.ts';
import { barsInWords, FINDING_WORDS, PRAISE_WORDS, wordsOfFinding } from './words.ts';

const chart = readChart('title: Test\ntempo: 120\nA:\n| Dm7 | G7 | Cmaj7 | % |\n| Dm7 | G7 | Cmaj7 | % |\n');
if (!chart.ok) throw new TypeError('text must be a chart');
const lesson = makeLesson(chart.value, DEFAULT_CHOICES);

/** A lesson's own performance, some times through. */
function playedOf({ performance: { parts, endSeconds } }: Lesson, choruses: number): HeardNote[] {
  return Array.from({ length: choruses }, (_, chorus) =>
    parts.flatMap(({ player, notes }) =>
      (['right hand', 'left hand'].includes(player) ? notes : []).map(
        ({ startSeconds, durationSeconds, midi, velocity }) => ({
          startSeconds: startSeconds + chorus * endSeconds,
          durationSeconds,
          key: midi,
          velocity,
          hand: player === 'left hand' ? ('left' as const) : ('right' as const),
        }),
      ),
    ),
  )
    .flat()
    .sort((a, b) => a.startSeconds - b.startSeconds);
}

const own = (choruses: number): HeardNote[] => playedOf(lesson, choruses);

const codesOf = (notes: readonly HeardNote[]): string[] =>
  judgeTake(lesson, notes, 120).findings.map(({ code }) => code);

describe('a take judged', () => {
  test('our own performance raises nothing, something went well, and a longer take goes round the form again', () => {
    const judged = judgeTake(lesson, own(3), 120);
    expect(judged.findings).toEqual([]);
    expect(judged.wentWell).toContain('position.found');
    expect(judged.bars.map(({ bar }) => `${bar.number}.${bar.chorus}`).slice(6, 10)).toEqual([
      '7.1',
      '8.1',
      '1.2',
      '2.2',
    ]);
    expect(judged.course.choruses).toBe(3);
  });

  /** Quarters at 120 of the right hand: keys by beat from bar 1. */
  const line = (...struck: readonly (readonly [beat: number, key: number, beats?: number])[]): HeardNote[] =>
    struck.map(([beat, key, beats = 0.9]) => ({
      startSeconds: beat / 2,
      durationSeconds: beats / 2,
      key,
      velocity: 60 + ((beat * 7) % 20),
      hand: 'right',
    }));
  const opening = [
    [0, 69],
    [1, 72],
    [2, 74],
    [3, 69],
    [4, 71],
    [5, 74],
    [6, 79],
    [7, 76],
  ] as const;

  test('an avoid note that steps on at once is led on; two beats of rest later it hung', () => {
    const hung = (goalBeat: number): boolean =>
      codesOf(line(...opening, [8, 76], [9, 77], [goalBeat, 76])).includes('avoid.hanging');
    expect(hung(10)).toBe(false);
    expect(hung(12)).toBe(true);
  });

  test('four of the five notes of the raised row are that row, though the strange one leads on into the next chord', () => {
    // over C major seventh D B A F♯ of B minor pentatonic, and F over D minor
    const { findings } = judgeTake(
      lesson,
      line(...opening, [28, 74], [29, 71], [30, 69], [31.5, 66, 0.4], [32, 65], [33, 69], [34, 72]),
      120,
    );
    expect(findings.find(({ code }) => code === 'position.other-move')?.bars).toEqual([8]);
    // three of them and the approach are no row
    const three = judgeTake(lesson, line(...opening, [28, 74], [29, 71], [31.5, 66, 0.4], [32, 65], [33, 69]), 120);
    expect(three.findings.map(({ code }) => code)).not.toContain('position.other-move');
  });

  test('no notes, one note: a report without findings', () => {
    const [note] = own(1);
    expect(codesOf([])).toEqual([]);
    expect(codesOf(note === undefined ? [] : [note])).toEqual([]);
  });

  test('twenty milliseconds more a bar ahead is rushing, behind dragging, of both hands', () => {
    for (const [by, code] of [
      [-0.02, 'time.rushing'],
      [0.02, 'time.dragging'],
    ] as const) {
      const notes = own(3).map((each) => ({ ...each, startSeconds: each.startSeconds * (1 + by / 2) }));
      const { workOn } = judgeTake(lesson, notes, 120);
      expect(workOn.map((each) => each.code)).toEqual([code]);
      expect(workOn[0]?.hand).toBe('both');
      expect(Math.abs((workOn[0]?.value ?? 0) - by * 1000)).toBeLessThan(4);
    }
  });

  test('a bass that loses a beat has lost one beat, not many roots', () => {
    const notes = own(3);
    const bass = notes.filter(({ hand }) => hand === 'left');
    const lost = bass[41] as HeardNote;
    const rest = notes.flatMap((each) => {
      if (each === lost) return [];
      const isAfter = each.hand === 'left' && each.startSeconds > lost.startSeconds;
      return [isAfter ? { ...each, startSeconds: each.startSeconds - 0.5 } : each];
    });
    expect(codesOf(rest)).toEqual(['left.dropped']);
    expect(codesOf(notes.filter((each) => each !== lost))).toEqual(['left.dropped']);
  });

  test('where bar 1 is: at the start, after a count-in, at a marker', () => {
    const at = (markers: { seconds: number; text: string }[], countInBars: number | null = null): number =>
      barOneSeconds(lesson, 120, { markers, countInBars });
    expect(at([])).toBe(0);
    expect(at([], 2)).toBe(4);
    expect(at([{ seconds: 3, text: 'bar 1' }])).toBe(3);
    expect(
      at([
        { seconds: 0, text: 'count-in' },
        { seconds: 4, text: 'C major, 120, chorus 1' },
      ]),
    ).toBe(4);
    expect(at([{ seconds: 2, text: 'A' }])).toBe(2);
    expect(at([{ seconds: 9, text: 'coffee' }])).toBe(0);
  });
});

describe('words', () => {
  test('every code has its words, and none is a mark', () => {
    expect(Object.keys(FINDING_WORDS).sort()).toEqual([...FINDING_CODES].sort());
    expect(Object.keys(PRAISE_WORDS).sort()).toEqual([...PRAISE_CODES].sort());
    for (const code of FINDING_CODES) {
      const { heard, step } = wordsOfFinding(
        { code, bars: [3, 4, 7], hand: 'right', value: 2, unit: 'notes', sure: 1 },
        120,
      );
      expect(`${heard} ${step}`).not.toMatch(/undefined|NaN|score|grade|points|percent|%/u);
      expect(heard).toMatch(/\.$/u);
    }
  });

  test('bars as one says them', () => {
    expect(barsInWords([])).toBe('');
    expect(barsInWords([7])).toBe('bar 7');
    expect(barsInWords([5, 6, 7, 8])).toBe('bars 5–8');
    expect(barsInWords([3, 7, 8])).toBe('bars 3 and 7–8');
  });
});

describe('the lesson behind a take', () => {
  const asked = {
    chart: chart.value,
    choices: DEFAULT_CHOICES,
    lesson,
    tempoBpm: 120,
    isToClick: true,
    anyLevel: true,
  };

  test('in another key it is heard in that key, in all twelve', () => {
    for (let semitones = -5; semitones <= 6; semitones++) {
      const notes = own(2).map((each) => ({ ...each, key: each.key + semitones }));
      expect(heardKey(lesson, notes, 120)?.semitones ?? 0).toBe(semitones);
    }
    const notes = own(2).map((each) => ({ ...each, key: each.key + 5 }));
    const { judged, playedIn } = judgeAsPlayed(asked, notes);
    expect(playedIn === null ? null : formatKey(playedIn)).toBe('F major');
    expect(judged.findings).toEqual([]);
    expect(judgeAsPlayed(asked, own(2)).playedIn).toBeNull();
  });

  test('notes at random are in no other key', () => {
    const random = randomSource(5, 'noise');
    const notes = own(2).map((each) => ({ ...each, key: 60 + random.integer(24) }));
    expect(heardKey(lesson, notes, 120)).toBeNull();
  });

  test('a chorus that goes outside as level 3 does is no other move of a plain lesson, where nobody said the level', () => {
    const free = makeLesson(chart.value, { ...DEFAULT_CHOICES, level: 3 });
    const notes = playedOf(free, 2);
    expect(judgeTake(lesson, notes, 120).findings.map(({ code }) => code)).not.toEqual([]);
    const { judged, lesson: heard } = judgeAsPlayed(asked, notes);
    expect(judged.findings).toEqual([]);
    expect(heard.choices.level).toBeGreaterThan(1);
    expect(judgeAsPlayed({ ...asked, anyLevel: false }, notes).lesson.choices.level).toBe(1);
  });

  test('the line it was to play: what was missed and what was put in', () => {
    const notes = own(2);
    const right = notes.filter(({ hand }) => hand === 'right');
    const [missed, wrong] = [right[10] as HeardNote, right[20] as HeardNote];
    const played = notes.flatMap((each) =>
      each === missed ? [] : [each === wrong ? { ...each, key: each.key + 1 } : each],
    );
    const { own: line } = judgeTake(lesson, played, 120).right;
    expect(line?.written).toBe(right.length);
    expect(line?.missed.map(({ key }) => key)).toEqual([missed.key, wrong.key]);
    expect(line?.extra.map(({ key }) => key)).toEqual([wrong.key + 1]);
    const shuffled = notes.map((each, index) => ({
      ...each,
      key: (notes[(index * 7) % notes.length] as HeardNote).key,
    }));
    expect(judgeTake(lesson, shuffled, 120).right.own).toBeNull();
  });
});
