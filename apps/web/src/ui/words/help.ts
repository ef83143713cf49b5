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
    says: 'The changes of a tune, bar by bar. All else is computed from it.',
    screens: ['chart'],
  },
  { word: 'changes', says: 'The chords of a tune in their order.', screens: ['chart', 'study'] },
  {
    word: 'bar',
    says: 'What stands between two bar lines; % repeats the one before.',
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
    says: 'Bars for one time of a repeat only.',
    screens: ['chart'],
  },
  {
    word: 'chorus',
    says: 'Once through the whole form; also a solo over it.',
    screens: ['play', 'pages'],
  },
  {
    word: 'metre',
    says: 'How many beats a bar has, and of which length: 4/4.',
    screens: ['chart'],
  },
  {
    word: 'feel',
    says: 'Swing plays two eighths long and short; even plays them alike.',
    screens: ['chart', 'play'],
  },
  {
    word: 'slash chord',
    says: 'A chord over another bass note: the one after the slash.',
    screens: ['chart'],
  },
  { word: 'N.C.', says: 'No chord: nobody plays harmony.', screens: ['chart'] },
  {
    word: 'slot',
    says: 'One chord’s place in a bar.',
    screens: ['chart', 'study'],
  },
  {
    word: 'numeral',
    says: 'The step of the key a chord stands on, in Roman figures: V7.',
    screens: ['study'],
  },
  {
    word: 'region',
    says: 'A stretch of the chart in one key.',
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
    says: 'The seventh chord on the fifth step; it leads to the tonic.',
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
    says: 'A scale chosen for one chord: the notes that may sound over it.',
    screens: ['study'],
  },
  {
    word: 'inside and outside',
    says: 'Inside, a chord-scale stays in its region’s key, or is the usual one for its chord; outside, it leaves on purpose.',
    screens: ['study'],
  },
  {
    word: 'outsideness',
    says: 'How far outside a chord-scale lies: guide tones lost, then notes outside the key.',
    screens: ['study'],
  },
  {
    word: 'roughness',
    says: 'How much notes beat against a chord’s. It decides only ties.',
    screens: ['study'],
  },
  {
    word: 'chord tone',
    says: 'A note of the chord: 1, 3, 5, 7. Bold on the keys.',
    screens: ['study', 'play'],
  },
  {
    word: 'tension',
    says: 'A note that colours the chord and may stay: 9, 11, 13. Italic on the keys.',
    screens: ['study'],
  },
  {
    word: 'guide tones',
    says: 'A chord’s third and seventh: they say what it is and lead to the next.',
    screens: ['study'],
  },
  {
    word: 'avoid note',
    says: 'A note of the scale to pass through or resolve, marked ✕: it rubs a half step above a chord tone (a dominant bears ♭9, ♯9, ♯11, ♭13), or is the 6 of a minor seventh, which sounds the coming dominant too early.',
    screens: ['study'],
  },
  {
    word: 'shape',
    says: 'Five notes under five fingers, in half steps from the thumb: minor pentatonic is 0 3 5 7 10. Where a lesson has several, ′ marks the second, ″ the third.',
    screens: ['study', 'play'],
  },
  {
    word: 'pentatonic',
    says: 'A scale of five notes.',
    screens: ['study'],
  },
  {
    word: 'position',
    says: 'A shape with its thumb on a certain key.',
    screens: ['study', 'play'],
  },
  {
    word: 'thumb tab',
    says: 'The small tab under the thumb’s key: filled for now, open for others, dashed for the next.',
    screens: ['study', 'play'],
  },
  {
    word: 'family',
    says: 'All positions of one shape inside one chord-scale. Complete when they make the whole scale.',
    screens: ['study'],
  },
  {
    word: 'serves, covers',
    says: 'A shape serves a chord when a position holds both guide tones; it covers it when its family is complete.',
    screens: ['study'],
  },
  {
    word: 'ladder',
    says: 'A chord’s scales, from innermost to outermost.',
    screens: ['study'],
  },
  {
    word: 'route',
    says: 'Which position when, with the least travel for the hand.',
    screens: ['study', 'play'],
  },
  {
    word: 'pin',
    says: 'What you fix yourself; the rest is computed round it.',
    screens: ['study'],
  },
  {
    word: 'fingers',
    says: 'From the thumb, 1, to the little finger, 5.',
    screens: ['study', 'play'],
  },
  {
    word: 'side-slip',
    says: 'A half step beside the chord for a moment, then back.',
    screens: ['study'],
  },
  {
    word: 'voicing',
    says: 'Which notes of a chord are played, in what order.',
    screens: ['study', 'pages'],
  },
  {
    word: 'shell',
    says: 'Root, with third or seventh or both.',
    screens: ['study', 'pages'],
  },
  {
    word: 'rootless voicing',
    says: 'Leaves the root to the bass, with room for tensions.',
    screens: ['study', 'pages'],
  },
  {
    word: 'walking bass',
    says: 'A bass line in quarters: root, fifth, and a note that leads into the next root.',
    screens: ['study', 'play', 'pages'],
  },
  {
    word: 'approach note',
    says: 'A note a half or whole step beside a root, leading in.',
    screens: ['study'],
  },
  {
    word: 'arpeggio',
    says: 'A chord note after note; here in thirds, up to the thirteenth.',
    screens: ['study', 'pages'],
  },
  {
    word: 'comping',
    says: 'Chords in rhythm behind a soloist.',
    screens: ['play'],
  },
  {
    word: 'trio',
    says: 'Piano, bass and drums.',
    screens: ['play'],
  },
  {
    word: 'programme',
    says: 'What is played: choruses, each with key, tempo and players.',
    screens: ['play'],
  },
  {
    word: 'count-in',
    says: 'Clicks before the first note.',
    screens: ['play'],
  },
  {
    word: 'handout',
    says: 'The printed pages for a student.',
    screens: ['pages'],
  },
  {
    word: 'study page and play page',
    says: 'Everything for the desk; only what the hands need.',
    screens: ['pages'],
  },
  {
    word: 'MusicXML',
    says: 'Written music for notation programs.',
    screens: ['pages'],
  },
  {
    word: 'MIDI',
    says: 'Keys, times and strengths without sound, in a file or through a keyboard’s cable.',
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
      'The three dots on a cover hold the rest.',
      'Back up everything now and then: lessons lie on this machine only.',
    ],
    chart: [
      'Press a bar and type its chords; | goes on.',
      'Press key, metre, tempo or feel above to change it.',
      'What cannot be read is marked where it stands.',
    ],
    study: [
      'Press a chord. Its scales run from inside to outside.',
      'Look at a scale or thumb before you pin it.',
      'H sounds whatever has the focus.',
    ],
    play: [
      'Lay your thumb on the key shown, then Start.',
      'The large letter is the thumb now, the smaller the next.',
      'Tap a bar to go there; drag over bars to loop them.',
    ],
    pages: [
      'What you see is what is printed.',
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
  none: 'No such word here. Try a part of it.',
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
