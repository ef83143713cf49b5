/**
 * A judge of spelling, written from docs/spelling.md (common practice, as this house settled it) over letters and accidentals
 * as text, not from the product's own functions: of those it takes only how a note, a degree and a key are written out.
 */
import {
  formatDegree,
  formatKey,
  formatNoteName,
  midiOf,
  type Chord,
  type ChordScale,
  type Lesson,
} from '@fivespan/core';

/** What is judged of a lesson. */
export type Judged = Pick<Lesson, 'analysis' | 'plan' | 'chorus' | 'bass' | 'arpeggios'>;

/** Which rule a note is counted under; `b9` and `b5` are the names of the ♯9 and of the tritone. */
export const SPELLING_RULES = [
  'a',
  'b double',
  'b sharp ninth',
  'b tritone',
  'c root',
  'c rung',
  'e',
  'f',
  'f symbol',
] as const;
export type SpellingRule = (typeof SPELLING_RULES)[number];

export interface SpellingFault {
  readonly rule: SpellingRule;
  readonly key: string;
  readonly bar: number;
  readonly chord: string;
  readonly note: string;
  /** Where it stands: position, bass approach, chorus, arpeggios, scale. */
  readonly where: string;
  readonly wanted: string;
}

export interface SpellingCensus {
  /** How many names were judged by each rule. */
  readonly judged: Record<SpellingRule, number>;
  readonly faults: SpellingFault[];
}

const LETTERS = 'CDEFGAB';
const WHITE_KEYS = [0, 2, 4, 5, 7, 9, 11];
const mod = (value: number, by: number): number => ((value % by) + by) % by;

/** Sharps of a written note, flats negative: `Bbb` −2. */
const sharpsOf = (note: string): number => [...note].slice(1).reduce((sum, sign) => sum + (sign === '#' ? 1 : -1), 0);
const soundOf = (note: string): number =>
  mod((WHITE_KEYS[LETTERS.indexOf(note.charAt(0))] as number) + sharpsOf(note), 12);
const isDouble = (note: string): boolean => Math.abs(sharpsOf(note)) > 1;

/** A sound on a letter, with as many accidentals as it takes. */
function onLetter(letter: string, sound: number): string {
  const sharps = mod(sound - (WHITE_KEYS[LETTERS.indexOf(letter)] as number) + 6, 12) - 6;
  return letter + (sharps < 0 ? 'b' : '#').repeat(Math.abs(sharps));
}

/** A degree as text (`b3`, `#11`) above a root. */
function above(root: string, degree: string): string {
  const number = Number(degree.replace(/^[b#]+/u, ''));
  const signs = degree.replace(/\d+$/u, '');
  const steps = mod(number - 1, 7);
  const letter = LETTERS[(LETTERS.indexOf(root.charAt(0)) + steps) % 7] as string;
  const shift = [...signs].reduce((sum, sign) => sum + (sign === '#' ? 1 : -1), 0);
  return onLetter(letter, mod(soundOf(root) + (WHITE_KEYS[steps] as number) + shift, 12));
}

/** The notes a key has: seven, in minor nine. */
const KEY_DEGREES = {
  major: ['1', '2', '3', '4', '5', '6', '7'],
  minor: ['1', '2', 'b3', '4', '5', 'b6', '6', 'b7', '7'],
} as const;

function notesInKey(key: string): string[] {
  const [tonic = 'C', mode] = key.split(' ');
  return KEY_DEGREES[mode === 'minor' ? 'minor' : 'major'].map((each) => above(tonic, each));
}

/** What a note over a chord must be called, where a rule says; else undefined. */
export interface Wanted {
  readonly rule: SpellingRule;
  readonly name: string;
}

/** How a chord and the scale over it decide names. */
export interface Ground {
  readonly chord: Chord;
  /** The key the chord is read in, as text. */
  readonly key: string;
  readonly scale: ChordScale | null | undefined;
}

const degreesOf = (chord: Chord): string[] => chord.degrees.map((each) => formatDegree(each));
const firstPlain = (...names: [string, string]): string => (isDouble(names[0]) ? names[1] : names[0]);

/** Rule (a): root, 3, 5, 6, 7; a 6 beside a seventh is a 13 and none of them. */
function ownDegrees(chord: Chord): string[] {
  const all = degreesOf(chord);
  const hasSeventh = all.some((each) => each.endsWith('7'));
  const own = all.filter((each) => /^(?:1|b?3|[b#]?5|b{0,2}7)$/u.test(each) || (each === '6' && !hasSeventh));
  return own.includes('1') ? own : ['1', ...own];
}

function wantedByChord({ chord, key }: Ground, sound: number): Wanted | undefined {
  const root = formatNoteName(chord.root);
  const own = ownDegrees(chord).find((each) => soundOf(above(root, each)) === sound);
  // B under the C of C diminished, E under F
  const under = above(root, '7');
  if (own === undefined && degreesOf(chord).includes('bb7') && sharpsOf(under) === 0 && soundOf(under) === sound)
    return { rule: 'e', name: under };
  if (own === undefined) return undefined;
  const name = above(root, own);
  if (!degreesOf(chord).includes('bb7')) return { rule: 'a', name };
  if (own === '1' || own === 'b3') return isDouble(name) ? undefined : { rule: 'e', name };
  const inKey = notesInKey(key).find((each) => soundOf(each) === sound && !isDouble(each));
  return inKey === undefined ? undefined : { rule: 'e', name: inKey };
}

/** What docs/spelling.md wants a sound to be called over a chord. */
export function wantedOver(ground: Ground, sound: number): Wanted | undefined {
  const own = wantedByChord(ground, sound);
  if (own !== undefined) return own;
  const { chord, scale } = ground;
  const root = formatNoteName(chord.root);
  const written = degreesOf(chord);
  const isAlt = chord.suffix.includes('alt');
  // a written bass is as written, D under A♯7
  if (chord.bass !== null && soundOf(formatNoteName(chord.bass)) === sound) return undefined;
  const interval = mod(sound - soundOf(root), 12);
  // in a scale on another root only a dominant has a ♯9, and the tritone is that scale's own note
  const isElsewhere = scale !== null && scale !== undefined && formatNoteName(scale.scale.root) !== root;
  if (interval === 3 && written.includes('3') && !(isElsewhere && chord.quality !== 'dominant')) {
    const [sharp, minor] = [above(root, '#2'), above(root, 'b3')];
    const isSaid = written.includes('#2') && !isAlt;
    return { rule: 'b sharp ninth', name: isSaid ? firstPlain(sharp, minor) : firstPlain(minor, sharp) };
  }
  if (interval === 6 && scale !== null && scale !== undefined && !isElsewhere) {
    const onFifth = /altered|locrian|blues/iu.test(scale.name) || written.includes('b5');
    const [fifth, fourth] = [above(root, 'b5'), above(root, '#4')];
    return { rule: 'b tritone', name: onFifth ? firstPlain(fifth, fourth) : firstPlain(fourth, fifth) };
  }
  return undefined;
}

/** Accidentals a scale takes on a root. */
const accidentalsOn = (root: string, { scale }: ChordScale): number =>
  scale.kind.degrees.reduce((sum, each) => sum + Math.abs(sharpsOf(above(root, formatDegree(each)))), 0);

/** Cadences whose roots a fourth apart are written a fourth apart. */
const FALLING_FIFTHS: ReadonlySet<string> = new Set(['ii-V-I', 'ii-V', 'V-I', 'extended dominants', 'turnaround']);

/** Judges every name of a lesson; chromatic neighbours of the chorus that are not the chord's own lie between two notes and are left out. */
export function judgeSpelling({ analysis, plan, chorus, bass, arpeggios }: Judged): SpellingCensus {
  const judged = Object.fromEntries(SPELLING_RULES.map((each) => [each, 0])) as Record<SpellingRule, number>;
  const faults: SpellingFault[] = [];
  const home = formatKey(analysis.key);
  /** What was found before for a note over a chord and scale. */
  const known = new Map<string, { readonly wanted: Wanted | undefined }>();

  const tell = (slotIndex: number, rule: SpellingRule, note: string, where: string, wanted: string): void => {
    const slot = analysis.slots[slotIndex];
    const bar = slot?.played.playedBar.bar.number ?? 0;
    faults.push({ rule, key: home, bar, chord: slot?.chord?.symbol ?? '', note, where, wanted });
  };
  const judgeNote = (slotIndex: number, note: string, where: string, scale: Ground['scale']): void => {
    const slot = analysis.slots[slotIndex];
    if (slot === undefined || slot.chord === null) return;
    const ground = { chord: slot.chord, key: formatKey(slot.reading.key), scale };
    const place = `${slot.chord.symbol} ${ground.key} ${scale?.id} ${note}`;
    const found = known.get(place) ?? { wanted: wantedOver(ground, soundOf(note)) };
    known.set(place, found);
    const { wanted } = found;
    const rule = wanted?.rule ?? 'b double';
    judged[rule]++;
    if (wanted === undefined ? isDouble(note) : note !== wanted.name) {
      tell(slotIndex, rule, note, where, wanted?.name ?? 'one accidental at most');
    }
  };

  for (const [index, slot] of plan.slots.entries()) {
    for (const note of slot.position?.notes ?? []) judgeNote(index, formatNoteName(note), 'position', slot.chordScale);
  }
  for (const [index, note] of chorus.entries()) {
    const slot = plan.slots[note.slotIndex];
    const name = formatNoteName(note.pitch.name);
    const sound = soundOf(name);
    // what a teacher wrote is no neighbour by its kind, but by where it goes
    const next = chorus[index + 1];
    const followsAtOnce = next !== undefined && next.startTicks === note.startTicks + note.durationTicks;
    const leads = note.own === true && followsAtOnce && Math.abs(midiOf(next.pitch) - midiOf(note.pitch)) === 1;
    const isAtHome =
      slot?.analysed.chord != null &&
      (isOwned(slot.analysed.chord, sound) ||
        (slot.chordScale?.notes ?? []).some((each) => soundOf(formatNoteName(each)) === sound));
    if (leads && !isAtHome) {
      judged['b double']++;
      if (isDouble(name)) tell(note.slotIndex, 'b double', name, 'chorus', 'one accidental at most');
    } else if (note.neighbour === null || (slot?.analysed.chord != null && isOwned(slot.analysed.chord, sound))) {
      judgeNote(note.slotIndex, name, 'chorus', slot?.chordScale);
    }
  }
  for (const { slotIndex, pitch, function: does } of bass) {
    // a note that leads into the next chord has its name from there where this chord does not own the sound
    const leads = does === 'approach' || does === 'enclosure';
    const note = formatNoteName(pitch.name);
    const slot = analysis.slots[slotIndex];
    const owns = slot !== undefined && slot.chord !== null && isOwned(slot.chord, soundOf(note));
    if (leads && !owns) {
      judged['b double']++;
      if (isDouble(note)) tell(slotIndex, 'b double', note, `bass ${does}`, 'one accidental at most');
    } else if (does !== 'bass') judgeNote(slotIndex, note, `bass ${does}`, slot?.chordScales[0]);
    else {
      judged['f symbol']++;
      const written = formatNoteName(slot?.chord?.bass ?? pitch.name);
      if (note !== written) tell(slotIndex, 'f symbol', note, 'bass as written', written);
    }
  }
  for (const { slotIndex, pitch } of arpeggios) {
    judgeNote(slotIndex, formatNoteName(pitch.name), 'arpeggios', plan.slots[slotIndex]?.chordScale);
  }
  judgeScales();
  judgeSymbols();
  return { judged, faults };

  function judgeScales(): void {
    for (const [index, { chord, chordScales, reading }] of analysis.slots.entries()) {
      if (chord === null) continue;
      const root = formatNoteName(chord.root);
      for (const rung of chordScales) {
        const own = formatNoteName(rung.scale.root);
        const where = `scale ${rung.id}`;
        // an upper chord over its bass, D♭m7/G♭, may be heard on the bass, which is named as written
        const isOnBass = chord.bass !== null && own === formatNoteName(chord.bass);
        if (soundOf(own) === soundOf(root) || isOnBass) {
          judged['c root']++;
          if (own !== root && !isOnBass) tell(index, 'c root', own, where, root);
          continue;
        }
        judged['c rung']++;
        // the blues scale is the tonic's, not a scale moved outside: it has the key's own name
        const tonic = formatNoteName(reading.key.tonic);
        if (rung.id.startsWith('blues') && soundOf(own) === soundOf(tonic)) {
          if (own !== tonic) tell(index, 'c rung', own, where, tonic);
          continue;
        }
        // never C♭, F♭, E♯ or B♯ (docs/chord-scales.md)
        const others = [...LETTERS]
          .map((letter) => onLetter(letter, soundOf(own)))
          .filter((each) => !isDouble(each) && !/^(?:[CF]b|[EB]#)$/u.test(each));
        const least = others.reduce((a, b) => (accidentalsOn(b, rung) < accidentalsOn(a, rung) ? b : a), own);
        if (accidentalsOn(least, rung) < accidentalsOn(own, rung)) tell(index, 'c rung', own, where, least);
      }
    }
  }

  function judgeSymbols(): void {
    for (const [index, { chord }] of analysis.slots.entries()) {
      if (chord === null) continue;
      for (const name of [chord.root, chord.bass ?? chord.root].map(formatNoteName)) {
        judged['f symbol']++;
        if (isDouble(name)) tell(index, 'f symbol', name, 'symbol', 'one accidental at most');
      }
    }
    for (const { kind, slots } of analysis.cadences) {
      if (!FALLING_FIFTHS.has(kind)) continue;
      for (const [order, index] of slots.entries()) {
        const [chord, next] = [analysis.slots[index]?.chord, analysis.slots[slots[order + 1] ?? -1]?.chord];
        if (!chord || !next) continue;
        const [root, goal] = [formatNoteName(chord.root), formatNoteName(next.root)];
        if (mod(soundOf(goal) - soundOf(root), 12) !== 5) continue;
        judged.f++;
        if (above(root, '4') !== goal) tell(index, 'f', root, `before ${next.symbol}`, above(goal, '5'));
      }
    }
  }
}

/** Whether a sound is one of the chord's own. */
function isOwned(chord: Chord, sound: number): boolean {
  const root = formatNoteName(chord.root);
  return ownDegrees(chord).some((each) => soundOf(above(root, each)) === sound);
}

/** A fault in one line: key, bar, chord, note, rule. */
export const wordsOfFault = ({ key, bar, chord, note, rule, where, wanted }: SpellingFault): string =>
  `${key}, bar ${bar}, ${chord}: ${note} (${where}) by rule ${rule}, wanted ${wanted}`;
