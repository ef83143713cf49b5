import type { IssueEntry } from './issue-entry.ts';

/** Which time through, where it is not the first. */
function timeOf(pass: string | number | undefined): string {
  return pass === 1 || pass === undefined ? '' : ` (time ${pass})`;
}

/** What can be wrong with shapes, pins and files to be fingered. One entry a code. */
export const HAND_ISSUES = {
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
  'plan.pin-numeral': {
    severity: 'warning',
    message: ({ numeral, chord }) => `${chord} cannot be read as ${numeral}: the pin is left out`,
    remedy: ({ known }) => `one of its readings: ${known}`,
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
  'plan.pin-fit': {
    severity: 'warning',
    message: ({ shape, thumb, over, pass }) =>
      `the position chosen here, ${shape} with the thumb on ${thumb}${pass === 1 ? '' : ` (time ${pass})`}, does not fit ${over}`,
    remedy: ({ chord }) => `it is passed over and the hand goes its usual way; choose another for ${chord}`,
  },
  'parts.voicing-pin': {
    severity: 'warning',
    message: ({ chord, pass }) =>
      `the voicing chosen here${pass === 1 ? '' : ` (time ${pass})`} is none that ${chord} has as it stands`,
    remedy: () => 'it is passed over and the voices go their shortest way; choose another one',
  },
  'parts.notes-room': {
    severity: 'warning',
    message: ({ part, chord, pass }) =>
      `your own notes of the ${part} over ${chord}${timeOf(pass)} no longer have room there, or overlap`,
    remedy: () => 'they are kept and passed over; write them again over the chord as it is',
  },
  'parts.notes-keyboard': {
    severity: 'warning',
    message: ({ part, chord, pass }) =>
      `your own notes of the ${part} over ${chord}${timeOf(pass)} leave the keyboard in this key`,
    remedy: () => 'they are passed over in this key; write them an octave nearer to the middle',
  },
  'parts.notes-hand': {
    severity: 'warning',
    message: ({ chord, pass }) => `over ${chord}${timeOf(pass)} no shape gives the hand a place to play your own notes`,
    remedy: () => 'they are kept and passed over; choose a position for a chord of the chart',
  },
  'parts.notes-chord': {
    severity: 'warning',
    message: ({ part, chord, over, note, pass }) =>
      `your own notes of the ${part}${timeOf(pass)} were written over ${over}; the chord is ${chord} now, where ${note} rubs`,
    remedy: () => 'they are kept and passed over; write them again over the new chord, or let go of them',
  },
  'plan.pin-reach': {
    severity: 'warning',
    message: ({ shape }) => `the ${shape} chosen here lies out of this hand's reach`,
    remedy: () => 'it is kept as chosen; roll it, leave a note out, or choose a narrower position; stop where it hurts',
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
  'drill.no-bars': {
    severity: 'error',
    message: ({ from, to, last }) =>
      `the chart has ${Number(from) > Number(last) ? 'none' : 'not all'} of the bars ${from} to ${to}: it ends with bar ${last}`,
    remedy: ({ last }) => `bars as they are counted on paper, from 1 to ${last}`,
  },
  'drill.nothing': {
    severity: 'error',
    message: ({ kind }) => `these bars have nothing for a drill of the kind '${kind}'`,
    remedy: () => 'other bars, or another kind: fivespan drill --list names them',
  },
  'drill.no-phrase': {
    severity: 'error',
    message: ({ phrase, known }) =>
      `the lesson keeps no phrase '${phrase}'${known === '' ? ', and no other' : `; it has: ${known}`}`,
    remedy: () => 'a phrase by its name as the lesson lists it; Study, notes, keeps one',
  },
  'drill.phrase-bass': {
    severity: 'error',
    message: ({ phrase }) => `'${phrase}' is a phrase of the bass, and this drill is for the right hand`,
    remedy: () => 'a phrase of the chorus',
  },
  'drill.phrase-fit': {
    severity: 'error',
    message: ({ phrase, where, rub }) =>
      `'${phrase}' does not fit ${where}: ${rub === '' ? 'there is no room for it' : `${rub} would be left rubbing`}`,
    remedy: () => 'bars with chords like those it was kept over, or another phrase',
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
  'take.no-notes': {
    severity: 'error',
    message: () => 'the MIDI file has no notes of a piano: nothing but drums, a click or a bass player',
    remedy: () => 'a recording of the hands, on any channel but 10',
  },
  'take.too-long': {
    severity: 'error',
    message: ({ what }) => `the take is longer than can be judged at once: ${what}`,
    remedy: () => 'a take of at most an hour and 50000 notes',
  },
  'take.tempi': {
    severity: 'warning',
    message: ({ tempo }) => `the MIDI file changes its tempo: it is judged by its beats, as at ${tempo}`,
    remedy: () => 'one file for each tempo tells more',
  },
  'take.damaged': {
    severity: 'error',
    message: ({ field, rule }) => `the take cannot be used: ${field}: ${rule}`,
    remedy: () => 'a take that Fivespan kept, unchanged',
  },
  'take.newer': {
    severity: 'error',
    message: ({ version }) => `the take has version ${version}, made by a newer Fivespan`,
    remedy: () => 'update Fivespan, then open it again',
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
} as const satisfies Record<string, IssueEntry>;
