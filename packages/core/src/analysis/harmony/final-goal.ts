import { degree, degreeOnStep } from '../../theory/index.ts';
import { hasMinorSeventh, type HarmonicEvent } from './event.ts';

/** A major or minor chord without a minor seventh: one a form can come to rest on. */
export function isRestful(event: HarmonicEvent): boolean {
  const { chordClass } = event;
  return chordClass === 'M' || chordClass === 'T' || (chordClass === 'm' && !hasMinorSeventh(event));
}

const upTo = (from: HarmonicEvent, to: HarmonicEvent): number => (to.root - from.root + 12) % 12;

const isTwo = ({ chordClass }: HarmonicEvent): boolean => chordClass === 'm' || chordClass === 'h';

/** Whether a chord is a dominant; an augmented triad is the I with its fifth raised as often. */
function isDominant({ chordClass, chord }: HarmonicEvent): boolean {
  return chordClass === 'D' || chordClass === 's' || (chordClass === '+' && degreeOnStep(chord, 6) !== undefined);
}

const ALTERED = ['b9', '#9', '#5', 'b13'].map(degree);

/** Whether a minor chord is what a half-diminished ii and an altered V lead to: then it is home, whatever follows. */
function isMinorGoal(events: readonly HarmonicEvent[], index: number): boolean {
  const [two, five, goal] = [events[index - 2], events[index - 1], events[index]];
  if (two === undefined || five === undefined || goal === undefined) return false;
  const isAltered = five.chord.degrees.some((each) => ALTERED.includes(each));
  return two.chordClass === 'h' && isDominant(five) && isAltered && upTo(two, five) === 5 && upTo(five, goal) === 5;
}

/** Whether a minor chord is followed by its dominant: a ii, and no evidence of a tonic. Common practice. */
export function soundsAsTwo(events: readonly HarmonicEvent[], index: number): boolean {
  const [event, next] = [events[index], events[index + 1]];
  if (event === undefined || next === undefined || event.chordClass !== 'm' || next.chordClass !== 'D') return false;
  const up = upTo(event, next);
  return (up === 5 || up === 11) && !isMinorGoal(events, index);
}

/** Whether a seventh chord comes after its own ii, and is not the one the form begins on: a V, and no I7 of a blues. Common practice. */
export function soundsAsFive(events: readonly HarmonicEvent[], index: number): boolean {
  const [before, event] = [events[index - 1], events[index]];
  if (before === undefined || event?.chordClass !== 'D' || !isTwo(before)) return false;
  return upTo(before, event) === 5 && events[0]?.root !== event.root;
}

/**
 * The root of the last goal that a dominant reaches down a fifth and that rests there: a chord without a minor seventh, or a
 * minor seventh chord that is not the next ii. Null where there is none.
 */
export function finalGoal(events: readonly HarmonicEvent[], ending: number): number | null {
  for (let index = ending; index > 0; index--) {
    const [before, goal] = [events[index - 1] as HarmonicEvent, events[index] as HarmonicEvent];
    if (!isDominant(before) || upTo(before, goal) !== 5) continue;
    if (isRestful(goal) || (goal.chordClass === 'm' && !soundsAsTwo(events, index))) return goal.root;
  }
  return null;
}

/** Whether all chords are iis and dominants, each leading on to the next: III7 VI7 II7 V7, iii VI7 ii V7. */
function isChain(events: readonly HarmonicEvent[]): boolean {
  return events.every((event, index) => {
    const next = events[index + 1];
    // one that lasts longer than a bar may be a I7
    if (next === undefined) return event.chordClass === 'D' && event.weight < 3;
    if (isTwo(event)) return isDominant(next) && upTo(event, next) === 5;
    const up = upTo(event, next);
    return isDominant(event) && (up === 5 || up === 11 || (up === 0 && isTwo(next)));
  });
}

/**
 * Where no dominant reaches its goal, the root of the goal that is asked for: by the last of a chain of dominants, else by
 * the first dominant that comes after its ii or its IV. Null where none does. Common practice.
 */
export function impliedGoal(events: readonly HarmonicEvent[]): number | null {
  const last = events.at(-1);
  if (events.length > 2 && last !== undefined && isChain(events)) return (last.root + 5) % 12;
  // a form that opens on a seventh chord is rather a blues, home where it opens
  if (events[0]?.chordClass === 'D') return null;
  for (const [index, event] of events.entries()) {
    const before = events[index - 1];
    if (before === undefined || event.chordClass !== 'D') continue;
    const afterFour = (before.chordClass === 'M' || before.chordClass === 'T') && upTo(before, event) === 2;
    if (soundsAsFive(events, index) || afterFour) return (event.root + 5) % 12;
  }
  return null;
}
