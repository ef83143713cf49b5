/**
 * Reads scales, arpeggios and broken chords with printed fingerings, in ABC notation.
 * Source: Oscar Beringer and Thomas Dunhill 1900, transcribed by David A. Randolph 2016 (dvdrndlph/pydactyl, MIT), as in
 * ../shared/data/fingering; its README says how fingerings are written. Only what those files use of ABC is understood.
 */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { bestFingerings, midi, type Finger, type FingeringModel, type HandSide, type Midi } from '@fivespan/core';

/** A stretch of notes up to a long one, or to the end of the piece. */
export interface PrintedLine {
  readonly file: string;
  readonly side: HandSide;
  readonly keys: readonly Midi[];
  readonly fingers: readonly Finger[];
  /** The other fingering the book gives, where it gives one. */
  readonly alternative: readonly Finger[] | null;
}

const SEMITONES: Readonly<Record<string, number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };
const FIFTHS = ['F', 'C', 'G', 'D', 'A', 'E', 'B'];
/** A note as long as this (in the unit of the file) ends a line. */
const LONG = 4;

/** Alterations of the letters by the key signature `Abmaj`, `Bmin`. */
function signature(text: string): Map<string, number> {
  const [, letter = '', accidental = '', mode = ''] = /^([A-G])([b#]?)(maj|min)/u.exec(text) ?? [];
  const sharps =
    FIFTHS.indexOf(letter) - 1 + (accidental === '#' ? 7 : accidental === 'b' ? -7 : 0) - (mode === 'min' ? 3 : 0);
  return new Map(
    FIFTHS.map((each, place) => [each, sharps > 0 ? (place < sharps ? 1 : 0) : place >= 7 + sharps ? -1 : 0]),
  );
}

interface WrittenNote {
  readonly key: Midi;
  readonly length: number;
}

function notesOf(body: string, signs: Map<string, number>, octaves: number): WrittenNote[] {
  const notes: WrittenNote[] = [];
  let inBar = new Map<string, number>();
  const plain = body.replaceAll(/"[^"]*"/gu, '').replaceAll(/\[K:[^\]]*\]/gu, '');
  for (const match of plain.matchAll(/\||([_=^]?)([A-Ga-g])([,']*)(\d*)/gu)) {
    const [token, sign = '', letter = '', marks = '', length = ''] = match;
    if (token === '|') {
      inBar = new Map();
      continue;
    }
    const name = letter.toUpperCase();
    const octave =
      5 + (letter === name ? 0 : 1) + octaves + [...marks].reduce((sum, each) => sum + (each === ',' ? -1 : 1), 0);
    if (sign !== '') inBar.set(name + octave, sign === '^' ? 1 : sign === '_' ? -1 : 0);
    const alteration = inBar.get(name + octave) ?? signs.get(name) ?? 0;
    notes.push({ key: midi(12 * octave + (SEMITONES[name] as number) + alteration), length: Number(length || 1) });
  }
  return notes;
}

function fingersOf(text: string, count: number): Finger[] | null {
  const digits = text.replaceAll('&', '');
  return digits.length === count && /^[1-5]+$/u.test(digits) ? [...digits].map((each) => Number(each) as Finger) : null;
}

/** The printed lines of one file, right hand first. */
function printedLines(file: string, text: string): PrintedLine[] {
  const fingerings = [...text.matchAll(/^% abcD fingering \d: (.*)$/gmu)].map((match) => (match[1] ?? '').split('@'));
  const signs = signature(/^K:(.*)$/mu.exec(text)?.[1] ?? '');
  const [, right = '', left = ''] = text.split(/^V:[12]\n/mu);
  return [right, left].flatMap((body, hand) => {
    const withoutHeaders = body.replaceAll(/^[A-Z]:.*$/gmu, '').replaceAll(/^%.*$/gmu, '');
    const notes = notesOf(withoutHeaders, signs, hand === 0 ? 0 : -1);
    const fingers = fingersOf(fingerings[0]?.[hand] ?? '', notes.length);
    if (fingers === null)
      throw new Error(`${file}: fingers and notes differ in number (hand ${hand}, ${notes.length} notes)`);
    const alternative = fingersOf(fingerings[1]?.[hand] ?? '', notes.length);
    const lines: PrintedLine[] = [];
    let start = 0;
    for (const [index, note] of notes.entries()) {
      if (note.length < LONG && index < notes.length - 1) continue;
      lines.push({
        file,
        side: hand === 0 ? 'right' : 'left',
        keys: notes.slice(start, index + 1).map((each) => each.key),
        fingers: fingers.slice(start, index + 1),
        alternative: alternative?.slice(start, index + 1) ?? null,
      });
      start = index + 1;
    }
    return lines;
  });
}

/** Where the open data is: FIVESPAN_OPEN_DATA, else beside the repository. */
function openDataFolder(): string {
  return process.env['FIVESPAN_OPEN_DATA'] ?? join(import.meta.dirname, '../..', '..', 'shared');
}

/** All printed lines, or null where the open data is not on this machine. */
export function allPrintedLines(): PrintedLine[] | null {
  const folder = join(openDataFolder(), 'data', 'fingering');
  if (!existsSync(folder)) return null;
  return readdirSync(folder)
    .filter((name) => name.endsWith('.abcd'))
    .sort()
    .flatMap((name) => printedLines(name, readFileSync(join(folder, name), 'utf8')));
}

/** How often the best fingering agrees with the printed one. */
export interface Agreement {
  readonly notes: number;
  readonly equalNotes: number;
  readonly lineCount: number;
  readonly equalLines: number;
  /** Lines equal to the printed fingering or to the alternative the book gives. */
  readonly equalToEither: number;
}

export function agreementWith(lines: readonly PrintedLine[], model: FingeringModel, side: HandSide): Agreement {
  let notes = 0;
  let equalNotes = 0;
  let lineCount = 0;
  let equalLines = 0;
  let equalToEither = 0;
  for (const line of lines.filter((each) => each.side === side)) {
    const result = bestFingerings(
      line.keys.map((key) => [key]),
      { side, model },
    );
    if (!result.ok) throw new Error(`${line.file}: no fingering found`);
    const found = (result.value[0]?.fingers ?? []).flat();
    const equal = found.filter((finger, index) => finger === line.fingers[index]).length;
    notes += found.length;
    equalNotes += equal;
    lineCount++;
    if (equal === found.length) equalLines++;
    if (equal === found.length || found.join('') === line.alternative?.join('')) equalToEither++;
  }
  return { notes, equalNotes, lineCount, equalLines, equalToEither };
}
