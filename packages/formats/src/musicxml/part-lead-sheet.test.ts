import { barsOf, chartForInstrument, parseKey, readChart, type Chart, type InstrumentKey } from '@fivespan/core';
import { expect, test } from 'vitest';
import { readMusicXml, writeLeadSheet } from './index.ts';

function read(text: string): Chart {
  const result = readChart(text);
  if (!result.ok) throw new Error(JSON.stringify(result.issues));
  return result.value;
}
const symbols = (chart: Chart): string =>
  barsOf(chart)
    .flatMap(({ slots }) => slots.map(({ chord }) => chord.symbol))
    .join(' ');

// what sounds below what is written, and the signature the player sees: common practice
test.each([
  ['Eb', 'Bb', 'Gm7 C7 Fmaj7', -1, -1, -2],
  ['E', 'Bb', 'G#m7 C#7 F#maj7', 6, -1, -2],
  ['E', 'Eb', 'Ebm7 Ab7 Dbmaj7', -5, -6, -9], // not C sharp, with its seven sharps
  ['B', 'Eb', 'Bbm7 Eb7 Abmaj7', -4, -6, -9], // not G sharp: a diminished seventh down
  ['Db', 'F', 'Bbm7 Eb7 Abmaj7', -4, -4, -7],
] as const)('concert %s for an instrument in %s: %s', (concert, instrument, written, fifths, diatonic, chromatic) => {
  const key = parseKey(`${concert} major`);
  if (key === undefined) throw new Error(concert);
  const CHANGES: Record<string, string> = {
    Eb: '| Fm7 | Bb7 | Ebmaj7 |',
    E: '| F#m7 | B7 | Emaj7 |',
    B: '| C#m7 | F#7 | Bmaj7 |',
    Db: '| Ebm7 | Ab7 | Dbmaj7 |',
  };
  const chart = read(`key: ${concert}\n${CHANGES[concert]}`);
  const xml = writeLeadSheet(chartForInstrument(chart, instrument as InstrumentKey), { concertKey: key });
  expect(symbols(chartForInstrument(chart, instrument as InstrumentKey))).toBe(written);
  expect(xml).toContain(`<fifths>${fifths}</fifths>`);
  expect(xml.replaceAll(/\s+</gu, '<')).toContain(
    `<transpose><diatonic>${diatonic}</diatonic><chromatic>${chromatic}</chromatic></transpose>`,
  );
  const back = readMusicXml(new TextEncoder().encode(xml));
  expect(back.ok && symbols(back.value)).toBe(symbols(chart)); // a program that reads it knows what sounds
});

test('a part in bass clef has its clef and is at concert pitch', () => {
  const chart = read('key: Eb\n| Fm7 | Bb7 | Ebmaj7 |');
  const xml = writeLeadSheet(chart, { clef: 'bass', concertKey: chart.key }).replaceAll(/\s+</gu, '<');
  expect(xml).toContain('<clef><sign>F</sign><line>4</line></clef>');
  expect(xml).not.toContain('<transpose>');
});
