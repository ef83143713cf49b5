/** What the help says. English; another language is another table of this shape. */
import type { Screen } from '../../features/navigation/index.ts';

/** A word of the trade, or one of ours, in a sentence or two. */
export interface Explained {
  readonly word: string;
  readonly says: string;
  /** Where one meets it. */
  readonly screens: readonly Screen[];
}

/** Common practice, and words of our own where the trade has none. */
export const EXPLAINED: readonly Explained[] = [
  {
    word: 'chart',
    says: 'The changes of a tune, bar by bar, as on any lead sheet: what you write, and the rest is computed from it.',
    screens: ['chart'],
  },
  { word: 'changes', says: 'The chords of a tune in their order.', screens: ['chart', 'study'] },
  {
    word: 'bar',
    says: 'The stretch between two bar lines; % in a bar repeats the one before it.',
    screens: ['chart'],
  },
  {
    word: 'section',
    says: 'A named part of a tune, usually eight bars: A, B, bridge.',
    screens: ['chart'],
  },
  {
    word: 'pickup',
    says: 'An incomplete bar before the first full one.',
    screens: ['chart'],
  },
  {
    word: 'ending',
    says: 'Bars played only the first time, or only the last time, that a section is repeated.',
    screens: ['chart'],
  },
  {
    word: 'chorus',
    says: 'Once through the whole form; also a solo over it.',
    screens: ['play', 'pages'],
  },
  {
    word: 'metre',
    says: 'How many beats a bar has and which note is the beat: 4/4, 3/4.',
    screens: ['chart'],
  },
  {
    word: 'feel',
    says: 'Swing plays two eighths long and short; even plays them alike.',
    screens: ['chart', 'play'],
  },
  {
    word: 'slash chord',
    says: 'A chord with another note in the bass: the note after the slash.',
    screens: ['chart'],
  },
  { word: 'N.C.', says: 'No chord: here nobody plays the harmony.', screens: ['chart'] },
  {
    word: 'slot',
    says: 'One chord’s place in a bar.',
    screens: ['chart', 'study'],
  },
  {
    word: 'numeral',
    says: 'Which step of the key a chord stands on, as a Roman number: V7 is the dominant seventh on the fifth step.',
    screens: ['study'],
  },
  {
    word: 'region',
    says: 'A stretch of the chart in one key. A tune may pass through several.',
    screens: ['study'],
  },
  {
    word: 'cadence',
    says: 'Chords that lead home together, such as ii–V–I.',
    screens: ['study'],
  },
  {
    word: 'tonic',
    says: 'The home of a key: its first note, and the chord on it.',
    screens: ['study'],
  },
  {
    word: 'dominant',
    says: 'The seventh chord on the fifth step; it wants to go to the tonic.',
    screens: ['study'],
  },
  {
    word: 'tritone substitute',
    says: 'A dominant a tritone away, with the same third and seventh: D♭7 for G7.',
    screens: ['study'],
  },
  {
    word: 'backdoor',
    says: 'A dominant that reaches the tonic from a whole step below: B♭7 to C.',
    screens: ['study'],
  },
  {
    word: 'chord-scale',
    says: 'A scale chosen for one chord: all the notes that may sound over it, and what each does there.',
    screens: ['study'],
  },
  {
    word: 'inside and outside',
    says: 'Inside, a chord-scale holds the chord and stays in the key of its region, or is the usual one for what the chord does there; outside, it leaves them on purpose.',
    screens: ['study'],
  },
  {
    word: 'outsideness',
    says: 'How far outside a chord-scale lies: first the guide tones it loses, then its notes outside the key.',
    screens: ['study'],
  },
  {
    word: 'roughness',
    says: 'How much notes beat against a chord’s, computed from the sound itself. It is told to you, and decides only ties.',
    screens: ['study'],
  },
  {
    word: 'chord tone',
    says: 'A note of the chord itself: 1, 3, 5, 7. Set in bold on the keys.',
    screens: ['study', 'play'],
  },
  {
    word: 'tension',
    says: 'A note above the chord that colours it and may stay: 9, 11, 13. Set in italics on the keys.',
    screens: ['study'],
  },
  {
    word: 'guide tones',
    says: 'A chord’s third and seventh: they say what it is and lead to the next.',
    screens: ['study'],
  },
  {
    word: 'avoid note',
    says: 'A note of the scale that should not stay: a half step above a chord tone it rubs (a dominant bears ♭9, ♯9, ♯11 and ♭13), and on a minor seventh that leads to a dominant the 6 sounds that dominant too early. Pass through it, or let it resolve. Marked with ✕.',
    screens: ['study'],
  },
  {
    word: 'shape',
    says: 'Five notes under five fingers, counted from the thumb in half steps: the minor pentatonic is 0 3 5 7 10.',
    screens: ['study', 'play'],
  },
  {
    word: 'pentatonic',
    says: 'A scale of five notes. The minor pentatonic is the shape this whole way of playing starts from.',
    screens: ['study'],
  },
  {
    word: 'position',
    says: 'A shape with its thumb on a certain key: all the hand needs to know.',
    screens: ['study', 'play'],
  },
  {
    word: 'thumb tab',
    says: 'The small tab under the thumb’s key with its name: filled for now, dashed for the other thumbs or the next one.',
    screens: ['study', 'play'],
  },
  {
    word: 'family',
    says: 'All positions of one shape inside one chord-scale. Complete when together they make the whole scale.',
    screens: ['study'],
  },
  {
    word: 'serves, covers',
    says: 'A shape serves a chord when a position of it holds both guide tones; it covers it when the family is complete.',
    screens: ['study'],
  },
  {
    word: 'ladder',
    says: 'All chord-scales for a chord, from the innermost to the outermost.',
    screens: ['study'],
  },
  {
    word: 'route',
    says: 'Which position when, through the whole chart, with as little travel as the hand can have.',
    screens: ['study', 'play'],
  },
  {
    word: 'pin',
    says: 'What you fix yourself, a chord-scale, a position, a numeral or a key; the rest is computed round it.',
    screens: ['study'],
  },
  {
    word: 'fingers',
    says: 'Numbered from the thumb, 1, to the little finger, 5, on both hands.',
    screens: ['study', 'play'],
  },
  {
    word: 'side-slip',
    says: 'Playing a half step beside the chord for a moment, then coming back.',
    screens: ['study'],
  },
  {
    word: 'voicing',
    says: 'Which notes of a chord the hand plays, and in what order.',
    screens: ['study', 'pages'],
  },
  {
    word: 'shell',
    says: 'A voicing of root, third and seventh, or of root and one of the two.',
    screens: ['study', 'pages'],
  },
  {
    word: 'rootless voicing',
    says: 'A voicing that leaves the root to the bass, and has room for tensions.',
    screens: ['study', 'pages'],
  },
  {
    word: 'walking bass',
    says: 'A bass line in quarters: root, fifth, and on the last beat a note that leads into the next root.',
    screens: ['study', 'play', 'pages'],
  },
  {
    word: 'approach note',
    says: 'The note before a root, a half or whole step beside it, that leads in.',
    screens: ['study'],
  },
  {
    word: 'arpeggio',
    says: 'A chord played note after note; here in thirds, up to the thirteenth.',
    screens: ['study', 'pages'],
  },
  {
    word: 'comping',
    says: 'Accompanying a soloist with chords in rhythm.',
    screens: ['play'],
  },
  {
    word: 'trio',
    says: 'Piano, bass and drums: who plays with you.',
    screens: ['play'],
  },
  {
    word: 'programme',
    says: 'What the trio plays: chorus after chorus, each with its key, tempo and players.',
    screens: ['play'],
  },
  {
    word: 'count-in',
    says: 'A bar or two of clicks before the first note.',
    screens: ['play'],
  },
  {
    word: 'handout',
    says: 'The printed pages for a student, for the desk and for the music stand.',
    screens: ['pages'],
  },
  {
    word: 'study page and play page',
    says: 'One has everything for the desk; the other only what the hands need.',
    screens: ['pages'],
  },
  {
    word: 'MusicXML',
    says: 'A file of written music that notation programs open.',
    screens: ['pages'],
  },
  {
    word: 'MIDI',
    says: 'Keys, times and strengths without sound: a file that sequencers open, and what a keyboard sends through its cable.',
    screens: ['pages', 'play'],
  },
];

/** Keys that do something, by where. The signs are those on the keyboard. */
export const KEYS: Readonly<Record<'everywhere' | Screen, readonly (readonly [keys: string, does: string])[]>> = {
  everywhere: [
    ['F1', 'Help'],
    ['Esc', 'Close what lies over the screen'],
    ['Tab', 'To the next thing that can be used; with Shift to the one before'],
  ],
  chart: [
    ['← → ↑ ↓', 'From bar to bar; while writing, ↑ ↓ to the line above or below'],
    ['Enter', 'Change the bar; again, keep it'],
    ['Esc', 'Take back what is being typed; then Tab leaves the bars'],
    ['Tab', 'On to the next bar; with Shift to the one before'],
    ['|', 'On to the next bar, as a bar line'],
    ['Del', 'Empty the bar; with Ctrl, take it out'],
    ['Ctrl Enter', 'A new bar after this one'],
    ['Ctrl Z', 'Undo'],
    ['Ctrl Y', 'Redo'],
  ],
  study: [
    ['← → ↑ ↓', 'From chord to chord; in the written music from note to note'],
    ['H', 'Hear what has the focus'],
    ['Space', 'Start and stop the way of the hand, where it has the focus'],
    ['Ctrl Z', 'Undo'],
    ['Ctrl Y', 'Redo'],
  ],
  play: [['Space', 'Start and stop; a pedal does the same']],
  pages: [],
};

export const HELP_WORDS = {
  title: 'Help',
  /** What one does on each screen, in its order. */
  begin: {
    lessons: [
      'Practise goes on with the lesson you opened last.',
      'The three points on a cover hold the rest: other screens, rename, folder, order, remove.',
      'Back up everything now and then: lessons lie on this machine only.',
    ],
    chart: [
      'Press a bar and type its chords; | goes on to the next.',
      'Press a field of the sentence above to change key, metre, tempo or feel.',
      'What cannot be read is marked where it stands, with what would be right.',
    ],
    study: [
      'Press a chord. Its scales run from inside to outside.',
      'Look at a scale or a thumb before you pin it.',
      'H sounds whatever has the focus.',
    ],
    play: [
      'Lay your thumb on the key shown, then Start.',
      'The large letter is the thumb now; the smaller one is next.',
      'Tap a bar of the chart to go there; drag over bars to loop them.',
    ],
    pages: [
      'Choose a page; what you see is what is printed.',
      'One page is for handing out; a part is for one of the band.',
      'Keys, sound and other files are beside it.',
    ],
  } satisfies Record<Screen | 'lessons', readonly string[]>,
  search: 'Find a word',
  clear: 'Clear',
  here: (screen: string) => `Words on ${screen}`,
  others: 'Other words',
  all: 'Words',
  found: (count: number) => (count === 1 ? 'One word' : `${count} words`),
  none: 'No such word here. Try a part of it, or a word beside it.',
  keys: 'Keys',
  everywhere: 'Everywhere',
  care: 'Care',
  careText:
    'Practice can strain a hand; loud practice harms hearing. Rest five minutes in every half hour, add time slowly, stop on pain, and see a clinician if it comes back. Keep the loudness moderate. This is not medical advice.',
  about: 'About',
  aboutText: 'Fivespan runs in your browser. Your lessons stay on this machine; nothing is sent.',
  licence: 'Licence',
  notices: 'What it is built with',
} as const;
