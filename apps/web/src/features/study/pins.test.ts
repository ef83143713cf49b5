import { NO_ANALYSIS_PINS, NO_PART_PINS, NO_PLAN_PINS, parseKey, type Choices } from '@fivespan/core';
import { beforeEach, describe, expect, it, vi } from 'vitest';
import type * as OpenLessonFeature from '../open-lesson/index.ts';
import { $made, $open, changeLesson, type LessonChange, type OpenLesson } from '../open-lesson/index.ts';
import { lessonOf } from './invented-study.ts';
import { allowSecond, countPins, isPinned, pinChordScale, pinKey, pinPosition, pinsAt, unpin } from './pins.ts';
import { $study, chooseSlot, type Study } from './study.ts';

// what is changed is looked at; keeping it needs a database
vi.mock('../open-lesson/index.ts', async (original) => ({
  ...(await original<typeof OpenLessonFeature>()),
  changeLesson: vi.fn<(change: LessonChange) => void>((change) => {
    const open = $open.get() as OpenLesson;
    $open.set({ ...open, choices: { ...open.choices, ...change.choices } });
  }),
}));

const name = { slot: 'b1.1', pass: 1 };
const none = { analysis: NO_ANALYSIS_PINS, plan: NO_PLAN_PINS, parts: NO_PART_PINS };

describe('pins at a chord', () => {
  it('are those of its slot and pass alone', () => {
    const key = parseKey('Eb major')!;
    const pins = {
      analysis: { regions: [{ ...name, key }], numerals: [{ slot: 'b1.1', pass: 2, numeral: 'V7' }] },
      plan: { chordScales: [{ slot: 'b2.1', pass: 1, chordScale: 'lydian@1' }], positions: [], secondScales: [] },
      parts: {
        voicings: [{ slot: 'b1.1', pass: 2, keys: [53, 57] }],
        notes: [{ part: 'bass' as const, slot: 'b4.1', pass: 1, over: 'F', notes: [] }],
        motives: [],
      },
    };
    expect(pinsAt(pins, name)).toEqual({
      chordScale: null,
      position: null,
      secondScale: null,
      numeral: null,
      key,
      voicing: null,
      notes: { chorus: null, bass: null },
    });
    expect(pinsAt(pins, { slot: 'b4.1', pass: 1 })).toMatchObject({ notes: { chorus: null, bass: 0 } });
    expect(pinsAt(pins, { slot: 'b1.1', pass: 2 }).voicing).toEqual([53, 57]);
    expect(isPinned(pins, name)).toBe(true);
    expect(isPinned(pins, { slot: 'b3.1', pass: 1 })).toBe(false);
    expect(isPinned(none, name)).toBe(false);
  });
});

describe('a chord that goes on in the bars after it', () => {
  const text = 'key: C minor\n\n| Cm6 | % | % | Fm7 |\n';
  const lesson = lessonOf(text);
  const pins = (): Choices['pins'] => ($open.get() as OpenLesson).choices.pins;
  const slotOf = (bar: number) => ({ slot: `b${bar}.1`, pass: 1 });
  /** The chord of a bar, chosen. */
  const at = (bar: number): Study => {
    chooseSlot(slotOf(bar));
    return $study.get() as Study;
  };
  const scaleOf = (study: Study, rung: string) =>
    study.planned.analysed.chordScales.find((each) => each.name === rung)!;
  const pinned = (): (string | null)[] =>
    [1, 2, 3, 4].map((bar) => pinsAt(pins(), slotOf(bar)).chordScale?.replace(/@.*/u, '') ?? null);
  const pin = (bar: number, rung: string): void => pinChordScale(at(bar), scaleOf(at(bar), rung));

  beforeEach(() => {
    $open.set({ id: 'a', chartText: text, choices: lesson.choices } as OpenLesson);
    $made.set({ chartText: text, chart: lesson.chart, choices: lesson.choices, lesson });
    vi.mocked(changeLesson).mockClear();
  });

  it('has its chord-scale pinned as one, and taken off as one, in one step each', () => {
    const ids = scaleOf(at(1), 'Dorian').id.replace(/@.*/u, '');
    pin(1, 'Dorian');
    expect(pinned()).toEqual([ids, ids, ids, null]);
    expect(countPins(lesson, pins())).toBe(1);
    expect(changeLesson).toHaveBeenCalledTimes(1);
    // from the middle of it
    unpin(at(2), 'chord-scale');
    expect(pinned()).toEqual([null, null, null, null]);
    expect(changeLesson).toHaveBeenCalledTimes(2);
  });

  it('is given a second family to go to as one, and taken off as one', () => {
    const seconds = (): (string | null)[] => [1, 2, 3, 4].map((bar) => pinsAt(pins(), slotOf(bar)).secondScale);
    const { id } = scaleOf(at(1), 'Dorian');
    allowSecond(at(1), id);
    expect(seconds()).toEqual([id, id, id, null]);
    expect(countPins(lesson, pins())).toBe(1);
    unpin(at(1), 'second-scale');
    expect(seconds()).toEqual([null, null, null, null]);
    allowSecond(at(2), id);
    allowSecond(at(2), null);
    expect(countPins(lesson, pins())).toBe(0);
  });

  it('is pinned from the chosen bar on; what a later bar has of its own stays', () => {
    const [dorian, minor] = ['Dorian', 'melodic minor'].map((rung) => scaleOf(at(1), rung).id.replace(/@.*/u, ''));
    pin(3, 'melodic minor');
    pin(1, 'Dorian');
    expect(pinned()).toEqual([dorian, dorian, minor, null]);
    expect(countPins(lesson, pins())).toBe(2);
    pin(1, 'melodic minor');
    expect(pinned()).toEqual([minor, minor, minor, null]);
    expect(countPins(lesson, pins())).toBe(1);
  });

  it('keeps a pinned position only where it lies in the scale', () => {
    const study = at(2);
    // C minor pentatonic from middle C: it has B flat, which melodic minor has not
    pinPosition(study, scaleOf(study, 'Dorian'), 'minor-pentatonic', 60);
    expect(pins().plan.positions).toHaveLength(1);
    pin(1, 'melodic minor');
    // bar 2 was pinned otherwise: it stays as it is
    expect(pins().plan.positions).toHaveLength(1);
    pin(2, 'melodic minor');
    expect(pins().plan.positions).toEqual([]);
  });
});

describe('shown in another key', () => {
  const text = 'key: C major\n\n| Dm7 | G7 | Cmaj7 | % |\n';
  const key = parseKey('Gb major')!;
  const home = lessonOf(text);
  const shown = lessonOf(text, { shownIn: key });
  const pins = (): Choices['pins'] => ($open.get() as OpenLesson).choices.pins;

  it('pins are set as they are seen and kept as the chart is written', () => {
    const choices = { ...home.choices, shownIn: key };
    $open.set({ id: 'b', chartText: text, choices } as OpenLesson);
    $made.set({ chartText: text, chart: home.chart, choices, lesson: shown });
    chooseSlot(name);
    const study = $study.get() as Study;
    const dorian = study.planned.analysed.chordScales.find((each) => each.name === 'Dorian')!;
    // a tritone away: A flat for the D of D minor
    pinPosition(study, dorian, 'minor-pentatonic', 68);
    expect(pins().plan.positions).toMatchObject([{ ...name, thumbMidi: 62 }]);
    const seen = $study.get() as Study;
    expect(pinsAt(seen.choices.pins, name).position?.thumbMidi).toBe(68);
    pinKey({ slot: 'b3.1', pass: 1 }, key);
    expect(pins().plan.positions).toMatchObject([{ ...name, thumbMidi: 62 }]);
    expect(pins().analysis.regions).toMatchObject([{ slot: 'b3.1', key: parseKey('C major')! }]);
    unpin($study.get() as Study, 'position');
    expect(pins().plan.positions).toEqual([]);
  });
});
