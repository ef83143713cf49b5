import type { IssueEntry } from './issue-entry.ts';

/** What can be wrong with a chart in text and the chord symbols in it. One entry a code. */
export const CHART_ISSUES = {
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
  'chart.not-read': {
    severity: 'error',
    message: ({ reason }) => `Fivespan fails at this line, which is its own fault, not the chart's (${reason})`,
    remedy: () => 'write the line otherwise for now; the rest is kept as it is',
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
} as const satisfies Record<string, IssueEntry>;
