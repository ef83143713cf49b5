import { degree } from '../../theory/index.ts';
import { isTonicMinor, varies, type ChordClass, type HarmonicEvent } from './event.ts';

/** Degrees of a dominant that leave it a plain one: an altered one asks for its goal. */
const PLAIN = new Set(['1', '3', '5', 'b7', '9', '13', '6', '4', '#11'].map(degree));

const MAY_BE_HOME: ReadonlySet<ChordClass> = new Set(['M', 'T', 'm', 'D', 's', 'p']);

/** Whether one chord asks for the other as its goal, so that the two are a cadence and no vamp. */
function asksFor(from: HarmonicEvent, to: HarmonicEvent): boolean {
  const up = (to.root - from.root + 12) % 12;
  if (from.chordClass === 'D' || from.chordClass === '+') return up === 5 && to.chordClass !== 'D';
  if (from.chordClass === 's') return up === 5;
  return (
    from.chordClass === 'h' || from.chordClass === 'o' || (from.chordClass === 'T' && up === 5 && to.chordClass === 'm')
  );
}

const isPlain = ({ chord }: HarmonicEvent): boolean => chord.degrees.every((each) => PLAIN.has(each));

/** Whether all events but the first are the first or the second chord, by turns. */
function alternates(events: readonly HarmonicEvent[]): boolean {
  const [first, second] = [events[0], events[1]];
  if (first === undefined || second === undefined || varies(first, second)) return false;
  const same = (a: HarmonicEvent, b: HarmonicEvent): boolean => a.root === b.root && a.chordClass === b.chordClass;
  return events.every((event, index) => same(event, index % 2 === 0 ? first : second));
}

/**
 * Whether a form goes round without a cadence: two chords that swing to and fro, neither of them the other's dominant (i7 IV7:
 * a plain dominant a fourth above a minor chord is the Dorian IV, no V), or three chords and more of one kind (a constant
 * structure). Such a form has no I but the chord it begins on. Common practice.
 */
export function isVamp(events: readonly HarmonicEvent[]): boolean {
  const [first, second] = [events[0], events[1]];
  if (first === undefined || second === undefined || !MAY_BE_HOME.has(first.chordClass)) return false;
  if (alternates(events)) {
    if (asksFor(first, second) || asksFor(second, first)) return isTonicMinor(first);
    return second.chordClass !== 'D' || first.chordClass !== 'm' || isPlain(second);
  }
  const isOneKind = events.every(({ chordClass }) => chordClass === first.chordClass);
  return (
    isOneKind &&
    (first.chordClass === 'm' || first.chordClass === 'M') &&
    new Set(events.map(({ root }) => root)).size > 2
  );
}
