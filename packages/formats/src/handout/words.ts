import type { HandSize, VoicingKind } from '@fivespan/core';
import { ENGLISH_DIAGRAM_WORDS } from '../diagram/index.ts';
import type { Again } from './said-once.ts';

/** A number as English says it in a sentence. */
const DEGREE_WORDS: Readonly<Record<number, string>> = {
  0: 'root',
  1: 'ninth',
  2: 'third',
  3: 'fourth',
  4: 'fifth',
  5: 'sixth',
  6: 'seventh',
};

const SEMITONE_WORDS: Readonly<Record<number, string>> = { 1: 'a half step', 2: 'a whole step' };

const VOICING_WORDS: Readonly<Record<VoicingKind, string>> = {
  'guide tones': 'third and seventh',
  shells: 'the root with the third or the seventh',
  rootless: 'without the root, built on the 3 or on the 7',
  'two hands': 'for two hands, the root left',
  quartal: 'in fourths where the chord-scale gives them',
  'upper structures': 'third and seventh left, a triad of the chord-scale right',
};

const JUMP_WORDS = { 'da capo': 'D.C.', 'dal segno': 'D.S.' } as const;
const UNTIL_WORDS = { end: '', fine: ' al Fine', coda: ' al Coda' } as const;

const joined = (names: readonly string[]): string =>
  names.length < 2 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;

/**
 * Every word a handout prints, in English. A translation is another table of this type; sentences are made whole, because
 * word order differs between languages.
 */
export const ENGLISH = {
  /** As PDF and HTML name it. */
  language: 'en',
  diagram: ENGLISH_DIAGRAM_WORDS,
  untitled: 'Untitled',
  key: (tonic: string, mode: 'major' | 'minor') => `${tonic} ${mode}`,
  /** Before a numeral, where another key begins: `Gm:`. */
  numeralKey: (tonic: string, mode: 'major' | 'minor') => `${tonic}${mode === 'minor' ? 'm' : ''}:`,
  feel: { swing: 'swing', even: 'even eighths' },
  page: { study: 'study page', play: 'play page', sheet: 'one page' },
  view: { study: 'study', play: 'play', sheet: 'one page' },
  hand: (hand: HandSize) =>
    typeof hand === 'string' ? `for a ${hand} hand` : `for a hand that spans ${hand.spanMm} mm`,
  made: (level: number, seed: number) => `level ${level} · chorus no. ${seed}`,
  /** @param reader the key of the instrument, `B♭`; null for one that reads bass clef at concert pitch */
  part: (reader: string | null) => (reader === null ? 'part in bass clef' : `part in ${reader}`),
  /** The key as all hear it, where a part is written in another. */
  concert: (key: string) => `concert ${key}`,
  walkingBass: 'Walking bass',
  walkingBassNote: 'the keyboard’s left hand, one chorus',
  pageOf: (page: number, pages: number) => (pages === 1 ? `${page}` : `${page} of ${pages}`),
  missingCharacters: '\uFFFD stands for a character of the title or a name that the page\u2019s fonts do not have.',

  segno: 'Segno',
  coda: 'Coda',
  toCoda: 'To Coda',
  fine: 'Fine',
  jump: (kind: keyof typeof JUMP_WORDS, until: keyof typeof UNTIL_WORDS) => JUMP_WORDS[kind] + UNTIL_WORDS[until],
  times: (count: number) => `${count} times`,
  thumbHere: 'thumb here',
  thumbElsewhere: 'other thumbs of the family',
  /** How degrees are set, each word set so itself. */
  degreeLook: { 'chord tone': 'bold', tension: 'italic', rubs: '' },
  degreeKind: { 'chord tone': 'chord tone', tension: 'tension', rubs: 'rubs (avoid note)' },
  thumbNow: 'thumb now',
  thumbNext: 'thumb next',
  thumbMay: 'the thumb may go there, in any octave',
  thumbSecond: 'or there',
  otherShapes: (marks: readonly string[]) => `${marks.join(' ')} another shape: see the pictures`,

  /** Signs behind a name that the hand has in several octaves. */
  octave: { '↑': 'the higher one of that name', '↓': 'the lower one of that name' },

  whereTheThumbGoes: 'Where the thumb goes',
  /** What lies under the fingers, shape by shape. */
  shapes: (shapes: readonly { readonly mark: string; readonly shape: string }[]) =>
    shapes.length === 1 && shapes[0] !== undefined
      ? `Under fingers 1 to 5: ${shapes[0].shape}`
      : `Under fingers 1 to 5: ${shapes.map(({ mark, shape }) => (mark === '' ? shape : `with\u00A0${mark} ${shape}`)).join('; ')}.`,
  namedShape: (name: string, degrees: string) => `${name} (${degrees})`,
  /** A shape without a trade name. */
  unnamedShape: (halfSteps: readonly string[]) => `the thumb’s note, then ${joined(halfSteps)} half steps above it`,
  thumb: (name: string) => `thumb ${name}`,
  /** Behind the name: other names the chart has for the thumb's key. */
  alsoNamed: (names: readonly string[]) => `, on the chart also ${joined(names)}`,
  /** @param more bars that `numbers` does not name */
  bars: (numbers: string, count: number, pickup: boolean, more: number) =>
    [
      pickup ? 'pickup' : '',
      count === 0 ? '' : `${count === 1 ? 'bar' : 'bars'}\u00A0${numbers}${more === 0 ? '' : ` … and ${more} more`}`,
    ]
      .filter((each) => each !== '')
      .join(', '),
  over: (chord: string, scale: string) => `over ${chord} (${scale}):`,
  noPosition: (chords: readonly string[]) =>
    `None of the five-note shapes lies inside the chord-scale of ${joined(chords)}: play the chord there, or rest.`,
  otherUses: (count: number) => `and over ${count} more`,

  whatRubs: 'What rubs, and where it goes',
  nothingRubs: 'Nothing: no note of these chord-scales lies a half step above a tone of its chord.',
  rubsAbove: (note: string, degree: string, step: number, tone: string) =>
    `${note} (${degree}) lies a half step above the ${DEGREE_WORDS[step] ?? 'chord tone'}, ${tone}.`,
  rubs: (note: string, degree: string) => `${note} (${degree}) rubs against the chord.`,
  resolve: (note: string, semitones: number, target: string) =>
    `Let ${note} ${semitones < 0 ? 'fall' : 'rise'} ${SEMITONE_WORDS[Math.abs(semitones)] ?? 'a step'} to ${target}.`,
  leftOut: (thumbs: readonly string[], note: string) =>
    thumbs.length === 1
      ? `The position on ${thumbs[0]} leaves ${note} out.`
      : `The positions on ${joined(thumbs)} leave ${note} out.`,
  insteadOf: (
    scale: string,
    thumbs: readonly string[],
    changes: readonly { readonly from: string; readonly to: string }[],
  ) =>
    `Or play ${scale}, ${thumbs.length === 1 ? 'thumb' : 'thumbs'} on ${joined(thumbs)}: ${joined(changes.map(({ from, to }) => `${from} becomes ${to}`))}.`,

  leftHand: 'Left hand',
  leftHandNote: (level: 1 | 2 | 3 | 4) =>
    ({
      1: 'root, fifth, and an approach note into each change',
      2: 'chord and scale notes, and an approach note into each change',
      3: 'chord, scale and chromatic notes, and an approach note into each change',
      4: 'as freely, with broken time, triplets and pedal points',
    })[level],
  voicings: 'Voicings',
  voicingsNote: (kind: VoicingKind, halfSteps: number) =>
    `${VOICING_WORDS[kind]}; from chord to chord all voices together move ${halfSteps} half steps, the fewest there are`,
  inThirds: 'Chords in thirds',
  inThirdsNote: 'a letter says where the thumb moves; back down the same way where the bar has time',
  /** Bars that are left out, for they are as others. */
  again: ({ from, to, asFrom, asTo }: Again) =>
    from === asFrom && to === asTo
      ? `bars ${from}–${to} are the same again`
      : `bars ${from}–${to} as bars ${asFrom}–${asTo}`,
  oneWay: 'One way to play it',
  oneWayOf: (from: number, to: number) =>
    from === to ? `One way to play bar ${from}` : `One way to play bars ${from}–${to}`,
  morePositions: (count: number) =>
    count === 1 ? 'One more position is on the study page.' : `${count} more positions are on the study page.`,
  moreRubs: (count: number) =>
    count === 1 ? 'One more chord: see the study page.' : `${count} more chords: see the study page.`,
  oneWayNote: (thumbs: string) => `thumb: ${thumbs}`,
  theHand: 'The hand',
  chorus: 'One chorus',

  notation: (what: string, system: number, systems: number) => `${what}, in notes: line ${system} of ${systems}`,

  drill: {
    page: 'drill',
    keys: (count: number) => `${count} keys`,
    wholeTune: 'the whole tune',
    listenFor: 'Listen for:',
    tempi: 'Tempi, one after the other:',
    limit: (bpm: number, because: string) => `At most ${bpm}: ${because}.`,
  },

  steps: 'Steps',
  step: {
    thumbs: 'Thumbs alone, in time:',
    positions: 'Each position up and down over its chords:',
    bass: 'Left hand alone, then with the thumbs:',
    thirds: 'Chords in thirds, one chord at a time:',
    written: (from: string, to: string) =>
      from === to ? `Bar ${from} as written:` : `Bars ${from}–${to} as written, then the whole chorus:`,
    writtenHere: (from: string, to: string) =>
      `${from === to ? `Bar ${from}` : `Bars ${from}–${to}`} as written, then with notes of your own:`,
    own: 'The same way round with notes of your own, the thumb where the page has it:',
    fromTo: '\u00A0to\u00A0',
  },
  /** Source: BAPAM, docs/sources.md, 9; the level: WHO-ITU H.870, same place. */
  cautions: [
    'Rest five minutes in every half hour.',
    'Stop if anything hurts; if it comes back, see a clinician.',
    'Add no more than ten minutes a day to what you practise now.',
    'Keep the level moderate.',
  ],
  /** The same where there is room for a line. Source: as above. */
  cautionsShort: 'Rest five minutes in every half hour; stop if anything hurts. Keep the level moderate.',
};

export type HandoutWords = typeof ENGLISH;
