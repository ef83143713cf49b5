/**
 * Sources: MusicXML Test Suite (unofficial), Reinhold Kainhofer and the GNU LilyPond project, Michael Scott Asato
 * Cuthbert (../shared/data/musicxml, MIT); OpenScore Lieder Corpus, scores of When in Rome (../shared/data/romantext, CC0).
 * What each kind stands for: MusicXML 4.0, kind-value and degree-alter. Canonical symbols: common practice.
 */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { barsOf, formatKey, unfold, type Chart, type Result } from '@fivespan/core';
import { describe, expect, test } from 'vitest';
import { readMusicXml, writeLeadSheet } from '../../packages/formats/src/musicxml/index.ts';

const shared = process.env['FIVESPAN_OPEN_DATA'] ?? join(import.meta.dirname, '../..', '..', 'shared');
const suite = join(shared, 'data', 'musicxml');
const lieder = join(shared, 'data', 'romantext');
const isHere = existsSync(suite) && existsSync(lieder);
const words = isHere ? '' : ' (skipped: open data not here)';

const read = (file: string): Result<Chart> => readMusicXml(readFileSync(join(suite, file)));
function chart(result: Result<Chart>): Chart {
  if (!result.ok) throw new Error(JSON.stringify(result.issues));
  return result.value;
}
const symbols = (value: Chart): string[][] => barsOf(value).map((bar) => bar.slots.map((slot) => slot.chord.symbol));
const codes = (result: Result<Chart>): string[] =>
  result.ok
    ? result.warnings.map((each) => `${each.place.bar ?? '-'} ${each.code.replace('musicxml.', '')}`)
    : ['refused'];

describe.skipIf(!isHere)(`the test suite${words}`, () => {
  // 38 harmonies: the file's own list of kinds, with roots, basses, degrees and offsets
  test('every kind of chord (71f)', () => {
    const result = read('71f-AllChordTypes.xml');
    const xml = readFileSync(join(suite, '71f-AllChordTypes.xml'), 'utf8');
    expect([...xml.matchAll(/<harmony\b/gu)]).toHaveLength(38);
    expect(symbols(chart(result))).toEqual([
      ['C', 'Cm', 'C+', 'Cdim'],
      ['C7', 'Cmaj7', 'Cm7', 'Cdim7'],
      ['C+7', 'Cm7b5', 'Cm(maj7)', 'C6'],
      ['Cm6', 'C9', 'Cmaj9', 'Cm9'],
      // 11 over a major third: the fourth in the third's place, and said so
      ['C9sus', 'Cmaj9sus', 'Cm11', 'C13'],
      ['Cmaj13', 'Cm13', 'Csus2', 'Csus'],
      // Neapolitan, Italian, French, German: the chords they come to on their root, and said so
      ['C', 'C7(omit5)', 'C7(b5)', 'C7'],
      // pedal is no chord: the one before goes on; power; Tristan sounds half-diminished; 'other' without degrees says nothing
      ['C7', 'C5', 'Cm7b5'],
      ['F#/C#', 'Eb/C', 'G#/D#', 'C'],
      ['C5(b5)'],
    ]);
    expect(codes(result)).toEqual([
      '1 notes-left-out',
      '5 chord-changed',
      '5 chord-changed',
      '7 chord-changed',
      '7 chord-changed',
      '7 chord-changed',
      '7 chord-changed',
      '8 chord-dropped',
      '8 chord-changed',
      '8 chord-dropped',
      '10 bar-length',
      // the root taken out of the chord
      '10 chord-dropped',
    ]);
  });

  test('names with degrees (71a)', () => {
    const result = read('71a-Chordnames.xml');
    expect(symbols(chart(result))).toEqual([
      ['C', 'Cmaj7(#11)', 'B+7(#9)', 'Eb(add9)'],
      ['Gm', 'D#maj7', 'Adim7', 'A+'],
    ]);
    expect(codes(result)).toEqual(['1 notes-left-out']);
  });

  test('a pickup with a chord (46g)', () => {
    const result = read('46g-PickupMeasure-Chordnames-FiguredBass.xml');
    expect(barsOf(chart(result)).map((bar) => [bar.number, bar.durationTicks])).toEqual([
      [0, 960],
      [1, 3840],
    ]);
    expect(symbols(chart(result))).toEqual([['C'], ['C']]);
  });

  test('files without chord symbols are empty charts that say so; repeats play out once symbols are there (45b)', () => {
    for (const [file, bars] of [
      ['45b-RepeatWithAlternatives.xml', 4],
      ['72a-TransposingInstruments.xml', 2],
    ] as const) {
      const result = read(file);
      expect(chart(result).sections).toEqual([]);
      expect(result.ok && result.warnings.map((each) => [each.code, each.args['bars']])).toEqual([
        ['musicxml.no-chords', bars],
      ]);
    }
    const xml = readFileSync(join(suite, '45b-RepeatWithAlternatives.xml'), 'utf8');
    const chord = '<harmony><root><root-step>C</root-step></root><kind>major</kind></harmony><note>';
    const played = unfold(chart(readMusicXml(xml.replaceAll('<note>', chord)))).bars;
    expect(played.map(({ bar }) => bar.number)).toEqual([1, 2, 1, 3, 4]);
  });

  test('transposing instruments come out alike, at concert pitch (72a)', () => {
    const xml = readFileSync(join(suite, '72a-TransposingInstruments.xml'), 'utf8');
    // the same sounding C in each of the three parts: written D, A and C
    const written = { P1: 'D', P2: 'A', P3: 'C' };
    for (const [id, step] of Object.entries(written)) {
      const chord = `<harmony><root><root-step>${step}</root-step></root><kind>major</kind></harmony><note>`;
      const [before = '', rest = ''] = xml.split(`<part id="${id}">`);
      const result = readMusicXml(`${before}<part id="${id}">${rest.replace('<note>', chord)}`);
      expect(symbols(chart(result))).toEqual([['C'], ['C']]);
      expect(formatKey(chart(result).key ?? { tonic: 9 as never, mode: 'minor' })).toBe('C major');
      expect(codes(result).filter((each) => each.endsWith('transposed'))).toHaveLength(id === 'P3' ? 0 : 1);
    }
  });

  test('what was read is written and read again', () => {
    for (const file of readdirSync(suite).filter((each) => each.endsWith('.xml'))) {
      const once = chart(read(file));
      expect(symbols(chart(readMusicXml(writeLeadSheet(once))))).toEqual(symbols(once));
    }
  });
});

describe.skipIf(!isHere)(`packed scores without chord symbols${words}`, () => {
  const files = isHere ? readdirSync(lieder).filter((each) => each.endsWith('.mxl')) : [];
  test.each(files.length > 0 ? files : ['none'])('%s', (file) => {
    const result = readMusicXml(readFileSync(join(lieder, file)));
    expect(chart(result).sections).toEqual([]);
    expect(codes(result)).toEqual(['- no-chords']);
    expect(chart(result).title).not.toBe('');
  });
  test('all ten are there', () => expect(files).toHaveLength(10));
});
