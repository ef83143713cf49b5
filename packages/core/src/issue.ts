/** Where in the input something is wrong; counted from 1, bars as on paper. Absent where it has no such place. */
export interface Place {
  readonly line?: number;
  readonly column?: number;
  readonly bar?: number;
}

/** One code's entry in the registry: words for a musician, made from arguments. */
interface IssueEntry {
  readonly severity: 'error' | 'warning';
  /** What is wrong. */
  readonly message: (args: IssueArgs) => string;
  /** What would be right. */
  readonly remedy: (args: IssueArgs) => string;
}

export type IssueArgs = Readonly<Record<string, string | number>>;

/** Every issue the product can raise. One registry, so that each message is written once. Codes: `stage.what-is-wrong`. */
export const ISSUES = {
  'chord.unknown': {
    severity: 'error',
    message: ({ symbol, rest }) => `'${symbol}' is not a chord symbol: '${rest}' is not understood`,
    remedy: ({ nearest }) => `nearest: ${nearest}`,
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
  'file.missing': {
    severity: 'error',
    message: ({ file }) => `there is no file '${file}'`,
    remedy: () => "a chart file, - for standard input, or changes with bar lines: 'Fm7 | Bb7 | Ebmaj7'",
  },
  'file.too-large': {
    severity: 'error',
    message: ({ limit }) => `the file is larger than ${limit} bytes`,
    remedy: () => 'a chart is a few kilobytes of text',
  },
  'file.not-text': {
    severity: 'error',
    message: () => 'the file is not text in UTF-8',
    remedy: () => 'save it as plain text, UTF-8',
  },
  'fingering.too-many-keys': {
    severity: 'error',
    message: ({ strike, keys }) => `stroke ${strike} has ${keys} keys for one hand`,
    remedy: () => 'one to five keys at once; give the others to the other hand',
  },
  'fingering.pins-cross': {
    severity: 'error',
    message: ({ strike }) => `the fingers fixed in stroke ${strike} cross or repeat`,
    remedy: () => 'in one chord the fingers follow the keys: thumb lowest in the right hand, highest in the left',
  },
  'shape.not-five-notes': {
    severity: 'error',
    message: ({ notes, count }) => `a shape has five notes, one for each finger; '${notes}' are ${count}`,
    remedy: () => 'five different notes, the thumb first: C D E G A',
  },
  'shape.note-twice': {
    severity: 'error',
    message: ({ notes, note }) => `'${notes}' has ${note} twice`,
    remedy: () => 'five different notes, the thumb first: C D E G A',
  },
} as const satisfies Record<string, IssueEntry>;

export type IssueCode = keyof typeof ISSUES;

/** Something wrong with an input. An expected failure is a value, never thrown. */
export interface Issue {
  readonly code: IssueCode;
  readonly args: IssueArgs;
  readonly place: Place;
}

/** A value, or everything that is wrong with the input. Warnings come with a value that lost something. */
export type Result<Value> =
  | { readonly ok: true; readonly value: Value; readonly warnings: readonly Issue[] }
  | { readonly ok: false; readonly issues: readonly Issue[] };

export function severityOf(issue: Issue): 'error' | 'warning' {
  return ISSUES[issue.code].severity;
}

/** What is wrong, in English for a musician. */
export function messageOf(issue: Issue): string {
  const entry: IssueEntry = ISSUES[issue.code];
  return entry.message(issue.args);
}

/** What would be right, in English for a musician. */
export function remedyOf(issue: Issue): string {
  const entry: IssueEntry = ISSUES[issue.code];
  return entry.remedy(issue.args);
}
