import type { Analysis, Reason } from '../analysis/index.ts';
import type { HandSize } from '../hand/index.ts';
import type { Plan } from '../plan/index.ts';
import type { RandomSource } from '../random.ts';
import { wordsOfArpeggioReason } from './arpeggio-reason-words.ts';
import { arpeggioFaults } from './arpeggio-faults.ts';
import { arpeggioStudy } from './arpeggios.ts';
import { bassFaults } from './bass-faults.ts';
import { wordsOfBassReason } from './bass-reason-words.ts';
import {
  chorusFaults,
  improviseChorus,
  wordsOfChorusFault,
  wordsOfChorusReason,
  type ChorusNote,
} from './chorus/index.ts';
import type { BassChoice, BassNote, HandNote, PartNote } from './note.ts';
import { isOwnReasonCode, withOwnBass, withOwnChorus, wordsOfOwnReason } from './own/index.ts';
import type { PartPins } from './part-pins.ts';
import {
  voicingFaults,
  voicingNotes,
  wordsOfVoicingReason,
  type VoicingKind,
  type VoicingNote,
} from './voicings/index.ts';
import { walkBass } from './walking-bass.ts';

/** What each part's notes are. A new part begins here and in the table below; nothing else lists parts. */
export interface PartNotes {
  readonly chorus: readonly ChorusNote[];
  readonly bass: readonly BassNote[];
  readonly arpeggios: readonly HandNote[];
  /** The right hand of voicings for two; most kinds have none. */
  readonly upperVoicings: readonly VoicingNote[];
  readonly voicings: readonly VoicingNote[];
}
export type PartId = keyof PartNotes;

/** A staff's name in the score and in the played music: one a part. */
export type PartStaff = 'right hand' | 'left hand' | 'arpeggio study' | 'voicings, right hand' | 'voicings, left hand';

/** Staves that are written, engraved and played together; a group is one instrument of a MusicXML file. */
export type PartGroup = 'piano' | 'study' | 'voicings';

/** What every part is made from. */
export interface PartSources {
  readonly analysis: Analysis;
  readonly plan: Plan;
  /** 1 (plain) to 4 (free). */
  readonly level: 1 | 2 | 3 | 4;
  readonly hand: HandSize;
  readonly bass: BassChoice;
  /** What kind of voicings are written. */
  readonly voicings: VoicingKind;
  /** What the teacher fixed, in this key. */
  readonly pins: PartPins;
  /** The chorus as it was found, which the parts after it listen to; left out where there is none. */
  readonly line?: readonly ChorusNote[];
  /** A random source of its own for each name, so that a change in one part leaves the others as they are. */
  readonly random: (name: string) => RandomSource;
}

/** What a part's rules are held against. */
export interface FaultSources extends Pick<PartSources, 'analysis' | 'plan'> {
  readonly choices: Pick<PartSources, 'bass'>;
}

/** A part: how it is found, checked and explained, and how it is written and played. */
export interface Part<Note extends PartNote = PartNote> {
  readonly staff: PartStaff;
  readonly clef: 'treble' | 'bass';
  readonly group: PartGroup;
  readonly hand: 'right' | 'left';
  /** What it is heard on by itself. */
  readonly instrument: 'grand' | 'acoustic bass';
  /** What a staff without a note is: a staff of rests, or none at all. */
  readonly whenEmpty: 'rests' | 'left out';
  /** How loud it is played, MIDI velocity. */
  readonly velocity: number;
  /** Share of its written length that a note sounds. */
  readonly sounding: number;
  /** Whose time it keeps: a soloist's, late on the beat and less uneven, or the accompaniment's. */
  readonly swing: 'soloist' | 'accompaniment';
  /** Where it is louder: on the beats a band claps, or along the line's off-beats and phrases. */
  readonly accents: 'beats' | 'line';
  /** Whether its notes carry fingers, and thumb tabs where the position moves. */
  readonly hasFingers: boolean;
  readonly hasThumbs: boolean;
  /** Whether its phrases are the score's. */
  readonly hasPhrases: boolean;
  readonly search: (sources: PartSources) => readonly Note[];
  /** Puts the teacher's own notes into what was found; left out where they are part of the search. */
  readonly withOwn?: (sources: PartSources, found: readonly Note[]) => readonly Note[];
  /** Every rule of the part that notes break, in words; empty where they keep them. */
  readonly faults: (sources: FaultSources, notes: readonly Note[]) => string[];
  /** A note's reason in English. `note` is its name as it is shown. */
  readonly words: (reason: Reason, note: string) => string;
}

/** What both hands of the voicings share: chords held as long as they last. */
const HELD = {
  group: 'voicings',
  instrument: 'grand',
  whenEmpty: 'left out',
  velocity: 66,
  sounding: 0.96,
  swing: 'accompaniment',
  accents: 'beats',
  hasFingers: false,
  hasThumbs: false,
  hasPhrases: false,
  faults: voicingFaults,
  words: (reason, note) =>
    isOwnReasonCode(reason.code) ? wordsOfOwnReason(reason) : wordsOfVoicingReason(reason, note),
} as const satisfies Partial<Part<VoicingNote>>;

function voicingSourcesOf({ analysis, plan, voicings, pins }: PartSources) {
  return { analysis, plan, kind: voicings, pins: pins.voicings };
}

/**
 * The table of parts, in the order of the score's staves. Velocities and soundings are from memory: a bass string rings into the
 * next, a line's notes part a little.
 */
const TABLE: { readonly [Id in PartId]: Part<PartNotes[Id][number]> } = {
  chorus: {
    staff: 'right hand',
    clef: 'treble',
    group: 'piano',
    hand: 'right',
    instrument: 'grand',
    whenEmpty: 'rests',
    velocity: 84,
    sounding: 0.92,
    swing: 'soloist',
    accents: 'line',
    hasFingers: true,
    hasThumbs: true,
    hasPhrases: true,
    search: ({ plan, level, pins, random }) =>
      improviseChorus(plan, { level, random: random('chorus'), motives: pins.motives }),
    withOwn: ({ plan, hand, pins }, found) => withOwnChorus(plan, found, pins.notes, hand),
    faults: ({ plan }, notes) => chorusFaults(plan, notes).map(wordsOfChorusFault),
    words: (reason) => (isOwnReasonCode(reason.code) ? wordsOfOwnReason(reason) : wordsOfChorusReason(reason)),
  },
  bass: {
    staff: 'left hand',
    clef: 'bass',
    group: 'piano',
    hand: 'left',
    instrument: 'acoustic bass',
    whenEmpty: 'rests',
    velocity: 72,
    sounding: 0.94,
    swing: 'accompaniment',
    accents: 'beats',
    hasFingers: false,
    hasThumbs: false,
    hasPhrases: false,
    search: ({ analysis, level, bass, line = [], random }) =>
      walkBass(analysis, random('bass'), { level, ...bass, line }),
    withOwn: ({ analysis, plan, bass, pins }, found) => withOwnBass({ analysis, plan }, found, pins.notes, bass.range),
    faults: ({ analysis, choices }, notes) => bassFaults(analysis, notes, choices.bass.range),
    words: (reason) => (isOwnReasonCode(reason.code) ? wordsOfOwnReason(reason) : wordsOfBassReason(reason)),
  },
  arpeggios: {
    staff: 'arpeggio study',
    clef: 'treble',
    group: 'study',
    hand: 'right',
    instrument: 'grand',
    whenEmpty: 'rests',
    velocity: 78,
    sounding: 0.92,
    swing: 'accompaniment',
    accents: 'line',
    hasFingers: true,
    hasThumbs: false,
    hasPhrases: false,
    search: ({ plan, hand }) => arpeggioStudy(plan, hand),
    faults: ({ plan }, notes) => arpeggioFaults(plan, notes),
    words: wordsOfArpeggioReason,
  },
  upperVoicings: {
    ...HELD,
    staff: 'voicings, right hand',
    clef: 'treble',
    hand: 'right',
    search: (sources) => voicingNotes(voicingSourcesOf(sources), 'right'),
  },
  voicings: {
    ...HELD,
    staff: 'voicings, left hand',
    clef: 'bass',
    hand: 'left',
    search: (sources) => voicingNotes(voicingSourcesOf(sources), 'left'),
  },
};

/** A row of the table with its id; its notes are whatever the part's are. */
export interface PartRow extends Omit<Part, 'faults' | 'withOwn'> {
  readonly id: PartId;
  readonly withOwn?: (sources: PartSources, found: readonly PartNote[]) => readonly PartNote[];
}

/** Every part in the order of the score's staves. */
export const PARTS: readonly PartRow[] = (Object.keys(TABLE) as PartId[]).map(
  // what a row takes are its own part's notes, which no list of rows can say
  (id) => ({ id, ...TABLE[id] }) as unknown as PartRow,
);

/**
 * The part that is written on a staff.
 * @example partOnStaff('left hand').clef // → 'bass'
 */
export function partOnStaff(staff: PartStaff): PartRow {
  const part = PARTS.find((each) => each.staff === staff);
  if (part === undefined) throw new RangeError(`staff must be one of the parts', not '${staff}'`);
  return part;
}

/** Staves of a group, in the score's order. */
export function stavesOf(group: PartGroup): readonly PartStaff[] {
  return PARTS.filter((part) => part.group === group).map(({ staff }) => staff);
}

/** Something computed for each part, by id. */
export function forEachPart<Made>(make: (part: PartRow) => Made): { readonly [Id in PartId]: Made } {
  return Object.fromEntries(PARTS.map((part) => [part.id, make(part)])) as { [Id in PartId]: Made };
}

/** Finds a part's notes, or remembers them. */
export type PartSearch = (part: PartRow, search: () => readonly PartNote[]) => readonly PartNote[];

/**
 * All parts of a lesson.
 * @param given parts whose notes are there already (a drill's); they are not searched
 * @param found asked for what each other part is before the teacher's own notes
 */
export function makeParts(
  sources: PartSources,
  given: Partial<PartNotes> = {},
  found: PartSearch = (_, search) => search(),
): PartNotes {
  let heard = sources;
  // each row's search gives its own kind of notes, which the table's type holds and a loop cannot say
  return forEachPart((part) => {
    const there = given[part.id];
    if (there !== undefined) return there;
    const notes = found(part, () => part.search(heard));
    if (part.hasPhrases) heard = { ...sources, line: notes as readonly ChorusNote[] };
    return part.withOwn === undefined ? notes : part.withOwn(sources, notes);
  }) as unknown as PartNotes;
}

/**
 * Every rule that a lesson's parts break, by part.
 * @example partFaults(lesson, lesson).bass // → []
 */
export function partFaults(sources: FaultSources, notes: PartNotes): { readonly [Id in PartId]: string[] } {
  return {
    chorus: TABLE.chorus.faults(sources, notes.chorus),
    bass: TABLE.bass.faults(sources, notes.bass),
    arpeggios: TABLE.arpeggios.faults(sources, notes.arpeggios),
    upperVoicings: TABLE.upperVoicings.faults(sources, notes.upperVoicings),
    voicings: TABLE.voicings.faults(sources, notes.voicings),
  };
}
