import type { Issue, Result } from '../issue/index.ts';
import type { Chord, ChordSymbol, NoChord } from './chord.ts';
import { headsOf, keyOf } from './chord-heads.ts';
import { CHORD_KINDS_BY_SYMBOL, type ChordKind } from './chord-kinds.ts';
import { canonicalSuffix, fifthGivesWay, qualityOf, stacked } from './chord-spelling.ts';
import { chordTokensOf, type ChordToken } from './chord-token.ts';
import {
  alterationOf,
  degree,
  degrees as degreesIn,
  formatDegree,
  parseDegree,
  semitonesOf,
  stepOf,
  type Degree,
} from './degree.ts';
import { nearestOf } from '../edit-distance.ts';
import { cutText } from '../plain-text.ts';
import {
  formatNoteName,
  HIGHEST_FIFTHS,
  LOWEST_FIFTHS,
  parseNoteName,
  pitchClassOf,
  spellingsOf,
  type NoteName,
} from './note-name.ts';

/** The one value for a place where nobody plays a chord. */
export const NO_CHORD: NoChord = { kind: 'no chord', symbol: 'N.C.' };

/** A longer text is no chord symbol; it is not looked at any closer. */
const LONGEST_SYMBOL = 60;
/** The part of an unknown suffix that is compared with what is known. */
const LONGEST_COMPARED = 16;

/** Roots with one accidental at most: F flat to B sharp. */
const LOWEST_ROOT_FIFTHS = -8;
const HIGHEST_ROOT_FIFTHS = 12;

const THIRD = degree('3');
const MINOR_THIRD = degree('b3');
const FOURTH = degree('4');
const SECOND = degree('2');
const FIFTH = degree('5');
const FLAT_FIFTH = degree('b5');
const SHARP_FIFTH = degree('#5');
const FLAT_THIRTEENTH = degree('b13');
const NINTH = degree('9');
const ELEVENTH = degree('11');

/** What may be added to a kind, or alters its fifth. Common practice. */
const ADDABLE = degreesIn('b5 #5 b9 9 #9 11 #11 b13 13');
/** What may be left out of a kind. */
const OMITTABLE = degreesIn('3 b3 5 9 11');

const HEADS = headsOf(CHORD_KINDS_BY_SYMBOL);
const LONGEST_HEAD = Math.max(...[...HEADS.keys()].map((key) => key.split(' ').length));

/** Known suffixes an unknown one is compared with: every kind, and the usual alterations of the usual kinds. */
const KNOWN_SUFFIXES: readonly string[] = CHORD_KINDS_BY_SYMBOL.map((kind) => kind.suffix).concat(
  ['b9', '#9', '#11', 'b13', '13', 'b5', 'b9,b13', 'b9,13', '#9,b13', 'b9,#11', '#9,#11', 'b9,#9'].map(
    (list) => `7(${list})`,
  ),
  ['9(#11)', '13(#11)', 'maj7(#11)', 'maj9(#11)', 'maj13(#11)', '7sus(b9)', '6/9(#11)', 'm7(11)', '(add9)', 'm(add9)'],
);

/** The chord of these degrees on a root, with its quality and its canonical symbol. */
function chordOn(root: NoteName, degrees: Iterable<Degree>, bass: NoteName | null): Chord {
  const all = stacked(degrees);
  const suffix = canonicalSuffix(all);
  const writtenBass = bass === root ? null : bass;
  const symbol = symbolText(root, suffix, writtenBass);
  return { kind: 'chord', root, quality: qualityOf(all), degrees: all, bass: writtenBass, suffix, symbol };
}

/**
 * The chord of these degrees on a root, for whoever has degrees and no symbol (another file format, a transposition).
 * The fifth gives way to a b13. Undefined where no symbol can say these degrees, or a note of it could not be written.
 * @example chordFromDegrees(noteName('F'), degrees('1 b3 b5 b7'), null)?.symbol // → 'Fm7b5'
 */
export function chordFromDegrees(root: NoteName, degrees: readonly Degree[], bass: NoteName | null): Chord | undefined {
  const kept = fifthGivesWay(degrees) ? degrees.filter((each) => each !== FIFTH) : degrees;
  const chord = chordOn(root, kept, bass);
  const again = readChordSymbol(chord.symbol);
  return again.ok && again.value.kind === 'chord' && sameDegrees(again.value.degrees, chord.degrees)
    ? chord
    : undefined;
}

function sameDegrees(a: readonly Degree[], b: readonly Degree[]): boolean {
  return a.length === b.length && a.every((each, index) => each === b[index]);
}

/** Whether every note of a chord on this root can be written with at most two accidentals, and its root with one. */
export function isWritableOn(root: number, degrees: readonly Degree[]): boolean {
  return (
    root >= LOWEST_ROOT_FIFTHS &&
    root <= HIGHEST_ROOT_FIFTHS &&
    degrees.every((each) => root + each >= LOWEST_FIFTHS && root + each <= HIGHEST_FIFTHS)
  );
}

/** The same kind of chord on another root and bass. */
export function respelledChord(chord: Chord, root: NoteName, bass: NoteName | null): Chord {
  return { ...chord, root, bass, symbol: symbolText(root, chord.suffix, bass) };
}

function symbolText(root: NoteName, suffix: string, bass: NoteName | null): string {
  return formatNoteName(root) + suffix + (bass === null ? '' : `/${formatNoteName(bass)}`);
}

/** What stops a suffix: a token that is not understood, or one that contradicts what stands before it. */
type Fault =
  | { readonly kind: 'unknown'; readonly at: number }
  | { readonly kind: 'contradiction'; readonly at: number; readonly what: string; readonly against: string };

type Suffix = { readonly degrees: ReadonlySet<Degree>; readonly fault: Fault | null };

/** What a degree is called in a message. */
function nameInMessage(value: Degree): string {
  return formatDegree(value, stepOf(value) % 2 === 1 ? 'extension' : 'octave');
}

/** The degree already there that a new one contradicts: the same letter natural and altered, or the same key twice. */
function contradicted(degrees: ReadonlySet<Degree>, added: Degree): Degree | undefined {
  return [...degrees].find((each) => {
    if (each === added) return false;
    if (semitonesOf(each) === semitonesOf(added)) return true;
    const isSameTension = stepOf(each) === stepOf(added) && stepOf(added) % 2 === 1;
    if (isSameTension) return alterationOf(each) === 0 || alterationOf(added) === 0;
    return added === SHARP_FIFTH && each === FLAT_FIFTH && degrees.has(MINOR_THIRD);
  });
}

/** Reads the tokens of a suffix; where one is at fault, gives what was understood before it. */
function readSuffix(tokens: readonly ChordToken[], stoppedAt: number | null): Suffix {
  let headLength = Math.min(tokens.length, LONGEST_HEAD);
  while (!HEADS.has(keyOf(tokens.slice(0, headLength)))) headLength--;
  const head = tokens.slice(0, headLength);
  const degrees = new Set((HEADS.get(keyOf(head)) as ChordKind).degrees);
  // a 9 (and 11) that a higher number only implies gives way to an altered one: 13(b9)
  const highest = Math.max(0, ...head.map((token) => (/^\d+$/u.test(token.text) ? Number(token.text) : 0)));
  const implied = new Set<Degree>([
    ...(highest > 9 ? [NINTH] : []),
    ...(highest > 11 && degrees.has(MINOR_THIRD) ? [ELEVENTH] : []),
  ]);

  const add = (added: Degree, at: number): Fault | null => {
    if (added === FLAT_FIFTH || added === SHARP_FIFTH) degrees.delete(FIFTH);
    for (const each of implied) {
      if (each !== added && stepOf(each) === stepOf(added)) {
        degrees.delete(each);
        implied.delete(each);
      }
    }
    const against = contradicted(degrees, added);
    if (against !== undefined) {
      return { kind: 'contradiction', at, what: nameInMessage(added), against: nameInMessage(against) };
    }
    degrees.add(added);
    if (fifthGivesWay([...degrees])) degrees.delete(FIFTH);
    return null;
  };

  let index = headLength;
  const number = (): Degree | undefined => {
    const token = tokens[index];
    return token === undefined ? undefined : parseDegree(token.text);
  };
  while (index < tokens.length) {
    const token = tokens[index] as ChordToken;
    const at = token.start;
    const unknown: Suffix = { degrees, fault: { kind: 'unknown', at } };
    let fault: Fault | null = null;
    index++;
    if (token.text === 'add') {
      if (tokens[index]?.text === 'maj' && tokens[index + 1]?.text === '7') index++;
      const added = number();
      if (added === undefined || (!ADDABLE.includes(added) && added !== degree('7') && added !== THIRD)) return unknown;
      if (added === THIRD && !degrees.has(THIRD)) {
        return { degrees, fault: { kind: 'contradiction', at, what: 'add3', against: 'sus' } };
      }
      index++;
      fault = add(added, at);
    } else if (token.text === 'omit') {
      const omitted = number();
      const third = omitted === THIRD && degrees.has(MINOR_THIRD) ? MINOR_THIRD : omitted;
      if (third === undefined || !OMITTABLE.includes(third)) return unknown;
      index++;
      const isFifth = stepOf(third) === stepOf(FIFTH);
      const there = isFifth ? [...degrees].find((each) => stepOf(each) === stepOf(FIFTH)) : third;
      if (there === undefined || !degrees.has(there)) {
        if (!(isFifth && degrees.has(FLAT_THIRTEENTH))) {
          return {
            degrees,
            fault: { kind: 'contradiction', at, what: `omit${nameInMessage(third)}`, against: 'a chord without it' },
          };
        }
      } else {
        degrees.delete(there);
      }
    } else if (token.text === 'sus') {
      const isSecond = tokens[index]?.text === '2';
      if (isSecond || tokens[index]?.text === '4') index++;
      if (degrees.has(MINOR_THIRD)) {
        return { degrees, fault: { kind: 'contradiction', at, what: 'sus', against: 'm' } };
      }
      degrees.delete(THIRD);
      fault = add(isSecond ? SECOND : FOURTH, at);
    } else if (token.text === '+') {
      fault = add(SHARP_FIFTH, at);
    } else {
      index--;
      const added = number();
      if (added === undefined || !ADDABLE.includes(added)) return unknown;
      index++;
      fault = add(added, at);
    }
    if (fault !== null) return { degrees, fault };
  }
  return { degrees, fault: stoppedAt === null ? null : { kind: 'unknown', at: stoppedAt } };
}

/** Where the bass begins: after the last slash, unless that one stands before a number or maj; undefined without one. */
function bassStartOf(text: string): number | undefined {
  const slash = text.lastIndexOf('/');
  if (slash < 0) return undefined;
  return /^(?:[b#♭♯+−-]{0,2}\d|[Mm]aj|[Mm]a|M|[Δ∆△▵^])/u.test(text.slice(slash + 1)) ? undefined : slash + 1;
}

function refuse(code: Issue['code'], args: Issue['args'], start: number): { ok: false; issues: Issue[] } {
  return { ok: false, issues: [{ code, args, place: { column: start + 1 } }] };
}

/** A root that reads like a note but is not written so, set right: lower case, H, two accidentals. */
function refuseRoot(text: string): Result<ChordSymbol> {
  // both signs of a pair are taken off whichever way they are typed (Eb♭7), so that what is tried next is shorter
  const typed = /^[A-Ga-gHh](?:[b♭]{1,2}|[#♯]{1,2})?/u.exec(text)?.[0];
  let nearest = 'Fm7, Bb7, Ebmaj7';
  if (typed !== undefined) {
    const accidentals = typed.slice(1).replaceAll('♭', 'b').replaceAll('♯', '#');
    const named = parseNoteName((typed[0] as string).toUpperCase().replace('H', 'B') + accidentals);
    const plain = named === undefined ? undefined : spellingsOf(pitchClassOf(named), 1)[0];
    const root = named !== undefined && formatNoteName(named).length <= 2 ? named : plain;
    const symbol = root === undefined ? '' : formatNoteName(root) + text.slice(typed.length);
    if (readChordSymbol(symbol).ok) nearest = symbol;
  }
  return refuse(DOUBLE_ACCIDENTAL.test(text) ? 'chord.root-spelling' : 'chord.root', { symbol: text, nearest }, 0);
}

/** Two accidentals before anything but the number they alter belong to the root: Bbb7, but not Ab b9. */
const DOUBLE_ACCIDENTAL = /^[A-G](?:[b♭]{2}|[#♯]{2})(?!5|6|9|11|13)/u;

/**
 * Reads a chord symbol as musicians write it, in any of the usual notations.
 * Issues have the column (from 1) of what is at fault and the nearest symbol that is understood.
 * @example readChordSymbol('F-7b5') // → { ok: true, value: { symbol: 'Fm7b5', … }, warnings: [] }
 */
export function readChordSymbol(text: string): Result<ChordSymbol> {
  if (/^n\.?\s?c\.?$/iu.test(text)) return { ok: true, value: NO_CHORD, warnings: [] };
  if (text.length > LONGEST_SYMBOL) {
    return refuse('chord.root', { symbol: `${cutText(text, LONGEST_COMPARED)}…`, nearest: 'Fm7, Bb7, Ebmaj7' }, 0);
  }
  const rootText = /^[A-G][b#♭♯]?/u.exec(text)?.[0];
  if (rootText === undefined || DOUBLE_ACCIDENTAL.test(text)) return refuseRoot(text);
  const root = parseNoteName(rootText) as NoteName;

  const bassStart = bassStartOf(text);
  const suffixText = text.slice(rootText.length, bassStart === undefined ? undefined : bassStart - 1);
  const { tokens, stoppedAt } = chordTokensOf(suffixText);
  const readable = stoppedAt === null ? tokens : tokens.filter((token) => token.start < stoppedAt);
  const { degrees, fault } = readSuffix(readable, stoppedAt);
  if (fault !== null) {
    const start = rootText.length + fault.at;
    if (fault.kind === 'contradiction') {
      const nearest = chordOn(root, degrees, null).symbol;
      return refuse('chord.contradiction', { symbol: text, what: fault.what, against: fault.against, nearest }, start);
    }
    const nearest = formatNoteName(root) + (nearestOf(suffixText.slice(0, LONGEST_COMPARED), KNOWN_SUFFIXES) ?? '');
    return refuse('chord.unknown', { symbol: text, rest: text.slice(start), nearest }, start);
  }
  if (!isWritableOn(root, [...degrees])) {
    const other = spellingsOf(pitchClassOf(root), 1).find((each) => isWritableOn(each, [...degrees])) as NoteName;
    return refuse('chord.unwritable', { symbol: text, nearest: chordOn(other, degrees, null).symbol }, 0);
  }
  if (bassStart === undefined) return { ok: true, value: chordOn(root, degrees, null), warnings: [] };
  const bass = parseNoteName(text.slice(bassStart));
  if (bass === undefined) {
    const nearest = chordOn(root, degrees, null).symbol;
    return refuse('chord.bass', { symbol: text, bass: text.slice(bassStart), nearest }, bassStart);
  }
  return { ok: true, value: chordOn(root, degrees, bass), warnings: [] };
}
