/** What the study screen says. English; another language is another table of this shape. */
import type {
  CadenceKind,
  ChordScale,
  LineId,
  PartGroup,
  PartStaff,
  VoicingFault,
  VoicingKind,
  VoicingLineFault,
} from '@fivespan/core';
import { timeText } from './times.ts';

/** How the key's own family of positions is moved to get to a chord-scale, as said beside its thumbs. */
const MOVES: Readonly<Record<string, string>> = {
  stay: 'home family',
  'up a fifth': 'raised a fifth',
  'down a fifth': 'lowered a fifth',
  tritone: 'a tritone away',
  'up a half step': 'up a half step',
  'down a half step': 'down a half step',
};

const FIGURES: Readonly<Record<CadenceKind, string>> = {
  'ii-V-I': 'ii–V–I',
  'ii-V': 'ii–V',
  'V-I': 'V–I',
  'ii-subV-I': 'ii–subV–I',
  'subV-I': 'subV–I',
  backdoor: 'backdoor',
  'extended dominants': 'chain of dominants',
  turnaround: 'turnaround',
  plagal: 'plagal',
  'diminished passing': 'passing diminished',
  'diminished auxiliary': 'auxiliary diminished',
  'line cliche': 'inner line',
  blues: 'blues',
  'minor blues': 'minor blues',
  'rhythm form': 'rhythm form',
  'rhythm bridge': 'bridge of dominants',
  'modal stretch': 'modal stretch',
  'modal interchange': 'lent by the parallel key',
  'constant structure': 'one kind of chord on moving roots',
};

const STEPS: Readonly<Record<number, string>> = {
  0: 'root',
  1: 'second',
  2: 'third',
  3: 'fourth',
  4: 'fifth',
  5: 'sixth',
  6: 'seventh',
};

const WAYS: Readonly<Record<number, string>> = { 1: 'a half step', 2: 'a whole step' };

function joined(names: readonly string[], last = 'and'): string {
  return names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} ${last} ${names.at(-1)}`;
}

function counted(count: number, one: string, many: string): string {
  return `${count} ${count === 1 ? one : many}`;
}

export const STUDY_WORDS = {
  title: 'Study',
  views: 'Views of the chord',
  view: { chord: 'chord', hand: 'hand', notes: 'notes' },
  beside: { before: 'before', after: 'after' },
  besides: 'The hand before and after',
  besideHand: (thumb: string, mm: number, where: 'before' | 'after') =>
    mm === 0
      ? `thumb ${thumb}, in the same place`
      : `thumb ${thumb}, ${Math.round(mm)} mm ${where === 'before' ? 'from here' : 'away'}`,
  computing: 'Reading the chart …',
  held: 'Say above that you want to go on; then the chart is read.',
  noChords: 'There are no chords to study yet.',
  toChart: 'Write some on the chart',
  notRead: 'The chart could not be read; see above.',
  silent: 'Nobody plays a chord here.',

  chart: 'Chart',
  chartHelp: 'Arrow keys go from chord to chord. H: hear what has the focus.',
  bar: (number: number) => (number === 0 ? 'pickup' : `bar ${number}`),
  bars: (from: number, to: number) => (from === to ? `Bar ${from}` : `Bars ${from} to ${to}`),
  beat: (beat: number) => {
    const whole = Math.floor(beat + 1e-6);
    const rest = beat - whole;
    return rest < 0.01 ? `beat ${whole}` : Math.abs(rest - 0.5) < 0.01 ? `beat ${whole} and` : `after beat ${whole}`;
  },
  inKey: (numeral: string, key: string) => `${numeral} in ${key}`,
  thumbs: (names: readonly string[]) => `thumbs ${names.join(', ')}`,
  partOf: (figures: readonly string[]) => `part of ${joined(figures)}`,
  isPartOf: (figures: readonly string[]) => `Part of ${joined(figures)}.`,
  playedTimes: (count: number) => `played ${count} times`,
  figure: (kind: CadenceKind) => FIGURES[kind],
  figureTo: (kind: CadenceKind, key: string) => `${FIGURES[kind]} in ${key}`,
  hasPin: 'pinned',
  section: (name: string) => `Section ${name}`,
  repeat: (times: number) => (times > 2 ? `×${times}` : ''),

  which: 'Which time',
  time: timeText,

  readings: 'Read it another way',
  readAs: (numeral: string, key: string) => `${numeral} in ${key}`,
  keyFromHere: 'Key from here on',
  pinKey: 'Pin this key from here on',

  ladder: 'Chord-scales, from inside out',
  ladderFault: 'The other chord-scales’ positions could not be computed.',
  again: 'Try again',
  move: (move: string) => MOVES[move] ?? move,
  noFamily: 'no five-note shape lies in it',
  // inside is also what is usual for a chord's function though it leaves the key (docs/chord-scales.md)
  where: ({ inside, outsideness }: Pick<ChordScale, 'inside' | 'outsideness'>): string => {
    const { guideTonesLost, notesOutsideKey } = outsideness;
    const leaving = `${counted(notesOutsideKey, 'note', 'notes')} outside`;
    if (inside) return notesOutsideKey === 0 ? 'inside' : `usual here, ${leaving}`;
    const parts = [
      ...(guideTonesLost === 0 ? [] : [`${counted(guideTonesLost, 'guide tone', 'guide tones')} lost`]),
      ...(notesOutsideKey === 0 ? [] : [leaving]),
    ];
    return parts.length === 0 ? 'outside' : joined(parts);
  },
  roughness: 'Roughness',
  aboutRoughness: 'Roughness: how the positions grate on the chord; 0 is one note, 1 a cluster of half steps.',
  moreRungs: (count: number) => `${count} more`,
  furtherOut: 'further out',
  fewerRungs: 'Fewer',
  inUse: 'in use',
  lookedAt: 'looked at',
  scaleNotes: 'Its notes, and what each is over the chord',
  pinHere: 'Pin it here',
  pinRung: (name: string) => `Pin ${name} here`,
  pinned: 'pinned',

  handParts: 'What of the hand',
  handPart: {
    here: 'this chord',
    free: 'free hand',
    way: 'the way',
    curve: 'outside',
    voicing: 'voicing',
  },
  free: 'What may the hand do here?',
  freeKeyboard: (thumbs: string) => `The thumb may go to ${thumbs}, in every octave`,
  freeBesides: 'besides',
  freeFirst: (scale: string) => `${scale}: thumbs on`,
  freeSecond: 'A free hand may also go to',
  freeNone: 'nothing else',
  freeRung: (scale: string, move: string) => (move === 'stay' ? scale : `${scale}, ${move}`),
  keyboard: 'On the keyboard',
  noHand: (scale: string) => `No five-note shape lies in ${scale}: look at another chord-scale.`,
  shapeOn: (shape: string, thumb: string) => `${shape} on ${thumb}`,
  ofTheChord: (degrees: readonly string[]) => `the ${joined(degrees)} of the chord.`,
  whatRubs: (notes: readonly string[]) =>
    notes.length === 0 ? 'Nothing rubs.' : `${joined(notes)} ${notes.length === 1 ? 'rubs' : 'rub'}: pass through.`,
  positions: 'Thumb on',
  position: (thumb: string) => `Thumb on ${thumb}`,
  higher: 'Octave higher',
  lower: 'Octave lower',
  pinPosition: 'Pin this position',
  backToRoute: 'Back to what is used',
  handNear: 'This position opens the hand near its limit: play it with care, and stop if anything hurts.',
  handBeyond: 'This position lies out of this hand’s reach: roll it or leave a note out, and stop if anything hurts.',
  hear: 'Hear',
  hearThe: {
    chord: 'the chord',
    scale: 'the chord-scale',
    position: 'the position',
    voicing: 'the voicing',
    slot: 'bass and chorus',
    resolution: (note: string) => `how ${note} resolves`,
  },
  soundFault: (message: string) => `No sound: ${message}`,

  rubs: 'What rubs, and where it goes',
  nothingRubs: (name: string) => `Nothing rubs in ${name}: it has no avoid note.`,
  rubsAbove: (degree: string, step: number, tone: string) =>
    ` (${degree}) rubs against the chord’s ${STEPS[step] ?? 'tone'}, ${tone}.`,
  // the one avoid note that is a half step above no chord tone (docs/chord-scales.md)
  rubsPlain: (degree: string) =>
    ` (${degree}) makes a tritone with the chord’s third: the sound of the dominant that comes next, too early.`,
  resolves: (note: string, ways: readonly { readonly semitones: number; readonly to: string }[]) =>
    `Let ${note} ${joined(
      ways.map(
        ({ semitones, to }) => `${semitones < 0 ? 'fall' : 'rise'} ${WAYS[Math.abs(semitones)] ?? 'a step'} to ${to}`,
      ),
      'or',
    )}.`,
  leftOut: (thumbs: readonly string[], note: string) =>
    thumbs.length === 1
      ? `The position on ${thumbs[0]} leaves ${note} out.`
      : `The positions on ${joined(thumbs)} leave ${note} out.`,
  insteadOf: (
    scale: string,
    thumbs: readonly string[],
    changes: readonly { readonly from: string; readonly to: string }[],
  ) =>
    `Or play ${scale}, ${thumbs.length === 1 ? 'thumb' : 'thumbs'} on ${joined(thumbs)}: ${joined(
      changes.map(({ from, to }) => `${from} becomes ${to}`),
    )}, and nothing rubs.`,

  lookAt: (name: string) => `Look at ${name}`,

  pins: 'Pinned by you',
  pinsHere: 'Pinned at this chord',
  noPinsHere: 'Nothing is pinned at this chord.',
  pin: {
    'chord-scale': (name: string, from: number, to: number) =>
      `chord-scale ${name}${from === to ? '' : `, bars ${from} to ${to}`}`,
    position: (thumb: string) => `thumb on ${thumb}`,
    'second-scale': (name: string) => `a free hand may go to ${name} too`,
    voicing: (notes: string) => `voicing ${notes}`,
    chorus: (count: number) => `chorus: ${count === 0 ? 'no notes' : counted(count, 'note', 'notes')} of yours`,
    bass: (count: number) => `bass: ${count === 0 ? 'no notes' : counted(count, 'note', 'notes')} of yours`,
    numeral: (numeral: string) => `read as ${numeral}`,
    key: (key: string) => `${key} from here on`,
  },
  takeOff: 'Take the pin off',
  takeOffThe: (what: string) => `Take the pin off: ${what}`,
  takeAllOff: 'Take all pins off',
  undo: 'Undo',
  redo: 'Redo',
  pinsTotal: (count: number) => (count === 0 ? 'no pins' : counted(count, 'pin', 'pins')),
  notObeyed: 'Not every pin can be obeyed',

  curve: 'Rise and fall outside',
  curveHelp: 'How far the hand may leave the key: low is inside. Draw it, or use the arrow keys.',
  curveOwn: 'Yours.',
  curveComputed: (level: number) => `As computed for level ${level}.`,
  curveTakeBack: 'As computed',
  wish: (wish: number) => ['inside', 'a little outside', 'outside', 'furthest outside'][wish] ?? String(wish),
  wishAt: (from: number, to: number) =>
    from === to ? (from === 0 ? 'Pickup' : `Bar ${from}`) : `${from === 0 ? 'Pickup' : `Bars ${from}`} to ${to}`,

  route: 'The way of the hand',
  routeHelp: 'Space starts and stops, arrow keys go from chord to chord.',
  start: 'Start',
  stop: 'Stop',
  back: 'One chord back',
  forward: 'One chord on',
  withSound: 'with bass and chorus',
  thumbNext: 'next',
  nowhere: 'rest',
  inWords: 'The way in words',
  step: (bar: string, chord: string, hand: string) => `${bar}, ${chord}: ${hand}`,
  stepHand: (thumb: string, scale: string, notes: readonly string[]) =>
    `thumb on ${thumb}, fingers on ${notes.join(' ')}, ${scale}`,
  travel: (mm: number) => `The thumb travels ${Math.round(mm / 10)} cm in all.`,

  voicing: 'The voicing',
  voicingKind: 'Chords are voiced',
  voicingKinds: {
    'guide tones': 'third and seventh',
    shells: 'root and one guide tone',
    rootless: 'rootless, on the 3 or the 7',
    'two hands': 'for two hands',
    quartal: 'in fourths',
    'upper structures': 'with a triad above',
  } satisfies Record<VoicingKind, string>,
  voicesMove: (halfSteps: number) =>
    halfSteps === 0
      ? 'every voice stays'
      : `the voices move ${halfSteps} half ${halfSteps === 1 ? 'step' : 'steps'} from the chord before`,
  voicingPinned: 'pinned',
  anotherVoicing: 'Another way',
  pinVoicing: 'Pin this voicing',

  parts: 'The parts',
  partsWhich: 'What is written',
  earlier: 'Earlier',
  later: 'Later',
  barsSeen: (from: number, to: number) => (from === to ? `bar ${from}` : `bars ${from}–${to}`),
  hearNote: 'Hear the note',
  partsChoice: {
    piano: 'Chorus over bass',
    study: 'Chords in thirds',
    voicings: 'Voicings',
  } satisfies Record<PartGroup, string>,
  anotherOne: 'Another chorus',
  drillBars: (bars: string) => `Drill ${bars}`,
  engraving: 'Engraving …',
  engravingFailed: 'The notes could not be drawn. Reload the page and try again.',
  nothingWritten: 'Nothing is written here: no shape has a position, or nobody plays a chord.',
  writing: {
    change: 'Change notes',
    tools: 'Change the note',
    up: 'Step up',
    down: 'Step down',
    halfUp: 'Half step up',
    halfDown: 'Half step down',
    earlier: 'Begin earlier',
    later: 'Begin later',
    lengths: 'Length',
    length: {
      3840: 'whole',
      2880: 'dotted half',
      1920: 'half',
      1440: 'dotted quarter',
      960: 'quarter',
      720: 'dotted eighth',
      480: 'eighth',
      320: 'triplet eighth',
      240: 'sixteenth',
    },
    otherLength: (beats: string) => `${beats} quarters`,
    short: {
      up: '↑',
      down: '↓',
      halfUp: '½ ↑',
      halfDown: '½ ↓',
      earlier: '←',
      later: '→',
      add: 'Add',
      takeOut: 'Out',
    },
    takeOut: 'Take out',
    add: 'Add after',
    addHere: 'Add here',
    again: 'Compose these again',
    own: 'The notes over this chord are yours.',
    composed: 'The notes over this chord are composed; one change makes all of them yours.',
    ownVoicing: 'This voicing is yours.',
    composedVoicing: 'This voicing is led by itself; one change makes it yours.',
    voicingFault: (fault: VoicingFault | VoicingLineFault) => {
      switch (fault.kind) {
        case 'fingers':
          return `${fault.keys} keys are more than the ${fault.hand} hand has fingers.`;
        case 'reach':
          return `From ${fault.low} to ${fault.high} is wider than the ${fault.hand} hand reaches: roll it or leave a note out.`;
        case 'mud':
          return `${fault.low} and ${fault.high} lie too low to sound clear together.`;
        case 'same key':
          return `The line of the right hand strikes ${fault.line}, which is held here.`;
        case 'crossing':
          return `The line of the right hand goes down to ${fault.line}, below ${fault.held} in the left: the hands meet.`;
        case 'line reach':
          return `Whoever holds ${fault.held} in the right hand does not reach ${fault.line} of its line.`;
      }
    },
    leap: 'The hand leaps to it.',
    nothingHere: 'No note here: add one, or go to another with the left and right arrows.',
    keysTitle: 'Keys',
    keys: [
      ['↑ ↓', 'a step of the chord-scale; with Shift a half step, with Alt an octave'],
      ['← →', 'to the note before or after; with Shift it begins earlier or later, by an eighth'],
      ['Page Up, Page Down', 'to the other hand'],
      ['1 2 4 8 6 3', 'whole, half, quarter, eighth, sixteenth, triplet eighth; a full stop makes it dotted'],
      ['Insert or A', 'a note after this one'],
      ['Delete', 'takes it out'],
      ['H', 'hears it'],
      ['Ctrl+Z', 'undoes'],
      ['Escape', 'ends changing'],
    ],
    connect: 'Connect a MIDI keyboard',
    connected: 'A key you strike takes the note’s place; the next one is next.',
  },
  phrases: {
    title: (count: number) => (count === 0 ? 'Phrases' : `Phrases (${count})`),
    panel: 'Phrases that are kept',
    about: 'A named run of notes, for any chord and for drills.',
    keep: 'Keep as a phrase',
    which: 'What',
    line: { chorus: 'the chorus', bass: 'the bass' } satisfies Record<LineId, string>,
    over: 'over how many chords',
    from: (chord: string, bar: number) => `from ${chord}, ${bar === 0 ? 'the pickup' : `bar ${bar}`}, on`,
    name: 'Name',
    outcome: {
      kept: '',
      silent: 'It is silent there: choose other chords.',
      'name taken': 'Another phrase has this name: choose another one.',
      'no name': 'Give it a name.',
      full: 'The lesson keeps as many phrases as it can: remove one first.',
    },
    none: 'None is kept yet.',
    list: 'Kept phrases',
    wasOver: (chords: string) => `kept over ${chords}`,
    put: 'Put here',
    putOver: (chord: string, bar: number) => `Put here, over ${chord}, ${bar === 0 ? 'the pickup' : `bar ${bar}`}`,
    fits: (chord: string) => `fits over ${chord}`,
    rubs: (notes: string) => `here it would rub: ${notes}`,
    rub: (note: string, chord: string) => `${note} over ${chord}`,
    noRoom: 'no room here: the tune ends before it does',
    drill: 'Drill it in every key',
    rename: 'Rename',
    renamed: 'Take this name',
    remove: 'Remove',
    of: (what: string, name: string) => `${what}: ${name}`,
  },
  motives: {
    title: 'Motives',
    about: 'Fingers and a rhythm, the same in every position.',
    fingers: (fingers: readonly number[]) => `fingers ${fingers.join(' ')}`,
    give: (chord: string, fingers: string) => `Make the chorus of the motive at ${chord}: ${fingers}`,
    madeOf: (fingers: string) => `The chorus is made of ${fingers}.`,
    letGo: 'Let it go',
    none: 'No motive begins at this chord.',
  },
  whyHelp: 'Point at a note, or use the arrow keys: why it is there.',
  notesOf: {
    'right hand': 'right hand',
    'left hand': 'left hand',
    'arpeggio study': 'chords in thirds',
    'voicings, right hand': 'voicings, right hand',
    'voicings, left hand': 'voicings, left hand',
  } satisfies Record<PartStaff, string>,
  note: (place: string, pitch: string, finger: number | null) =>
    `${place}: ${pitch}${finger === null ? '' : `, finger ${finger}`}`,
};
