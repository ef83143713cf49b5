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
  'chord.root': {
    severity: 'error',
    message: ({ symbol }) => `'${symbol}' is not a chord symbol: it does not begin with a root`,
    remedy: ({ nearest }) => `a capital letter from A to G, with b or # where needed: ${nearest}`,
  },
  'chord.root-spelling': {
    severity: 'error',
    message: ({ symbol }) => `'${symbol}': a root has one accidental at most`,
    remedy: ({ nearest }) => `the other spelling of it: ${nearest}`,
  },
  'chord.unwritable': {
    severity: 'error',
    message: ({ symbol }) => `'${symbol}' has a note with three accidentals`,
    remedy: ({ nearest }) => `the same chord on the other spelling of its root: ${nearest}`,
  },
  'chord.contradiction': {
    severity: 'error',
    message: ({ symbol, what, against }) => `'${symbol}' contradicts itself: ${what} against ${against}`,
    remedy: ({ nearest }) => `nearest: ${nearest}`,
  },
  'chord.bass': {
    severity: 'error',
    message: ({ symbol, bass }) =>
      bass === '' ? `'${symbol}' has a slash and no bass note` : `'${symbol}': '${bass}' is not a bass note`,
    remedy: ({ nearest }) => `a note name after the slash, or none: ${nearest}`,
  },
  'chart.empty': {
    severity: 'error',
    message: () => 'the chart has no bars',
    remedy: () => 'bars between bar lines: | Fm7 | Bb7 | Ebmaj7 |',
  },
  'chart.too-large': {
    severity: 'error',
    message: ({ limit }) => `the chart is longer than ${limit} characters`,
    remedy: () => 'one tune to a chart',
  },
  'chart.too-many-bars': {
    severity: 'error',
    message: ({ limit }) => `the chart has more than ${limit} bars`,
    remedy: () => 'one tune to a chart; write repeats as |: :|',
  },
  'chart.form-too-long': {
    severity: 'error',
    message: ({ limit }) => `with its repeats the chart is longer than ${limit} bars`,
    remedy: () => 'fewer repeats',
  },
  'chart.more-faults': {
    severity: 'error',
    message: ({ count }) => `${count} faults more`,
    remedy: () => 'set right those above first',
  },
  'chart.header-unknown': {
    severity: 'error',
    message: ({ name }) => `'${name}:' is no heading of a chart`,
    remedy: ({ nearest }) => `${nearest}: … here, or, where a section begins, a bar line after its name: A: | Fm7 |`,
  },
  'chart.section-line': {
    severity: 'error',
    message: ({ name }) => `there is no bar line between '${name}:' and its music`,
    remedy: ({ remedy }) => `a section's name, then a bar line: ${remedy}`,
  },
  'chart.header-twice': {
    severity: 'error',
    message: ({ name }) => `'${name}:' is there twice`,
    remedy: () => 'one of them',
  },
  'chart.header-late': {
    severity: 'error',
    message: ({ name }) => `'${name}:' stands after the first bar`,
    remedy: () => 'before the first bar; key and meter may also change inside a chart',
  },
  'chart.nothing-follows': {
    severity: 'error',
    message: ({ name }) => `no bar follows '${name}:'`,
    remedy: () => 'bars after it, or leave it out',
  },
  'chart.name-too-long': {
    severity: 'error',
    message: ({ what, limit }) => `the ${what} is longer than ${limit} characters`,
    remedy: () => 'a shorter one',
  },
  'chart.key': {
    severity: 'error',
    message: ({ value }) => `'${value}' is not a key that can be written`,
    remedy: () => 'a tonic and major or minor, seven accidentals at most: Eb major, C minor',
  },
  'chart.meter': {
    severity: 'error',
    message: ({ value }) => `'${value}' is not a metre`,
    remedy: () => '1 to 32 over 2, 4, 8 or 16: 4/4, 3/4, 6/8',
  },
  'chart.tempo': {
    severity: 'error',
    message: ({ value }) => `'${value}' is not a tempo`,
    remedy: () => 'beats a minute, a whole number from 20 to 400: 132',
  },
  'chart.feel': {
    severity: 'error',
    message: ({ value }) => `'${value}' is not a feel`,
    remedy: () => 'swing or even',
  },
  'chart.pickup': {
    severity: 'error',
    message: ({ value, beats }) => `a pickup of '${value}' beats does not fit a bar of ${beats}`,
    remedy: () => 'whole beats, fewer than a bar has; the first bar of the chart is then the pickup',
  },
  'chart.bar-empty': {
    severity: 'error',
    message: () => 'the bar is empty',
    remedy: () => '% where the bar before is repeated, N.C. where nobody plays a chord',
  },
  'chart.split': {
    severity: 'error',
    message: ({ chords, beats }) => `${chords} chords do not share ${beats} beats evenly`,
    remedy: ({ example }) => `one cell a beat, / where a chord goes on: ${example}`,
  },
  'chart.cells': {
    severity: 'error',
    message: ({ cells, beats }) => `${cells} cells in a bar of ${beats} beats`,
    remedy: ({ beats }) => `with / in a bar every cell is one beat: ${beats} of them`,
  },
  'chart.nothing-before': {
    severity: 'error',
    message: ({ cell }) => `'${cell}' repeats what stands before it, and nothing does`,
    remedy: () => 'a chord, or N.C.',
  },
  'chart.repeat-bar-alone': {
    severity: 'error',
    message: () => '% shares its bar with something else',
    remedy: () => '% stands alone in its bar and repeats the bar before',
  },
  'chart.repeat-bar-length': {
    severity: 'error',
    message: () => '% repeats a bar of another length',
    remedy: () => 'write the chords out',
  },
  'chart.off-beat': {
    severity: 'error',
    message: ({ cell }) => `'${cell}' does not divide its beat`,
    remedy: () => 'chords of one beat joined with &: Fm7&Bb7 on the beat and its and, /&Bb7 on the and alone',
  },
  'chart.words': {
    severity: 'error',
    message: ({ words }) => `'${words}' is no direction of a chart`,
    remedy: ({ nearest }) => `nearest: ${nearest}`,
  },
  'chart.mark-twice': {
    severity: 'error',
    message: ({ mark }) => `a second '${mark}'`,
    remedy: ({ mark }) => `one ${mark} to a chart`,
  },
  'chart.jump-without': {
    severity: 'error',
    message: ({ jump, missing }) => `'${jump}' needs '${missing}', and there is none where it could be reached`,
    remedy: ({ missing, where }) => `write ${missing} ${where}`,
  },
  'chart.jump-never': {
    severity: 'error',
    message: ({ jump }) => `'${jump}' stands where the music always repeats instead`,
    remedy: () => 'in the last ending, or after the repeat',
  },
  'chart.mark-unused': {
    severity: 'warning',
    message: ({ mark }) => `'${mark}' is there, and nothing leads to it`,
    remedy: ({ jump }) => `it is for ${jump}`,
  },
  'chart.repeat-unclosed': {
    severity: 'error',
    message: () => 'the repeat that begins here has no end',
    remedy: () => ':| where it ends',
  },
  'chart.repeat-unopened': {
    severity: 'error',
    message: () => 'a repeat ends here that never began',
    remedy: () => '|: where it begins',
  },
  'chart.repeat-nested': {
    severity: 'error',
    message: ({ from }) =>
      `a repeat begins inside the one from bar ${from}: on paper nobody could tell which :| is whose`,
    remedy: () => 'end the first with :| before, or write the inner one out',
  },
  'chart.repeat-count': {
    severity: 'error',
    message: ({ times, endings }) => `played ${times} times, with endings for ${endings}`,
    remedy: ({ endings }) => `:| alone; the endings say that it is played ${endings} times`,
  },
  'chart.repeat-times': {
    severity: 'error',
    message: ({ times }) => `a repeat played ${times} times`,
    remedy: () => 'from x2 to x32',
  },
  'chart.ending-outside': {
    severity: 'error',
    message: ({ ending }) => `a ${ending} ending outside a repeat`,
    remedy: () => '|: where the repeat begins',
  },
  'chart.ending-unclosed': {
    severity: 'error',
    message: ({ ending }) => `the ${ending} ending has no end`,
    remedy: () => ':| at its end, then the next ending',
  },
  'chart.ending-missing': {
    severity: 'error',
    message: ({ ending }) => `there is no ${ending} ending`,
    remedy: ({ number }) => `${number}. at the bar where it begins`,
  },
  'chart.ending-twice': {
    severity: 'error',
    message: ({ ending }) => `a second '${ending} ending' in one repeat`,
    remedy: () => 'each time through has one ending',
  },
  'chart.ending-number': {
    severity: 'error',
    message: ({ text }) => `'${text}' is no ending`,
    remedy: () => '1. 2. 3. or 4., or several: 1.2.',
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
    remedy: () => 'a chart or lead sheet of one tune',
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
  'fingering.file-kind': {
    severity: 'error',
    message: () => 'the file is neither MusicXML nor a MIDI file',
    remedy: () => 'a score saved as .musicxml, .xml or .mxl, or a MIDI file (.mid)',
  },
  'fingering.which-part': {
    severity: 'error',
    message: ({ side, asked }) =>
      asked === '' ? `it is not clear which staff the ${side} hand plays` : `the score has no ${asked} with notes`,
    remedy: ({ staves }) => (staves === '' ? 'a score with notes in it' : `--part N --staff N, for one of: ${staves}`),
  },
  'fingering.which-track': {
    severity: 'error',
    message: ({ side, asked }) =>
      asked === ''
        ? `it is not clear which track the ${side} hand plays`
        : `the file has no ${asked} with notes for a hand`,
    remedy: ({ tracks }) => (tracks === '' ? 'a MIDI file with notes in it' : `--track N, for one of: ${tracks}`),
  },
  'fingering.no-notes': {
    severity: 'error',
    message: ({ side, where }) => `${where} has no notes for the ${side} hand`,
    remedy: ({ remedy }) => `${remedy}`,
  },
  'fingering.too-long': {
    severity: 'error',
    message: ({ notes, limit }) => `the hand has ${notes} notes, more than the ${limit} that are taken`,
    remedy: () => 'one piece to a file',
  },
  'fingering.no-key': {
    severity: 'error',
    message: ({ pitch }) => `there is no key for ${pitch}`,
    remedy: () => 'a pitch of the keyboard: a step, whole semitones up or down, an octave',
  },
  'fingering.midi-damaged': {
    severity: 'error',
    message: ({ reason }) => `the MIDI file is damaged or cut off: ${reason}`,
    remedy: () => 'export it again from the program it was made with',
  },
  'fingering.midi-kind': {
    severity: 'error',
    message: ({ what }) => `the MIDI file ${what}, which is not read`,
    remedy: () => 'a Standard MIDI File of format 0 or 1, timed in ticks to the quarter note',
  },
  'fingering.hand-taken': {
    severity: 'warning',
    message: ({ side, where }) => `${where} is taken for the ${side} hand`,
    remedy: ({ remedy }) => `${remedy}`,
  },
  'fingering.hands-parted': {
    severity: 'warning',
    message: ({ side, track }) =>
      `track ${track} holds all the notes: those ${side === 'right' ? 'from middle C up' : 'below middle C'} are taken for the ${side} hand`,
    remedy: ({ track }) => `--track ${track} takes all of them for one hand`,
  },
  'fingering.not-understood': {
    severity: 'warning',
    message: ({ text }) => `the fingering '${text}' on a note is left as it is and not obeyed`,
    remedy: () => 'one finger from 1 to 5 on a note',
  },
  'fingering.finger-held': {
    severity: 'warning',
    message: ({ count }) =>
      count === 1
        ? 'one note asks for a finger that still holds another key'
        : `${count} notes ask for a finger that still holds another key, here first`,
    remedy: () => 'let go early with the pedal, or write the finger of the held note and try again',
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
    message: ({ bars }) => `the score has no chord symbols in its ${bars} bars: the chart is empty`,
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
  'plan.pin-lost': {
    severity: 'warning',
    message: ({ slot, pass }) => `a choice was made for chord ${slot}, time ${pass}, which the chart no longer has`,
    remedy: () => 'it is left out; choose again at the chord that took its place',
  },
  'plan.pin-chord-scale': {
    severity: 'warning',
    message: ({ chordScale, chord }) => `the chord-scale '${chordScale}' that was chosen does not belong to ${chord}`,
    remedy: ({ known }) => `one of: ${known}`,
  },
  'plan.pin-shape': {
    severity: 'warning',
    message: ({ shape }) => `'${shape}' is no five-note shape`,
    remedy: () => "a shape's name with hyphens, or its semitones from the thumb: minor-pentatonic, 0-3-5-7-10",
  },
  'plan.pin-thumb': {
    severity: 'warning',
    message: ({ thumb }) => `the thumb cannot lie on MIDI note ${thumb}`,
    remedy: ({ highest }) => `a whole number from 0 to ${highest}; middle C is 60`,
  },
  'plan.pin-reach': {
    severity: 'warning',
    message: ({ shape }) => `the ${shape} chosen here lies out of this hand's reach`,
    remedy: () => 'it is kept as chosen; roll it, leave a note out, or choose a narrower position; stop where it hurts',
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
