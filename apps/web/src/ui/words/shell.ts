/** What the frame round every screen says. */
export const SHELL_WORDS = {
  product: 'Fivespan',
  lessons: 'Lessons',
  screens: { chart: 'Chart', study: 'Study', play: 'Play', pages: 'Pages' },
  screensOfLesson: 'Screens of this lesson',
  skipToContent: 'Skip to the content',
  untitled: 'Untitled',
  settings: 'Settings',
  help: 'Help',
  opening: 'Opening …',
  notFound: 'This lesson is not kept on this machine.',
  toLessons: 'To the lessons',
  saved: 'Kept on this machine',
  saving: 'Keeping …',
  undo: 'Undo',
  redo: 'Redo',
} as const;
