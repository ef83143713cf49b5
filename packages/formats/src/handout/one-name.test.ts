import { describe, expect, it } from 'vitest';
import {
  analyse,
  DEFAULT_CHOICES,
  familyIn,
  formatNoteName,
  namesOfChord,
  parseKey,
  planRoute,
  readChart,
  transposeChart,
  USUAL_SHAPES,
  type Analysis,
  type Key,
  type Lesson,
} from '@fivespan/core';
import { noteText } from '../diagram/index.ts';
import { rubbingChords } from './rubs.ts';
import { ENGLISH } from './words.ts';

// Source: common practice. A sentence about a chord keeps to that chord's names: over C♯maj7 one plays C♯ Lydian, over B♭7 A falls to A♭.

const CHANGES = 'Fm7 | Bb7 | Ebmaj7 | % | Am7b5 | D7alt | Gm6 | % | Abmaj7 | Abm7 Db7 | Ebmaj7 | C7(b9)';
const KEYS = ['C', 'F', 'Bb', 'Eb', 'Ab', 'Db', 'Gb', 'Cb', 'G', 'D', 'A', 'E', 'B', 'F#', 'C#'];

function analysisIn(key: string): Analysis {
  const chart = readChart(`key: Eb major\n| ${CHANGES} |\n`);
  if (!chart.ok) throw new TypeError(JSON.stringify(chart.issues));
  return analyse(transposeChart(chart.value, parseKey(`${key} major`) as Key), DEFAULT_CHOICES.pins.analysis);
}

describe.each(KEYS)('in %s major one sentence keeps to one name', (key) => {
  const analysis = analysisIn(key);
  const plan = planRoute(analysis, { pins: DEFAULT_CHOICES.pins.plan, hand: 'medium', level: 1 });

  it('what is played instead stands on the chord as it is written, and what rubs goes to its own notes', () => {
    const said = rubbingChords({ plan } as Lesson, ENGLISH);
    const texts = said.flatMap(({ sentences }) => sentences);
    expect(texts.some((each) => each.startsWith('Or play'))).toBe(true);
    for (const { chord, sentences } of said) {
      const { reading } = analysis.slots.find((each) => each.chord?.symbol === chord.symbol)!;
      const own = namesOfChord(chord, reading.key).map(noteText);
      for (const sentence of sentences) {
        const scaleRoot = /^Or play (\S+) /u.exec(sentence)?.[1];
        if (scaleRoot !== undefined)
          expect(`${chord.symbol}: ${scaleRoot}`).toBe(`${chord.symbol}: ${noteText(chord.root)}`);
        const goal = /^Let .* to (\S+)\.$/u.exec(sentence)?.[1];
        if (goal !== undefined) expect(own, `${chord.symbol}: ${sentence}`).toContain(goal);
      }
    }
  });

  it('a side-slip over the tonic has flats or sharps, but for what the chord itself has', () => {
    const tonic = analysis.slots[2]!;
    const own = tonic.chordScales[0]!.kept;
    const slips = tonic.chordScales.filter(({ reason }) => reason.code.startsWith('scale.side-slip'));
    expect(slips).toHaveLength(2);
    for (const { notes, kept } of slips) {
      for (const { positions } of USUAL_SHAPES.map((shape) => familyIn(shape, notes, kept))) {
        for (const position of positions) {
          const others = position.notes
            .filter((each) => !own.includes(each))
            .map(formatNoteName)
            .join(' ');
          expect(/b/u.test(others) && others.includes('#'), others).toBe(false);
        }
      }
    }
  });
});
