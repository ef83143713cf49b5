import type { LessonFileName, PackFileName, PartReader } from '@fivespan/core';
import { lengthText } from './length-text.ts';

const count = (number: number, one: string, many: string): string => `${number} ${number === 1 ? one : many}`;

/** What the pages screen says. English; another language is another table of this shape. */
export const PAGES_WORDS = {
  title: 'Pages and files',
  nothingToPrint: 'Nothing to print yet: no bar of the chart can be read.',
  toChart: 'To the chart',
  partly: 'Some of the chart cannot be read; the pages leave it out.',

  view: 'Page',
  views: {
    study: { name: 'Study page', about: 'Everything, for the desk.' },
    sheet: { name: 'One page', about: 'The most needed of it, to hand out.' },
    play: { name: 'Play page', about: 'For the music stand: where the thumb goes, and the notes.' },
    part: { name: 'Part', about: 'The changes for one of the band, in their own key.' },
  },
  reader: 'For',
  readers: {
    Bb: 'B♭: trumpet, tenor, clarinet',
    Eb: 'E♭: alto, baritone',
    F: 'F: horn',
    'bass-clef': 'bass clef, with the walking bass',
    C: 'C: at concert pitch',
    A: 'A: clarinet in A',
    G: 'G: alto flute',
  } satisfies Record<PartReader, string>,
  key: 'Key',
  ownKey: (key: string) => `${key}, its own`,
  paper: 'Paper',
  papers: { a4: 'A4', letter: 'Letter' },
  savePdf: 'Save PDF',
  print: 'Print',
  printing: (page: number, pages: number) => `Getting page ${page} of ${pages} ready …`,
  stopPrinting: 'Stop printing',
  cannotPrint: 'Printing failed. Save the PDF and print that.',

  preview: 'The pages as they will be printed',
  setting: 'Setting the pages …',
  settingAgain: 'Setting the pages anew …',
  stop: 'Stop',
  stopOf: (name: string) => `Stop: ${name}`,
  stopped: 'Stopped.',
  showPages: 'Show the pages',
  pages: (pages: number) => count(pages, 'page', 'pages'),
  pageOf: (page: number, pages: number) => `Page ${page} of ${pages}`,
  drawn: (page: number, pages: number) => `Page ${page} of ${pages}, as printed; its text follows`,
  smaller: 'Smaller',
  larger: 'Larger',
  fit: 'Fit the width',

  choices: 'Choices for this lesson',
  level: 'Level',
  levels: {
    1: { name: '1, plain', about: 'roots and fifths, calm lines inside' },
    2: { name: '2, moving', about: 'scale notes in the bass, busier lines' },
    3: { name: '3, free', about: 'chromatic bass, lines outside and back' },
    4: { name: '4, open', about: 'broken time, triplets and pedals in the bass' },
  },
  hand: 'Hand',
  hands: { small: 'Small', medium: 'Medium', large: 'Large', measured: 'Measured' },
  spanMm: 'From thumb to little finger, stretched, in mm',
  spanRange: (least: number, most: number) => `A whole number from ${least} to ${most}.`,
  playPage: 'The play page shows',
  chorus: 'Chorus and bass line',
  chorusNumber: (seed: number) => `Number ${seed}`,
  anotherChorus: 'Another chorus',
  chorusBefore: 'The one before',

  otherFiles: 'For other programs',
  otherFilesAbout: (key: string) => `The written music in ${key}, for notation programs and sequencers.`,
  saveMusicXml: 'Save MusicXML',
  savePart: 'Save the part as MusicXML',
  saveMidi: 'Save MIDI',

  pack: 'Several keys at once',
  packAbout: 'One .zip with a folder for each key, and the lesson file.',
  keys: 'Keys',
  keysOwn: (key: string) => `Only ${key}`,
  keysChosen: 'Chosen ones',
  keysCycle: 'All round',
  cycle: 'By',
  cycles: {
    fourths: 'fourths',
    fifths: 'fifths',
    'half steps up': 'half steps up',
    'half steps down': 'half steps down',
    'whole steps up': 'whole steps up (six keys)',
    'minor thirds up': 'minor thirds up (four keys)',
    'major thirds up': 'major thirds up (three keys)',
  },
  keysKept: 'The keys are kept with the lesson.',
  chooseKeys: 'Choose at least one key.',
  files: 'In each folder',
  fileNames: {
    'study.pdf': 'Study page (PDF)',
    'play.pdf': 'Play page (PDF)',
    'sheet.pdf': 'One page (PDF)',
    'lesson.musicxml': 'Notes (MusicXML)',
    'lesson.mid': 'Notes (MIDI)',
  } satisfies Record<PackFileName, string>,
  chooseFiles: 'Choose at least one file.',
  /** @param key the only key; null where there are several */
  savePack: (keys: number, files: number, key: string | null) =>
    `Save ${count(keys * files, 'file', 'files')} in ${key ?? count(keys, 'key', 'keys')}`,

  sound: 'Sound',
  soundAbout: (choruses: number, seconds: number) =>
    `${count(choruses, 'chorus', 'choruses')}, ${lengthText(seconds)}: `,
  soundRow: (key: string, tempoBpm: number, times: number) =>
    `${key} at ${tempoBpm}${times === 1 ? '' : ` (${times} times)`}`,
  soundPlayers: (players: readonly ('right hand' | 'left hand' | 'bass' | 'drums')[]) =>
    `with ${players.map((each) => PLAYER_NAMES[each]).join(', ')}`,
  soundUsual: 'The usual: three times, the right hand left to the student.',
  soundToPlay: 'Change what is played',
  soundKind: 'As',
  soundKinds: {
    mp3: { name: 'MP3', about: 'for every phone and player' },
    wav: { name: 'WAV', about: 'full quality, large: for sound and film programs' },
    flac: { name: 'FLAC', about: 'full quality, half the size' },
    mid: { name: 'MIDI', about: 'the played notes, for a sequencer' },
  },
  saveSound: 'Save sound',
  soundTooLong: (minutes: number, most: number) =>
    `This lasts ${minutes} minutes, and one file takes ${most}: choose fewer choruses, keys or tempi.`,
  soundCare: 'Moderate loudness, breaks; stop if anything hurts or your ears ring.',

  lessonFile: 'The lesson itself',
  lessonFileAbout: 'Chart and choices in one small file.',
  saveLesson: 'Save lesson file',

  orders: 'Files',
  making: {
    file: (file: LessonFileName, key: string) => `${nameOfFile(file)}, ${key}`,
    pack: (keys: number) => `Pack of ${count(keys, 'key', 'keys')}`,
    lesson: 'Lesson file',
    drill: (name: string, format: 'pdf' | 'musicxml') =>
      `Drill (${name}), ${format === 'pdf' ? 'sheet (PDF)' : 'notes (MusicXML)'}`,
    sound: (kind: SoundKindName) => `Sound, ${SOUND_KIND_NAMES[kind]}`,
    film: (key: string) => `Film, ${key}`,
    filmTexts: (key: string) => `Captions and cue sheet, ${key}`,
  },
  waiting: 'begins …',
  percent: (share: number) => `${Math.floor(share * 100)} %`,
  left: (seconds: number) => `${lengthText(seconds)} left`,
  saved: (name: string, size: string) => `saved as ${name} (${size})`,
  nothingSaved: 'stopped; nothing was saved',
  cannot: {
    offline: 'could not be made: a part of the program is not on this machine yet. Go online once, then try again.',
    memory: 'could not be made: not enough memory. Close other tabs, or ask for fewer keys.',
    disk: 'could not be made: the disk is full. Make room, or choose a smaller picture, then try again.',
    other: (message: string) => `could not be made (${message}). Try again; nothing of your lesson is lost.`,
  },
  pagesCannot: {
    offline:
      'The pages cannot be shown: a part of the program is not on this machine yet. Go online once, then try again.',
    memory: 'The pages cannot be shown: not enough memory. Close other tabs and try again.',
    disk: 'The pages cannot be shown: the disk is full. Make room and try again.',
    other: (message: string) => `The pages cannot be shown (${message}). Try again; nothing of your lesson is lost.`,
  },
  again: 'Try again',
  forget: 'Close',
  forgetOf: (name: string) => `Close: ${name}`,
  megabytes: (number: string) => `${number} MB`,
  kilobytes: (number: string) => `${number} kB`,
} as const;

type SoundKindName = 'mp3' | 'wav' | 'flac' | 'mid';

const SOUND_KIND_NAMES: Readonly<Record<SoundKindName, string>> = { mp3: 'MP3', wav: 'WAV', flac: 'FLAC', mid: 'MIDI' };

const PLAYER_NAMES = { 'right hand': 'right hand', 'left hand': 'left hand', bass: 'bass', drums: 'drums' } as const;

/** A part is called one, whoever it is for: its file's name says that. */
function nameOfFile(file: LessonFileName): string {
  return file in PAGES_FILE_NAMES ? PAGES_FILE_NAMES[file as PackFileName] : 'Part';
}

const PAGES_FILE_NAMES: Readonly<Record<PackFileName, string>> = {
  'study.pdf': 'Study page',
  'play.pdf': 'Play page',
  'sheet.pdf': 'One page',
  'lesson.musicxml': 'MusicXML',
  'lesson.mid': 'MIDI',
};
