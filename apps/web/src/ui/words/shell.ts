/** What the frame round every screen says, its settings and its first-run tour. */
export const SHELL_WORDS = {
  product: 'Fivespan',
  lessons: 'Lessons',
  screens: { chart: 'Chart', study: 'Study', play: 'Play', pages: 'Pages' },
  screensOfLesson: 'Screens of this lesson',
  pageTitle: (place: string, lesson: string | null) => (lesson === null ? place : `${lesson}: ${place}`),
  skipToContent: 'Skip to the content',
  untitled: 'Untitled',
  settings: 'Settings',
  help: 'Help',
  more: 'More',
  opening: 'Opening …',
  notFound: 'This lesson is not kept on this machine.',
  toLessons: 'To the lessons',
  close: 'Close',
  undo: 'Undo',
  redo: 'Redo',
  key: (tonic: string, mode: 'major' | 'minor') => `${tonic} ${mode}`,

  fault: {
    title: 'This screen has stopped',
    kept: 'What you changed is kept. Try the screen again; if it stops again, go to another one and come back.',
    again: 'Try again',
    diagnostics: 'Save a diagnostics file',
    diagnosticsHint:
      'It says what went wrong and on what machine, for whoever helps you. It holds no lesson, and nothing is sent anywhere.',
  },

  newVersion: {
    told: 'A newer version is here.',
    take: 'Use it now',
    taken: 'A newer version was put in place from another window.',
    takenHint: 'Load this page anew when it suits you; until then some screens may not open.',
    load: 'Load it now',
    hint: 'Otherwise it opens the next time, when no window of the workbench is left open.',
  },

  preferences: {
    theme: 'Light or dark',
    themes: { system: 'As the system has it', light: 'Light', dark: 'Dark' },
    noteNames: 'Names of notes',
    noteNamesHint: 'On keys, tabs and in texts. Chord symbols stay as they are written.',
    noteLanguages: { english: 'C, B♭, B', german: 'C, B, H', 'do re mi': 'Do, Si♭, Si' },
    noteLanguageNames: { english: 'English', german: 'German', 'do re mi': 'Do re mi' },
    paper: 'Paper',
    papers: { a4: 'A4', letter: 'US Letter' },
    loudness: 'Loudness',
    loudnessHint: 'Keep it moderate: loud practice harms hearing, and headphones are louder than they seem.',
    offline: 'Without a network',
  },

  offline: {
    impossible: 'This browser keeps no files for this address, so a network is needed to open the workbench.',
    starting: 'The screens are being kept …',
    kept: (kept: string, all: string) => `The screens are kept. Of everything, ${kept} of ${all} is kept.`,
    all: (all: string) => `Everything is kept, ${all}: the workbench opens, sounds and prints without a network.`,
    keepEverything: 'Keep everything for offline use',
    hint: 'Engraver, sounds and encoders are kept as they are first used; this fetches the rest.',
    keeping: (kept: string, all: string) => `Keeping: ${kept} of ${all}`,
    stop: 'Stop',
    failed: (kept: string, all: string) =>
      `Not everything came: ${kept} of ${all} is kept. Try again when the network is back.`,
    megabytes: (count: number) => `${count.toFixed(1)} MB`,
  },

  tour: {
    title: 'A look round',
    place: (step: number, of: number) => `${step} of ${of}`,
    next: 'Next',
    back: 'Back',
    skip: 'Skip',
    end: 'Done',
    again: 'Show me round again',
    steps: {
      lesson: 'This is a lesson: a chart, and what you decide about it. All the rest is computed, in any key.',
      chart: 'Chart is where you write the changes, as you would on paper. Type a chord and the lesson follows.',
      study:
        'Study is for the desk: what each chord means, its chord-scales, where the thumb goes and why. Choose a chord, and pin what you want otherwise.',
      play: 'Play is for the keyboard: this thumb, the next thumb, the trio. Nothing else.',
      pages: 'Pages is what you hand out: print it, or save it as PDF, MusicXML, MIDI or sound, in every key you need.',
      lessons: 'All your lessons are here. They stay on this machine; back them up to a file of your own now and then.',
      help: 'Each word of the trade is explained here in a sentence, and this look round is too.',
    },
  },
} as const;
