import { TICKS_PER_QUARTER } from '@fivespan/core';
import { emptyForm, readBarline, readFormWords, readSound } from './form-reading.ts';
import type { ReadHarmony, ReadMeasure, ReadMeter, ReadPart, ReadScore } from './read-part.ts';
import { child, cleanName, numberOf, textOf, type Node } from './xml-node.ts';

function pitchStep(node: Node | undefined, prefix: string): ReadHarmony['root'] {
  const step = textOf(node, `${prefix}-step`).toUpperCase();
  if (!/^[A-G]$/u.test(step)) return null;
  return { step, alter: numberOf(textOf(node, `${prefix}-alter`), 0) };
}

function harmonyOf(node: Node, ticks: number): ReadHarmony {
  const kind = child(node, 'kind');
  return {
    ticks,
    root: pitchStep(child(node, 'root'), 'root'),
    bass: pitchStep(child(node, 'bass'), 'bass'),
    kind: kind?.text.trim() ?? '',
    text: cleanName(kind?.attributes['text'] ?? ''),
    degrees: node.children
      .filter((each) => each.name === 'degree')
      .map((each) => ({
        value: numberOf(textOf(each, 'degree-value'), 0),
        alter: numberOf(textOf(each, 'degree-alter'), 0),
        type: textOf(each, 'degree-type'),
        isPrinted: each.attributes['print-object'] !== 'no',
      })),
    inversion: numberOf(textOf(node, 'inversion'), 0),
    isNumeral: child(node, 'root') === undefined && (child(node, 'numeral') ?? child(node, 'function')) !== undefined,
  };
}

function meterOf(node: Node): ReadMeter {
  const beats = node.children.filter((each) => each.name === 'beats').map((each) => each.text.trim());
  const units = node.children.filter((each) => each.name === 'beat-type').map((each) => numberOf(each.text, 0));
  const count = beats.flatMap((each) => each.split('+')).reduce((sum, each) => sum + numberOf(each, Number.NaN), 0);
  const isOneUnit = units.every((each) => each === units[0]);
  const text = beats.map((each, index) => `${each}/${units[index] ?? '?'}`).join(' + ') || 'none';
  return { count: isOneUnit ? count : Number.NaN, unit: units[0] ?? Number.NaN, text };
}

/** A transposition on the line of fifths: seven semitones and four steps up are one fifth up. */
function fifthsOf(node: Node): number {
  const chromatic = numberOf(textOf(node, 'chromatic'), 0);
  const diatonic = child(node, 'diatonic');
  if (diatonic !== undefined) return 7 * chromatic - 12 * numberOf(diatonic.text, 0);
  // without steps: the plainest spelling, from five flats to six sharps
  return ((((chromatic * 7 + 5) % 12) + 12) % 12) - 5;
}

/** Quarters a minute of a metronome mark; NaN where it names no number. */
function tempoOf(metronome: Node): number {
  const quarters: Readonly<Record<string, number>> = { whole: 4, half: 2, quarter: 1, eighth: 0.5 };
  const dots = metronome.children.filter((each) => each.name === 'beat-unit-dot').length;
  const unit = (quarters[textOf(metronome, 'beat-unit')] ?? Number.NaN) * (dots === 0 ? 1 : 1.5);
  return numberOf(/\d+(?:\.\d+)?/u.exec(textOf(metronome, 'per-minute'))?.[0], Number.NaN) * unit;
}

function takeSound(sound: Node, score: ReadScore, measure: ReadMeasure): void {
  readSound(sound, measure.form);
  const tempo = numberOf(sound.attributes['tempo'], 0);
  if (tempo > 0) score.quartersAMinute ??= tempo;
  const swing = child(sound, 'swing');
  if (swing !== undefined) score.feel ??= child(swing, 'straight') === undefined ? 'swing' : 'even';
}

function takeDirection(direction: Node, score: ReadScore, measure: ReadMeasure): void {
  const { form } = measure;
  const types = direction.children.filter((each) => each.name === 'direction-type').flatMap((each) => each.children);
  const text = cleanName(
    types
      .filter((each) => each.name === 'words')
      .map((each) => each.text)
      .join(' '),
  );
  for (const each of types) {
    if (each.name === 'rehearsal') form.rehearsal = cleanName(each.text);
    if (each.name === 'segno') form.segno = true;
    if (each.name === 'metronome' && tempoOf(each) > 0) score.quartersAMinute ??= tempoOf(each);
  }
  const hadJump = form.jump !== null;
  readFormWords(text, form);
  // a coda sign beside 'To' is where to leave from, beside 'D.S. al' where to go; alone it is where the coda begins
  if (types.some((each) => each.name === 'coda')) {
    if (!/\b(?:to|al)\s*(?:coda\s*)?$/iu.test(text)) form.coda = true;
    else if (form.jump !== null && !hadJump) form.jumpUntil = 'coda';
    else form.toCoda = true;
  }
  if (/\bswing\b/iu.test(text)) score.feel ??= 'swing';
  if (/^(?:straight|even)\b/iu.test(text)) score.feel ??= 'even';
  const sound = child(direction, 'sound');
  if (sound !== undefined) takeSound(sound, score, measure);
}

/** Reads one measure while the file streams past: each of its children is whole when it is handed over. */
export interface MeasureReading {
  readonly measure: ReadMeasure;
  take(node: Node): void;
  /** In force at the measure's end: divisions of a quarter. */
  divisions(): number;
}

export function measureReading(
  score: ReadScore,
  part: ReadPart,
  attributes: Node['attributes'],
  divisionsBefore: number,
): MeasureReading {
  let divisions = divisionsBefore;
  // where the next element stands, in ticks from the measure's start
  let at = 0;
  const measure: ReadMeasure = {
    isImplicit: attributes['implicit'] === 'yes',
    number: attributes['number'] ?? '',
    contentTicks: 0,
    key: null,
    meter: null,
    noteCount: 0,
    transposeFifths: part.transposeFifths,
    harmonies: [],
    form: emptyForm(),
  };
  const ticksOf = (node: Node, name: string): number =>
    Math.round((numberOf(textOf(node, name), 0) * TICKS_PER_QUARTER) / divisions);
  const moveBy = (ticks: number): void => {
    at = Math.max(0, at + ticks);
    measure.contentTicks = Math.max(measure.contentTicks, at);
  };
  const takeAttributes = (node: Node): void => {
    const stated = numberOf(textOf(node, 'divisions'), divisions);
    if (stated > 0) divisions = stated;
    const key = child(node, 'key');
    const time = child(node, 'time');
    const transpose = child(node, 'transpose');
    if (key !== undefined) {
      const fifths = numberOf(textOf(key, 'fifths'), Number.NaN);
      measure.key = { fifths: Number.isInteger(fifths) ? fifths : null, mode: textOf(key, 'mode').toLowerCase() };
    }
    if (time !== undefined) measure.meter = meterOf(time);
    if (transpose !== undefined) {
      part.transposeFifths = fifthsOf(transpose);
      measure.transposeFifths = part.transposeFifths;
    }
  };
  const take = (node: Node): void => {
    switch (node.name) {
      case 'note':
        if (child(node, 'rest') === undefined) measure.noteCount++;
        if (child(node, 'chord') === undefined && child(node, 'grace') === undefined) moveBy(ticksOf(node, 'duration'));
        break;
      case 'backup':
        moveBy(-ticksOf(node, 'duration'));
        break;
      case 'forward':
        moveBy(ticksOf(node, 'duration'));
        break;
      case 'harmony':
        measure.harmonies.push(harmonyOf(node, at + ticksOf(node, 'offset')));
        break;
      case 'attributes':
        takeAttributes(node);
        break;
      case 'barline':
        readBarline(node, measure.form);
        break;
      case 'direction':
        takeDirection(node, score, measure);
        break;
      case 'sound':
        takeSound(node, score, measure);
        break;
      default:
    }
  };
  return { measure, take, divisions: () => divisions };
}
