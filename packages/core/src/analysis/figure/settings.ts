import {
  containsSet,
  degree,
  degreeOnStep,
  SCALE_KINDS,
  setOfChord,
  setOfScale,
  unionOf,
  type Key,
  type PitchClassSet,
} from '../../theory/index.ts';
import { isTonicMinor } from '../harmony/event.ts';
import type { ChordFunction } from '../ladder/function-scales.ts';
import { PLAIN_SETTING, type LadderSetting } from '../ladder/setting.ts';
import { sameKey, type ReadEvent } from './read-event.ts';

const MINOR_MODES = [SCALE_KINDS.dorian, SCALE_KINDS.aeolian, SCALE_KINDS.phrygian];
const DOUBLE_FLAT_SEVENTH = degree('bb7');

const up = (from: ReadEvent, to: ReadEvent): number => (to.event.root - from.event.root + 12) % 12;

/** Whether a chord leads by a leading note or a tritone: it makes a cadence and says nothing of a mode. */
function isCadential({ reading, event, chosen }: ReadEvent): boolean {
  const { role } = reading;
  if (role === 'predominant' || role === 'modal') return false;
  return event.chordClass === 'o' || event.chordClass === 'h' || (role.endsWith('dominant') && chosen.target !== null);
}

/** The function that the chords beside it give a chord. */
function functionBeside(
  chord: ReadEvent,
  previous: ReadEvent,
  next: ReadEvent,
  afterNext: ReadEvent,
): ChordFunction | null {
  const { reading, event } = chord;
  const { role, reason, key } = reading;
  if (event.chordClass === 'D' && reason.code === 'applied.by-substitute') return 'Lydian dominant';
  if (event.chordClass === 'D' && (role === 'dominant' || role === 'applied dominant')) {
    // the ii decides: a half-diminished one asks for the b9 whatever comes, a m7 before another ii for none
    if (previous.event.chordClass === 'h' && up(previous, chord) === 5) return 'dominant of minor';
    const goesOn = next.event.chordClass === 'm' && afterNext.event.chordClass === 'D' && up(next, afterNext) === 5;
    const afterMinorSeventh = previous.event.chordClass === 'm' && up(previous, chord) === 5;
    if (afterMinorSeventh && goesOn && up(chord, next) === 5 && next.reading.role === 'applied predominant')
      return 'dominant of major';
  }
  const isSeventh = event.sounding.degrees.includes(DOUBLE_FLAT_SEVENTH);
  if (event.chordClass === 'o' && isSeventh && key.mode === 'minor' && chord.place === 11)
    return 'leading-note seventh';
  const isSecond =
    event.chordClass === 'm' &&
    key.mode === 'minor' &&
    chord.place === 2 &&
    (role === 'predominant' || role === 'modal');
  if (isSecond && !(next.event.chordClass === 'D' && up(chord, next) === 5)) return 'third minor';
  return null;
}

/**
 * The notes of a minor tonic and of the chords beside it, where they are chords of one mode and no cadence decides: what
 * follows it counts before what came.
 */
function heardAround(chord: ReadEvent, previous: ReadEvent, following: readonly ReadEvent[]): PitchClassSet {
  const none = 0 as PitchClassSet;
  const { event, reading } = chord;
  const isTonic = chord.place === 0 && (reading.role === 'tonic' || reading.role === 'modal');
  if (!isTonic || reading.key.mode !== 'minor' || event.chordClass !== 'm' || isTonicMinor(event)) return none;
  const own = setOfChord(event.sounding);
  const modes = MINOR_MODES.map((kind) => setOfScale({ kind, root: event.sounding.root }));
  const speaks = (each: ReadEvent): boolean =>
    !isCadential(each) &&
    sameKey(each, chord) &&
    each.event.root !== event.root &&
    modes.some((mode) => containsSet(mode, unionOf(own, setOfChord(each.event.sounding))));
  const [next] = following;
  if (next === undefined || !speaks(next)) return none;
  const silent = following.findIndex((each) => !speaks(each));
  const heard = [...following.slice(0, silent < 0 ? following.length : silent), ...[previous].filter(speaks)];
  return heard.map((each) => setOfChord(each.event.sounding)).reduce((all, set) => unionOf(all, set), own);
}

/** Whether a chord is the I, IV or V of the blues it stands in. */
function bluesTonicOf({ event, reading, place }: ReadEvent, blues: Key | null): LadderSetting['bluesTonic'] {
  if (blues === null || reading.key.tonic !== blues.tonic || ![0, 5, 7].includes(place)) return null;
  const isSeventh = event.chordClass === 'D' && degreeOnStep(event.sounding, 6) !== undefined;
  const isMinor = blues.mode === 'minor' && event.chordClass === 'm' && place !== 7;
  return isSeventh || isMinor ? blues.tonic : null;
}

/**
 * What neighbours and form say about each chord's scales. The form goes round: the first follows the last.
 * @param blues the key of the blues the form is, null where it is none
 */
export function settingsOf(chords: readonly ReadEvent[], blues: Key | null): LadderSetting[] {
  const at = (index: number): ReadEvent => chords[(index + chords.length) % chords.length] as ReadEvent;
  return chords.map((chord, index) => {
    const [previous, next, afterNext] = [at(index - 1), at(index + 1), at(index + 2)];
    if (previous === chord) return { ...PLAIN_SETTING, bluesTonic: bluesTonicOf(chord, blues) };
    return {
      chordFunction: functionBeside(chord, previous, next, afterNext),
      heard: heardAround(chord, previous, [next, afterNext]),
      bluesTonic: bluesTonicOf(chord, blues),
    };
  });
}
