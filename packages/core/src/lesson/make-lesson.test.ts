import { describe, expect, test } from 'vitest';
import { readChart, type Chart } from '../chart/index.ts';
import { formatKey, formatNoteName, midiOf, parseKey, usualKeys, type Key } from '../theory/index.ts';
import { DEFAULT_CHOICES, type Choices } from './lesson.ts';
import { keysOfLesson, makeLesson } from './make-lesson.ts';

function chartOf(text: string): Chart {
  const chart = readChart(text);
  if (!chart.ok) throw new Error(JSON.stringify(chart.issues));
  return chart.value;
}

const cadence = chartOf('| Fm7 | Bb7 | Ebmaj7 | % |');
const key = (text: string): Key => parseKey(text) as Key;

describe('a lesson', () => {
  test('is the same for the same chart, choices and key', () => {
    expect(makeLesson(cadence, DEFAULT_CHOICES, key('A major'))).toEqual(
      makeLesson(cadence, DEFAULT_CHOICES, key('A major')),
    );
  });

  test('of a chart without a key is made in the key found, and in any other', () => {
    expect(cadence.key).toBeNull();
    expect(keysOfLesson(cadence, DEFAULT_CHOICES).map(formatKey)).toEqual(['Eb major']);
    for (const each of usualKeys('major')) {
      const lesson = makeLesson(cadence, DEFAULT_CHOICES, each);
      expect(formatKey(lesson.analysis.key)).toBe(formatKey(each));
      expect(lesson.analysis.slots.map(({ reading }) => reading.numeral)).toEqual(['iim7', 'V7', 'Imaj7', 'Imaj7']);
    }
  });

  test('takes its pins with it into another key: rung, position and region', () => {
    const stated = chartOf('key: Eb major\n| Fm7 | Bb7 | Ebmaj7 | % |');
    const [first, , third] = makeLesson(stated, DEFAULT_CHOICES).plan.slots;
    const choices: Choices = {
      ...DEFAULT_CHOICES,
      pins: {
        analysis: {
          regions: [{ slot: third?.analysed.played.slot.id ?? '', pass: 1, key: key('Ab major') }],
          numerals: [],
        },
        plan: {
          secondScales: [],
          chordScales: [{ slot: third?.analysed.played.slot.id ?? '', pass: 1, chordScale: 'lydian@1' }],
          positions: [
            { slot: first?.analysed.played.slot.id ?? '', pass: 1, shape: 'minor-pentatonic', thumbMidi: 72 },
          ],
        },
        parts: {
          notes: [],
          motives: [],
          voicings: [{ slot: first?.analysed.played.slot.id ?? '', pass: 1, keys: [51, 55, 56, 60] }],
        },
      },
    };
    const lesson = makeLesson(stated, choices, key('F major'));
    // F major is a whole step above E flat: the C thumb becomes D, A flat major becomes B flat major
    expect(lesson.plan.slots[0]?.thumbMidi).toBe(74);
    expect(formatNoteName(lesson.plan.slots[0]?.position?.thumb ?? key('C').tonic)).toBe('D');
    expect(lesson.plan.slots[2]?.chordScale?.id).toBe('lydian@1');
    expect(formatKey(lesson.analysis.slots[2]?.reading.key ?? key('C'))).toBe('Bb major');
    // E♭ G A♭ C, Fm7's form on the 7, becomes F A B♭ D
    const voiced = lesson.voicings.filter(({ slotIndex }) => slotIndex === 0).map(({ pitch }) => midiOf(pitch));
    expect(voiced).toEqual([53, 57, 58, 62]);
  });

  test('another seed changes the chorus and leaves the changes, the hand and the thirds alone', () => {
    const one = makeLesson(cadence, DEFAULT_CHOICES);
    const other = makeLesson(cadence, { ...DEFAULT_CHOICES, seed: 2 });
    expect(other.plan).toEqual(one.plan);
    expect(other.arpeggios).toEqual(one.arpeggios);
    expect(other.chorus).not.toEqual(one.chorus);
  });
});
