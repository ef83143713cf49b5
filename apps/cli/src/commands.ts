import type { Command, OptionText } from './command.ts';

const json: OptionText = { type: 'boolean', text: 'print JSON, one object a line (docs/json.md)' };
const key: OptionText = { type: 'string', value: 'KEY', text: "in another key, such as Eb or 'F# minor'" };
const seed: OptionText = { type: 'string', value: 'N', text: 'another seed gives another chorus (default 1)' };
const level: OptionText = { type: 'string', value: '1|2|3|4', text: 'plain to free (default 1)' };
const hand: OptionText = {
  type: 'string',
  value: 'small|medium|large|MM',
  text: 'size of the hand, or thumb to little finger in mm (default medium)',
};
const curve: OptionText = {
  type: 'string',
  value: 'N,N,…',
  text: "your own rise and fall outside over the form, 0 to 3 in equal stretches (default: the level's)",
};

/** Every command, in the order of the help. A new one is one entry here and one file in commands/. */
export const COMMANDS: readonly Command[] = [
  {
    name: 'lesson',
    summary: 'make the whole lesson: handouts, MusicXML and MIDI, in the keys you ask for',
    operands: 'CHART',
    options: {
      keys: { type: 'string', value: 'KEY,KEY|all', text: 'keys to make it in (default: its own)' },
      out: { type: 'string', value: 'DIR', text: 'where to write (default: out/ and the title)' },
      seed,
      level,
      curve,
      hand,
      for: {
        type: 'string',
        value: 'Bb|Eb|F|bass-clef,…',
        text: 'also a part for each of these in the band, as page and lead sheet; C, A and G too (default: none)',
      },
      paper: { type: 'string', value: 'a4|letter', text: 'size of the handout (default a4)' },
      json: { type: 'boolean', text: 'print what was written as JSON' },
    },
    example: 'fivespan lesson examples/DEMO.chart --keys Eb,F --out out/demo',
    load: () => import('./commands/lesson.ts'),
  },
  {
    name: 'analyse',
    summary: 'say what the changes mean: keys, numerals, cadences, chord-scales',
    operands: 'CHART…',
    options: { key, json },
    example: "fivespan analyse 'Fm7 | Bb7 | Ebmaj7'",
    load: () => import('./commands/analyse.ts'),
  },
  {
    name: 'positions',
    summary: 'say where the hand goes: one position for each chord, and the families they come from',
    operands: 'CHART…',
    options: { key, level, curve, hand, json },
    example: "fivespan positions 'Fm7 | Bb7 | Ebmaj7' --hand small",
    load: () => import('./commands/positions.ts'),
  },
  {
    name: 'shapes',
    summary: 'find the fewest five-note shapes that serve every chord, and prove that fewer do not',
    operands: 'CHART…',
    options: {
      key,
      hand,
      rotation: {
        type: 'string',
        value: 'all-keys|this-key',
        text: 'kindest over twelve keys, or in this one (default all-keys)',
      },
      answers: { type: 'string', value: 'N', text: 'how many answers, best first (default 3)' },
      own: {
        type: 'string',
        value: 'NOTES',
        text: "what a shape of your own gives over each chord: 'D F A C E', the thumb's note first",
      },
      json,
    },
    example: "fivespan shapes 'Fm7b5 | Bb7alt | Ebm6'",
    load: () => import('./commands/shapes.ts'),
  },
  {
    name: 'route',
    summary: 'say which position the hand takes when, with the least way to go',
    operands: 'CHART…',
    options: {
      key,
      level,
      curve,
      hand,
      'move-every': { type: 'string', value: 'chord|half-bar', text: 'how often the hand may move (default chord)' },
      json,
    },
    example: 'fivespan route examples/DEMO.chart --level 2',
    load: () => import('./commands/route.ts'),
  },
  {
    name: 'bass',
    summary: 'walk a bass line for the left hand',
    operands: 'CHART…',
    options: {
      key,
      seed,
      level,
      feel: {
        type: 'string',
        value: 'two|four|even|ballad|waltz',
        text: "how the bass moves (default the chart's own)",
      },
      range: { type: 'string', value: 'left-hand|double-bass', text: 'who plays it (default left-hand)' },
      json,
    },
    example: 'fivespan bass examples/DEMO.chart --key F --level 3 --feel two',
    load: () => import('./commands/bass.ts'),
  },
  {
    name: 'chorus',
    summary: 'play a demonstration chorus that stays in the positions',
    operands: 'CHART…',
    options: { key, seed, level, curve, hand, json },
    example: 'fivespan chorus examples/DEMO.chart --seed 7',
    load: () => import('./commands/chorus.ts'),
  },
  {
    name: 'convert',
    summary: 'turn chart text into a MusicXML lead sheet, or a lead sheet (.musicxml, .xml, .mxl) into chart text',
    operands: 'CHART',
    options: {
      key,
      to: { type: 'string', value: 'chart|musicxml', text: 'what to make (default: the other kind)' },
      out: { type: 'string', value: 'FILE', text: 'where to write (default: standard output)' },
    },
    example: 'fivespan convert examples/DEMO.chart --out demo.musicxml',
    load: () => import('./commands/convert.ts'),
  },
  {
    name: 'fingering',
    summary: 'write fingers for one hand into a copy of a score (.musicxml, .xml, .mxl) or a MIDI file',
    operands: 'FILE',
    options: {
      'hand-side': { type: 'string', value: 'right|left', text: 'which hand plays (always needed)' },
      model: {
        type: 'string',
        value: 'parncutt|jacobs|balliauw|fivespan',
        text: 'how fingerings are weighed (default fivespan, with --hand balliauw)',
      },
      hand,
      ways: {
        type: 'string',
        value: 'N',
        text: 'also print the next-best fingerings, N in all (default 1, at most 10)',
      },
      part: { type: 'string', value: 'N', text: 'part of a score, counted from 1' },
      staff: { type: 'string', value: 'N', text: 'staff of a part, counted from 1' },
      track: { type: 'string', value: 'N', text: 'track of a MIDI file, counted from 1' },
      out: { type: 'string', value: 'FILE', text: 'where to write (default: beside the file, NAME.fingered)' },
      json: { type: 'boolean', text: 'print notes, fingers and costs as JSON' },
    },
    example: 'fivespan fingering etude.musicxml --hand-side right',
    load: () => import('./commands/fingering.ts'),
  },
  {
    name: 'sound',
    summary: 'play it: a trio to practise with, or the demonstration, as WAV, FLAC, MP3 or MIDI',
    operands: 'CHART',
    options: {
      out: {
        type: 'string',
        short: 'o',
        value: 'FILE',
        text: 'where to write: .wav, .flac, .mp3 or .mid (default: out/ and the title, .wav)',
      },
      tempo: { type: 'string', value: 'BPM,BPM', text: 'beats a minute; several make a ladder (default: its own)' },
      choruses: { type: 'string', value: 'N', text: 'times through in each key and tempo (default 3)' },
      keys: {
        type: 'string',
        value: 'CYCLE|KEY,KEY',
        text: 'round by fourths, fifths, half-steps-up, half-steps-down, whole-steps-up, or keys by name (default: its own)',
      },
      with: {
        type: 'string',
        value: 'left,right,piano,bass,drums,all',
        text: 'who plays (default left,bass,drums: the right hand is yours)',
      },
      demo: { type: 'boolean', text: 'the right hand plays the demonstration chorus too' },
      'set-up': {
        type: 'string',
        value: 'trio|solo',
        text: 'solo: the left hand walks, no bass player (default trio)',
      },
      voicings: { type: 'string', value: 'rootless|shells', text: 'what the left hand comps with (default rootless)' },
      'count-in': { type: 'string', value: 'BARS', text: 'bars of sticks before it begins (default 2)' },
      swing: {
        type: 'string',
        value: 'measured|published',
        text: 'as recordings swing at the tempo, or by the published curve (default measured)',
      },
      seed,
      level,
      curve,
      hand,
      keep: {
        type: 'string',
        value: 'FILE.json',
        text: 'also keep chart, choices and this programme as a lesson file, to edit and play again',
      },
      rate: { type: 'string', value: '44100|48000', text: 'samples a second (default 44100)' },
      bits: { type: 'string', value: '16|24', text: 'of WAV and FLAC (default 16)' },
    },
    example: 'fivespan sound examples/DEMO.chart --tempo 90 --keys fourths --out practice.mp3',
    load: () => import('./commands/sound.ts'),
  },
];
