/**
 * What the lessons screen says, and what it says about keeping lessons. English; another language is another table of
 * this shape.
 */

const many = (count: number, one: string, more: string): string => (count === 1 ? `1 ${one}` : `${count} ${more}`);
const megabytes = (bytes: number): string => `${Math.round(bytes / 1_000_000)} MB`;

export const LESSONS_WORDS = {
  title: 'Lessons',
  untitled: 'Untitled',
  reading: 'Reading what is kept here …',
  shelf: 'Lessons on the shelf',
  goOnLabel: 'Go on',
  goOnWith: (title: string) => `Go on with ‘${title}’`,
  screens: { play: 'Practise', study: 'Study', chart: 'Chart', pages: 'Pages' },
  nothing: {
    drawn: 'An empty page over a keyboard',
    tune: 'A tune of yours',
    chord: 'type a chord',
    begin: 'Write four chords; the hand follows.',
    about: 'A lesson is a chart and what you decide about it.',
  },

  newChart: 'New chart',
  paste: 'Paste a chart',
  openFile: 'Open a file',
  openFileHelp: 'MusicXML, a lesson, chart text or a backup; or drop it on the page.',
  dropHere: 'Let go: each file becomes a lesson',
  readingFile: (name: string) => `Reading ${name} …`,

  find: 'Find',
  sort: 'Order',
  sortBy: { changed: 'last changed first', title: 'by title', hand: 'by hand' },
  movedByHand: 'Moved. The shelf is now ordered by hand.',
  folders: 'Folders',
  allFolders: 'All',
  folderName: 'Folder (empty for none)',
  count: (shown: number, all: number) =>
    `${shown === all ? many(all, 'lesson', 'lessons') : `${shown} of ${all} lessons`}, kept on this machine.`,
  noneFound: (text: string) => `No title or key has ‘${text}’ in it.`,
  tempo: (bpm: number) => `♩ = ${bpm}`,
  changed: (when: string) => `changed ${when}`,
  today: 'today',
  yesterday: 'yesterday',

  moreOf: (title: string) => `More for ‘${title}’`,
  moreActs: 'This lesson',
  more: {
    rename: 'Rename',
    folder: 'Folder …',
    duplicate: 'Duplicate',
    save: 'Save a copy',
    earlier: 'Move earlier',
    later: 'Move later',
    remove: 'Remove',
  },
  newTitle: 'Title',
  keepTitle: 'Keep',
  cancel: 'Cancel',
  copyTitle: (title: string) => (title === '' ? 'Copy' : `${title} (copy)`),
  removed: (title: string) => `‘${title}’ was removed.`,
  putBack: 'Put back',
  renamed: (title: string) => `Renamed to ‘${title}’.`,
  duplicated: (title: string) => `‘${title}’ was made.`,
  notDone: 'That could not be done:',
  demo: 'Put the demo lesson back',

  pasteTitle: 'Paste a chart',
  pasteHelp: 'Chords between bar lines; title, key and tempo above if you like.',
  pasteLabel: 'Chart text',
  pasteExample: 'title: My tune\nkey: Eb major\ntempo: 132\n\n| Fm7 | Bb7 | Ebmaj7 | % |',
  pasteMake: 'Make the lesson',
  pasteReads: (bars: number, key: string) => `${many(bars, 'bar', 'bars')}${key === '' ? '' : `, ${key}`}`,
  pasteFaults: (count: number) =>
    `${many(count, 'place', 'places')} to mend; the lesson can be made all the same, the chart shows them.`,
  pasteNothing: 'Nothing can be read yet.',

  place: (line: number | undefined, bar: number | undefined) =>
    [line === undefined ? '' : `line ${line}`, bar === undefined ? '' : `bar ${bar}`]
      .filter((part) => part !== '')
      .join(', '),
  moreIssues: (count: number) => `and ${count} more`,

  reports: 'Files',
  reportsDone: 'Done',
  filesMade: (count: number) => `${many(count, 'lesson was', 'lessons were')} made:`,
  fileMade: 'was made a lesson',
  fileHere: 'is here already, the same chart and choices. Nothing was added',
  fileLeftOut: 'Left out:',
  fileRefused: 'could not be used. Nothing was changed.',
  fileTooLarge: (limit: number, kind: 'lead sheet' | 'backup' | 'lesson' | 'chart') =>
    ({
      'lead sheet': `The file is larger than a lead sheet may be (${megabytes(limit)}). It was not read.`,
      backup: `The file is larger than a backup may be (${megabytes(limit)}). It was not read.`,
      lesson: `The file is larger than a lesson may be (${megabytes(limit)}). It was not read.`,
      chart: `The file is larger than a chart may be (${megabytes(limit)}), and does not begin as a score does. It was not read.`,
    })[kind],
  fileUnreadable: 'The file cannot be read: was it moved, or is it a folder?',
  fileTooSlow: (seconds: number) => `The file was not read to its end in ${seconds} seconds; reading was stopped.`,
  fileFailed: (message: string) => `Reading the file failed: ${message}`,
  fileNotKept: 'The lesson could not be kept:',
  backupNewer: (version: number) =>
    `The backup has version ${version}, made by a newer Fivespan. Reload this page to get the newest, then try again.`,
  backupDamaged: (reason: string) => `The backup cannot be used: ${reason}.`,

  backup: 'Backup',
  backUp: 'Back up everything',
  restore: 'Restore from a backup',
  backUpTakes: (count: number) => `with ${many(count, 'kept take', 'kept takes')}`,
  backUpTakesHelp: 'A take is what somebody played: keep a file that has some to yourself, or ask them.',
  backedUp: (count: number, takes: number, files: number, missing: number) =>
    [
      `A backup of ${many(count, 'lesson', 'lessons')}${takes === 0 ? '' : ` and ${many(takes, 'take', 'takes')}`} was saved.`,
      files === 1
        ? ''
        : `It is in ${files} files, one would be too large to be read back: restore them one after the other.`,
      missing === 0
        ? ''
        : `Not in it: ${many(missing, 'lesson', 'lessons')} told of above. Save those as files of their own.`,
    ]
      .filter((part) => part !== '')
      .join(' '),
  lastBackup: (when: string) => `Last backup: ${when}.`,
  neverBackedUp: 'No backup yet.',
  notPersistent: 'This browser may clear them when space runs short: back up now and then.',

  restoreRenewed: 'Something was changed in another tab meanwhile: this is how it stands now.',
  restoreStanding: { new: 'not here yet', same: 'the same here', differs: 'differs from the one here' },
  restoreCounts: (fresh: number, same: number, differs: number) =>
    `${fresh} not here yet · ${same} the same · ${differs} different`,
  restoreTakes: (takes: number, unusable: number) =>
    `${many(takes, 'take is', 'takes are')} in it, too: what is not here comes back, none goes.${
      unusable === 0 ? '' : ` ${many(unusable, 'take', 'takes')} more cannot be used.`
    }`,
  restoreUnusable: (count: number) => `${many(count, 'lesson', 'lessons')} in it cannot be used:`,
  restoreDiffering: 'Where a lesson differs',
  restoring: {
    title: 'Restore from a backup',
    holds: (count: number) => `The backup holds ${many(count, 'lesson', 'lessons')}.`,
    dates: (file: string, here: string) => `in the file ${file}, here ${here}`,
    ofDiffering: {
      'keep both': 'keep both, the file’s as a lesson of its own',
      'take the file’s': 'take the one in the file',
      'keep what is here': 'keep the one here',
    },
    merge: 'Merge',
  },
  takingBack: {
    title: 'Changed since they were restored',
    holds: (count: number) =>
      `${count === 1 ? 'One lesson was' : `${count} lessons were`} changed after the restore, and left as you made ${count === 1 ? 'it' : 'them'}. The earlier ones can come back.`,
    dates: (before: string, here: string) => `before the restore ${before}, here ${here}`,
    ofDiffering: {
      'keep both': 'keep both, the earlier one as a lesson of its own',
      'take the file’s': 'take the earlier one',
      'keep what is here': 'keep the one here; the earlier one is gone then',
    },
    merge: 'Go on',
  },
  mergeHelp: 'What is only here stays.',
  replace: 'Replace everything',
  replaceHelp: (count: number) =>
    count === 0
      ? 'Afterwards exactly the file’s lessons are here.'
      : `Removes ${many(count, 'lesson', 'lessons')} that the file has not.`,
  restored: (put: number, removed: number, takes: number) =>
    `Restored: ${many(put, 'lesson', 'lessons')}${takes === 0 ? '' : ` and ${many(takes, 'take', 'takes')}`} came${removed === 0 ? '' : `, ${removed} went`}.`,
  takeBack: 'Take it back',
  takenBack: (staying: number, differing: number) =>
    [
      differing === 0
        ? 'Taken back.'
        : `Taken back, but for ${differing === 1 ? 'one lesson that was' : `${differing} lessons that were`} changed since.`,
      staying === 0
        ? ''
        : staying === 1
          ? 'One lesson that came was changed since and stays.'
          : `${staying} lessons that came were changed since and stay.`,
    ]
      .filter((part) => part !== '')
      .join(' '),
  overtaken: 'another tab changes things at the same time. Try again.',

  damage: {
    'no record': 'it is not a record',
    'no version': 'it does not say which version it has',
    'not migrated': (message: string) => `it could not be brought to this version (${message})`,
    field: (field: string) =>
      field === '' ? 'it is not what it should be' : `‘${field}’ is missing in it, or not what it should be`,
    'not JSON': 'it is not JSON from beginning to end',
    'same id': 'another lesson in the file has its id',
    unknown: 'it could not be read then',
  },
  setAside: 'Set aside',
  setAsideHelp: 'Damaged, kept as found. Save them as files.',
  setAsideFound: (when: string, reason: string) => `found ${when}: ${reason}`,
  newer: 'Made by a newer Fivespan',
  newerHelp: 'This version leaves them alone. Reload to get the newest.',
  unreadable: (count: number) =>
    `${many(count, 'lesson', 'lessons')} cannot be read from the browser’s storage, and stay where they are. Reload the page to try again.`,
  saveAsFile: 'Save as a file',
  drop: 'Drop it',
  dropOf: (title: string) => `Drop ‘${title}’ for good`,
  asFoundName: 'fivespan-as-found',

  unkept: 'Not kept',
  unkeptHelp: 'They last as long as this page.',
  open: 'Open',

  fault: {
    refused:
      'This browser allows nothing to be kept here (a private window?). What you make lasts as long as this page: save it as files.',
    full: 'There is no room left for this browser. Save the lesson as a file, make room, then try again.',
    unproved:
      'The disk was full, and what was written since may be lost. Until it is found on the disk, save the lesson as a file.',
    newer:
      'A newer Fivespan has written what is kept here; this one leaves it alone. Reload to get the newest. What you make until then lasts as long as this page.',
    'too-large': 'The lesson is longer than a lesson can be: two million characters.',
    unreadable: (issues: string) =>
      `It cannot be kept like this, it could not be read back: ${issues}. Take the last change back.`,
    slow: (seconds: number) =>
      `This browser has not opened its storage in ${seconds} seconds. What you make lasts as long as this page: save it as files, then reload.`,
    failed: (message: string) => `The browser could not keep it: ${message}`,
  },
  saveEverythingFound: 'Save what lies here as a file',

  kept: 'Kept',
  keptHere: 'on this machine',
  keeping: 'Keeping …',
  notKept: 'Not kept',
  again: 'Try again',
  saveLesson: 'Save the lesson as a file',

  notMade:
    'The music of this lesson could not be computed. Chart and choices are safe; taking the last change back may help.',
  notMadeWhy: (message: string) => `What stands in the way: ${message}`,
  held: 'This lesson was made by another version of the music engine. Chart and choices stay; its chorus may come out otherwise. If you teach from the old notes, keep the printed pages.',
  goOn: 'Go on',
  conflictChanged:
    'This lesson was changed in another tab while you changed it here. Nothing is lost: both are still there.',
  keepBoth: 'Keep both, this one as a new lesson',
  secondTitle: (title: string) => (title === '' ? 'Second' : `${title} (second)`),
  takeOther: 'Go on with the other tab’s',
  takeOtherHelp: 'Undo then brings back what is here.',
  conflictRemoved: 'This lesson was removed in another tab.',
  putBackHere: 'Put it back',
  toLessons: 'To the lessons',
  notOpened: {
    failed: (message: string) =>
      `This lesson could not be opened. It is still stored as it was, and a backup will contain it. What went wrong: ${message}`,
    damaged: (reason: string) =>
      `This lesson is damaged (${reason}). It was set aside as it was found; the list of lessons has it, to be saved as a file.`,
    newer: 'This lesson was made by a newer Fivespan and is left as it is. Reload the page to get the newest version.',
  },
} as const;
