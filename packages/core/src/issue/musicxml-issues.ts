import type { IssueEntry } from './issue-entry.ts';

/** What can be wrong with a MusicXML lead sheet, or be lost on the way in. One entry a code. */
export const MUSICXML_ISSUES = {
  'musicxml.too-large': {
    severity: 'error',
    message: ({ limit }) => `the score is larger than ${limit} bytes, packed or unpacked`,
    remedy: () => 'a lead sheet; export the part with the chords alone',
  },
  'musicxml.damaged-zip': {
    severity: 'error',
    message: () => 'the packed score (.mxl) is damaged or cut off',
    remedy: () => 'export it again, or save it unpacked as .musicxml',
  },
  'musicxml.no-score-in-zip': {
    severity: 'error',
    message: () => 'the packed file holds no score that its container names',
    remedy: () => 'a .mxl file as notation programs save it, or unpacked .musicxml',
  },
  'musicxml.not-text': {
    severity: 'error',
    message: () => 'the score is not text in the encoding it names, or in one that is not read',
    remedy: () => 'save it as MusicXML in UTF-8',
  },
  'musicxml.not-xml': {
    severity: 'error',
    message: ({ reason }) => `the score is damaged or cut off: ${reason}`,
    remedy: () => 'export it again from the program it was written in',
  },
  'musicxml.not-a-score': {
    severity: 'error',
    message: ({ root }) => `the file is XML but no score: it begins with <${root}>`,
    remedy: () => 'MusicXML, which begins with <score-partwise>',
  },
  'musicxml.timewise': {
    severity: 'error',
    message: () => 'the score is written bar by bar across the parts (<score-timewise>), which is not read',
    remedy: () => 'export it as partwise MusicXML, the usual form',
  },
  'musicxml.too-long': {
    severity: 'error',
    message: ({ bars }) => `the score has more than ${bars} bars`,
    remedy: () => 'a lead sheet of one tune',
  },
  'musicxml.no-chords': {
    severity: 'warning',
    message: ({ bars }) =>
      `the score has no chord symbols in its ${bars === 1 ? 'only bar' : `${bars} bars`}: the chart is empty`,
    remedy: () => 'a lead sheet with chord symbols over the staff',
  },
  'musicxml.notes-left-out': {
    severity: 'warning',
    message: ({ notes }) => `${notes} notes were left out: a chart holds the changes only`,
    remedy: () => 'keep the lead sheet for the melody',
  },
  'musicxml.chord-changed': {
    severity: 'warning',
    message: ({ written, read }) => `the chord '${written}' is read as ${read}`,
    remedy: () => 'check it against the lead sheet',
  },
  'musicxml.chord-dropped': {
    severity: 'warning',
    message: ({ written }) => `the chord '${written}' is not understood and left out: the one before goes on`,
    remedy: () => 'write it in by hand',
  },
  'musicxml.chords-at-one-place': {
    severity: 'warning',
    message: ({ count }) => `${count} chords stand at one place: they share the time up to the next`,
    remedy: () => 'check where each begins',
  },
  'musicxml.chord-outside-bar': {
    severity: 'warning',
    message: ({ written }) => `the chord '${written}' lies outside its bar and is moved to the bar's edge`,
    remedy: () => 'check where it begins',
  },
  'musicxml.numerals-left-out': {
    severity: 'warning',
    message: ({ count }) => `${count} Roman numerals were left out: the analysis finds its own`,
    remedy: () => 'fix a numeral in the choices where you read it otherwise',
  },
  'musicxml.other-part': {
    severity: 'warning',
    message: ({ part, other }) => `the chords are read from '${part}'; those of '${other}' differ and were left out`,
    remedy: () => 'export the part you want alone',
  },
  'musicxml.transposed': {
    severity: 'warning',
    message: ({ part }) => `'${part}' is written for a transposing instrument: the chart is at concert pitch`,
    remedy: () => 'transpose the chart to print it for that instrument',
  },
  'musicxml.key-without-mode': {
    severity: 'warning',
    message: ({ signature }) => `the key signature (${signature}) does not say major or minor`,
    remedy: () => 'write the key in the chart if the one found is not yours',
  },
  'musicxml.key-not-read': {
    severity: 'warning',
    message: ({ key, read }) => `the key '${key}' cannot be written in a chart: ${read}`,
    remedy: () => 'major or minor with at most seven sharps or flats',
  },
  'musicxml.meter-not-read': {
    severity: 'warning',
    message: ({ meter }) => `the metre '${meter}' cannot be written in a chart: the one before goes on`,
    remedy: () => 'a metre over 2, 4, 8 or 16',
  },
  'musicxml.bar-length': {
    severity: 'warning',
    message: ({ beats, meter }) => `the bar lasts ${beats} and not ${meter}: it is read as a bar of its own metre`,
    remedy: () => 'check the bar in the lead sheet',
  },
  'musicxml.bar-rounded': {
    severity: 'warning',
    message: ({ meter }) => `the bar's notes do not fill ${meter}: it is read as a full bar`,
    remedy: () => 'check the bar in the lead sheet',
  },
  'musicxml.form-left-out': {
    severity: 'warning',
    message: ({ what }) => `${what} cannot be carried over`,
    remedy: () => 'write the form into the chart by hand',
  },
} as const satisfies Record<string, IssueEntry>;
