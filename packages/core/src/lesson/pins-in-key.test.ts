import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { analyse } from '../analysis/index.ts';
import { readChart, transposeChart } from '../chart/index.ts';
import { planPinIssues, planRoute } from '../plan/index.ts';
import { formatKey, modulo, parseKey, pitchClassOf, usualKeys, type Key } from '../theory/index.ts';
import { readLessonDocument, writeLessonDocument } from './document.ts';
import { ENGINE_VERSION } from './engine.ts';
import { DEFAULT_CHOICES, type Choices } from './lesson.ts';
import { keysOfLesson, makeLesson } from './make-lesson.ts';
import { changePinsInKey, transposePins } from './pins-in-key.ts';

type Pins = Choices['pins'];

const key = (name: string): Key => parseKey(name) as Key;

// four pins: the demo's tonic as Lydian, a thumb over the bridge's first chord, the key of the bridge, and one chord's reading
const chartText = readFileSync(new URL('../../../../examples/DEMO.chart', import.meta.url), 'utf8');
const read = readChart(chartText);
if (!read.ok) throw new TypeError('the demo can be read');
const chart = read.value;
const own = makeLesson(chart, DEFAULT_CHOICES);
const slotOfBar = (bar: number): string =>
  own.plan.slots.find(({ analysed }) => analysed.played.playedBar.bar.number === bar)?.analysed.played.slot.id ?? '';
const place = own.plan.slots.find(({ analysed }) => analysed.played.slot.id === slotOfBar(6));
const pins: Pins = {
  analysis: {
    regions: [{ slot: slotOfBar(9), pass: 1, key: key('Ab major') }],
    numerals: [{ slot: slotOfBar(12), pass: 1, numeral: 'V7(b9)/vi' }],
  },
  plan: {
    chordScales: [{ slot: slotOfBar(3), pass: 1, chordScale: 'lydian@1' }],
    secondScales: [{ slot: slotOfBar(4), pass: 1, chordScale: 'lydian@1' }],
    positions: [
      { slot: slotOfBar(6), pass: 1, shape: place?.family?.shape.id ?? '', thumbMidi: place?.thumbMidi ?? 0 },
    ],
  },
  parts: {
    motives: [
      {
        notes: [
          { onsetTicks: 0, durationTicks: 480, finger: 1 },
          { onsetTicks: 480, durationTicks: 480, finger: 2 },
          { onsetTicks: 960, durationTicks: 960, finger: 4 },
        ],
      },
    ],
    voicings: [{ slot: slotOfBar(2), pass: 1, keys: [56, 60, 62, 67] }],
    notes: [
      {
        part: 'bass',
        slot: slotOfBar(2),
        pass: 1,
        over: 'Bb7',
        notes: [{ onsetTicks: 0, durationTicks: 960, key: 46 }],
      },
    ],
  },
};
const choices: Choices = { ...DEFAULT_CHOICES, pins };

// the fifteen keys that can be written, but for the three enharmonic doubles among them twelve sounds
const KEYS = [...usualKeys('major'), key('F# major'), key('C# major'), key('Cb major')];

describe('pins of a lesson shown in another key', () => {
  test.each(KEYS.map((each) => [formatKey(each), each] as const))(
    'stay in their bars, and are obeyed there: %s',
    (_, to) => {
      const {
        analysis: analysisPins,
        plan: planPins,
        parts: partPins,
      } = transposePins(pins, own.analysis.key, to, 'left hand');
      const analysis = analyse(transposeChart(chart, to), analysisPins);
      expect(planPinIssues(analysis, planPins, 'medium', analysisPins)).toEqual([]);
      const plan = planRoute(analysis, { pins: planPins, hand: 'medium', level: 1 });
      const slotAt = (id: string) => plan.slots.find(({ analysed }) => analysed.played.slot.id === id);
      expect(slotAt(slotOfBar(3))?.chordScale?.id).toBe('lydian@1');
      expect(slotAt(slotOfBar(12))?.analysed.reading.numeral).toBe('V7(b9)/vi');
      const moved = slotAt(slotOfBar(6));
      expect(moved?.thumbMidi).toBe(planPins.positions[0]?.thumbMidi);
      const up = pitchClassOf(to.tonic) - pitchClassOf(own.analysis.key.tonic);
      expect(modulo((moved?.thumbMidi ?? 0) - (place?.thumbMidi ?? 0), 12)).toBe(modulo(up, 12));
      expect(Math.abs((moved?.thumbMidi ?? 0) - (place?.thumbMidi ?? 0))).toBeLessThanOrEqual(6);
      // a voicing's keys go with the thumb: as far and the same way
      const semitones = (moved?.thumbMidi ?? 0) - (place?.thumbMidi ?? 0);
      expect(partPins.voicings[0]?.keys).toEqual([56, 60, 62, 67].map((each) => each + semitones));
      const bridge = slotAt(slotOfBar(9))?.analysed.reading.key;
      expect(modulo(pitchClassOf(bridge?.tonic ?? to.tonic) - pitchClassOf(to.tonic), 12)).toBe(5);
    },
  );

  test('a lesson shown in a key is the one made in it, with its pins there', () => {
    const to = key('A major');
    const shown = makeLesson(chart, { ...choices, shownIn: to });
    const made = makeLesson(chart, choices, to);
    expect({ ...shown, choices: { ...shown.choices, shownIn: null } }).toEqual(made);
    expect([formatKey(shown.writtenKey), formatKey(shown.analysis.key)]).toEqual(['Eb major', 'A major']);
    expect(shown.choices.pins).toEqual(transposePins(pins, own.analysis.key, to, 'left hand'));
    expect(keysOfLesson(chart, { ...choices, shownIn: to })).toEqual([to]);
  });

  test('every rung of the ladder has the same name in all keys: a pin that names one finds it again', () => {
    const rungs = (to: Key): string =>
      analyse(transposeChart(chart, to), transposePins(pins, own.analysis.key, to, 'left hand').analysis)
        .slots.map(({ chordScales }) => chordScales.map(({ id }) => id).join(' '))
        .join('\n');
    const home = rungs(own.analysis.key);
    // two rungs as far outside as each other may change places with their spelling
    const sorted = (text: string): string[][] => text.split('\n').map((line) => line.split(' ').toSorted());
    for (const to of KEYS) expect(sorted(rungs(to)), formatKey(to)).toEqual(sorted(home));
  });

  test('are kept as they are written whatever is changed beside them, in every key and on every way home', () => {
    let kept: Pins = pins;
    for (const to of KEYS) {
      kept = changePinsInKey(kept, { from: own.analysis.key, to, range: 'left hand' }, (seen) => ({
        ...seen,
        plan: { ...seen.plan, positions: [...seen.plan.positions] },
      }));
      expect(kept).toEqual(pins);
    }
  });

  test('what is pinned in another key is seen there as it was pinned, a tritone away too', () => {
    for (const to of KEYS) {
      const pin = { slot: slotOfBar(1), pass: 1, shape: 'minor-pentatonic', thumbMidi: 67 };
      const kept = changePinsInKey(pins, { from: own.analysis.key, to, range: 'left hand' }, (seen) => ({
        ...seen,
        plan: { ...seen.plan, positions: [...seen.plan.positions, pin] },
      }));
      expect(transposePins(kept, own.analysis.key, to, 'left hand').plan.positions[1], formatKey(to)).toEqual(pin);
    }
  });

  test('the chart comes home byte for byte: it never left', () => {
    const written = writeLessonDocument({ chartText, choices, engine: ENGINE_VERSION });
    for (const shownIn of KEYS) {
      const there = readLessonDocument(
        writeLessonDocument({ chartText, choices: { ...choices, shownIn }, engine: ENGINE_VERSION }),
      );
      if (!there.ok) throw new TypeError(formatKey(shownIn));
      expect(there.value.choices.shownIn).toEqual(shownIn);
      const home = { ...there.value, choices: { ...there.value.choices, shownIn: null } };
      expect(writeLessonDocument(home)).toBe(written);
    }
  });
});
