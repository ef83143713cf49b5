/**
 * Draws docs/pictures/chord-symbols.svg: sixty kinds of chord as every screen and page sets them. `npx tsx tools/chord-table.ts`.
 * The symbols are laid out by the code that draws them everywhere (formats/type); only their letters are made outlines here.
 */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { CHORD_KINDS_BY_SYMBOL, readChordSymbol } from '@fivespan/core';
import { chordPieces, SERIF_FAMILIES, svgChord } from '@fivespan/formats/type';
import { outlined } from './outlined.ts';

const KINDS = 60;
const COLUMNS = 5;
const COLUMN = 206;
const ROW = 46;
const SIZE = 27;
/** So that every letter and sign is seen beside every kind of ending. */
const ROOTS = ['C', 'F#', 'Bb', 'Eb', 'A', 'Db', 'G', 'E', 'Ab', 'D', 'B', 'F'];
/** Kinds without a row of their own, and a bass. */
const MORE = [
  '7b9',
  '7#9',
  '7#11',
  '7b5',
  '7b13',
  '7b9b13',
  'maj7#11',
  '9#11',
  '13b9',
  '13#11',
  '7#9#5',
  'm7/F',
  'maj7/G#',
  '/Bb',
  '7b9/D',
];

/** The symbols of the table, in the order of the reader's own. */
export function tableSymbols(): readonly string[] {
  const suffixes = [...new Set([...CHORD_KINDS_BY_SYMBOL.map(({ suffix }) => suffix), ...MORE])];
  return suffixes.slice(0, KINDS).map((suffix, index) => `${ROOTS[index % ROOTS.length]}${suffix}`);
}

function drawTable(): string {
  const symbols = tableSymbols();
  const rows = Math.ceil(symbols.length / COLUMNS);
  const texts = symbols.map((symbol, index) => {
    const read = readChordSymbol(symbol);
    if (!read.ok) throw new Error(`${symbol} must be a chord`);
    const x = 24 + (index % COLUMNS) * COLUMN;
    const y = 40 + Math.floor(index / COLUMNS) * ROW;
    return `<text x="${x}" y="${y}" font-size="${SIZE}" font-weight="600" fill="#1c1916">${svgChord(chordPieces(read.value, 'text'), SIZE)}</text>`;
  });
  const [width, height] = [COLUMNS * COLUMN + 24, rows * ROW + 24];
  return outlined(
    `<svg xmlns="http://www.w3.org/2000/svg" role="img" width="${width}" height="${height}" viewBox="0 0 ${width} ${height}" font-family="${SERIF_FAMILIES}">` +
      `<title>Sixty kinds of chord, as they are set everywhere</title><rect width="${width}" height="${height}" fill="#faf6ec"/>${texts.join('')}</svg>\n`,
  );
}

writeFileSync(join(import.meta.dirname, '../docs/pictures/chord-symbols.svg'), drawTable());
