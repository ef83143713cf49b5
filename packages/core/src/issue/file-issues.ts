import type { IssueEntry } from './issue-entry.ts';

/** What can be wrong with a file as such, a lesson file, and what is to be heard. One entry a code. */
export const FILE_ISSUES = {
  'file.missing': {
    severity: 'error',
    message: ({ file }) => `there is no file '${file}'`,
    remedy: () => "a chart file, - for standard input, or changes with bar lines: 'Fm7 | Bb7 | Ebmaj7'",
  },
  'file.unreadable': {
    severity: 'error',
    message: ({ file, reason }) => `'${file}' cannot be read: ${reason}`,
    remedy: () => 'a file that this user may read',
  },
  'file.too-large': {
    severity: 'error',
    message: ({ limit }) => `the file is larger than ${limit} bytes`,
    remedy: () => 'a chart or lead sheet of one tune',
  },
  'file.not-text': {
    severity: 'error',
    message: () => 'the file is not text in UTF-8 or UTF-16',
    remedy: () => 'save it as plain text, UTF-8',
  },
  'lesson.too-large': {
    severity: 'error',
    message: ({ limit }) => `the lesson file is longer than ${limit} characters`,
    remedy: () => 'a lesson file holds one chart and the choices for it',
  },
  'lesson.not-json': {
    severity: 'error',
    message: () => 'the lesson file is damaged: it is not JSON from beginning to end',
    remedy: () => 'a lesson.json that fivespan wrote, whole',
  },
  'lesson.newer': {
    severity: 'error',
    message: ({ version }) => `the lesson file has version ${version}, made by a newer fivespan`,
    remedy: () => 'update fivespan, then open it again',
  },
  'lesson.field': {
    severity: 'error',
    message: ({ field, rule }) => `the lesson file cannot be used: ${field}: ${rule}`,
    remedy: () => 'a lesson.json that fivespan wrote, unchanged',
  },
  'lesson.engine': {
    severity: 'warning',
    message: ({ engine, current }) =>
      `the lesson was made by music engine ${engine}, this is ${current}: the chorus may differ`,
    remedy: () => 'keep the printed handout if you teach from the old one',
  },
  'lesson.key-mode': {
    severity: 'warning',
    message: ({ asked, mode, taken }) =>
      `the lesson asks for ${asked} and the tune is in ${mode}: it is made in ${taken}`,
    remedy: () => "keys in the tune's own mode, or a key: line in the chart that states the other",
  },
  'lesson.bar-not-computed': {
    severity: 'error',
    message: ({ bar, chords, reason }) =>
      `Fivespan fails at bar ${bar}, '${chords}', which is its own fault, not the chart's (${reason})`,
    remedy: () => 'write the bar otherwise for now: a simpler symbol, or another spelling of its root or bass',
  },
  'lesson.not-computed': {
    severity: 'error',
    message: ({ reason }) => `Fivespan fails at this chart, which is its own fault, not the chart's (${reason})`,
    remedy: () => 'take back what was chosen or changed last',
  },
  'sound.bank-missing': {
    severity: 'error',
    message: ({ name }) => `the sound bank '${name}' is not there, and without it nothing can be heard`,
    remedy: () => 'make it from the installed packages: node tools/bank.mjs',
  },
  'sound.bank-unreadable': {
    severity: 'error',
    message: ({ name }) => `'${name}' is not a sound bank that can be read`,
    remedy: () => 'delete it and make it again: node tools/bank.mjs',
  },
  'sound.bank-incomplete': {
    severity: 'error',
    message: ({ name, instrument }) => `the sound bank '${name}' has no ${instrument}`,
    remedy: () => 'delete it and make it again: node tools/bank.mjs',
  },
} as const satisfies Record<string, IssueEntry>;
