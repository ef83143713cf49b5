import { pitchClassOf, usualKey, type Key, type NoteName, type PitchClass } from '../../theory/index.ts';
import type { Cadence } from '../analysis.ts';
import { hasMinorSeventh, isTonicMinor, varies } from '../harmony/event.ts';
import { spelledKey } from '../harmony/key-spelling.ts';
import { isDominantClass, isTwoClass, sameKey, slotsOf, type Line, type ReadEvent } from './read-event.ts';

/** The key a cadence is in: its goal's root in its mode, spelled as the goal is, or as the region would. */
function keyOfGoal(goal: number, mode: Key['mode'], line: readonly ReadEvent[], at: ReadEvent): Key {
  const { key } = at.reading;
  if (pitchClassOf(key.tonic) === goal) return { tonic: key.tonic, mode };
  const written = line.find(({ event }) => event.root === goal);
  const index = goal + (mode === 'minor' ? 12 : 0);
  if (written === undefined) return spelledKey(index, [at.event], key);
  const tonic: NoteName = written.event.chord.root;
  const signature = mode === 'major' ? tonic : tonic - 3;
  return Math.abs(signature) <= 7 ? { tonic, mode } : usualKey(goal as PitchClass, mode);
}

/** Index after the chords that only vary the one at `from`. */
function afterVariations(chords: readonly ReadEvent[], from: number): number {
  const first = chords[from];
  let index = from + 1;
  while (first !== undefined && index < chords.length && varies(first.event, (chords[index] as ReadEvent).event))
    index++;
  return index;
}

const up = (root: number, semitones: number): number => (root + semitones) % 12;

/** A dominant and its tritone substitute, one or both, in any order: where the stretch ends, and which of them it has. */
function dominantsTo(
  goal: number,
  chords: readonly ReadEvent[],
  from: number,
): { to: number; fifth: boolean; substitute: boolean } {
  let [to, fifth, substitute] = [from, false, false];
  for (; to < chords.length; to++) {
    const chord = chords[to] as ReadEvent;
    if (!isDominantClass(chord) && !(chord.event.chordClass === 'T' && chord.event.root === up(goal, 7))) break;
    if (chord.event.root === up(goal, 7)) fifth = true;
    else if (chord.event.root === up(goal, 1) && chord.event.chordClass === 'D') substitute = true;
    else break;
  }
  return { to, fifth, substitute };
}

/** Whether a minor chord is home in spite of the seventh chord a fourth above it: Cm6 F7 to and fro. */
function isVampTonic(chord: ReadEvent): boolean {
  return isHome(chord) && chord.chosen.isHome && isTonicMinor(chord.event);
}

/** Whether a chord is read as the I of its key, the blues' I7 too. */
function isHome({ place, reading }: ReadEvent): boolean {
  return place === 0 && reading.role === 'tonic';
}

/** Whether a chord can end a cadence: major or minor at rest, or the blues' I7. */
function isRest(chord: ReadEvent, after: ReadEvent | undefined, byTwo: ReadEvent | null): boolean {
  const { chordClass, root } = chord.event;
  if (chordClass === 'M' || chordClass === 'T' || chordClass === 'p') return true;
  if (chordClass === 'D' || chordClass === 's') return isHome(chord);
  if (chordClass !== 'm') return false;
  if (byTwo === null || byTwo.event.chordClass === 'h' || isHome(chord)) return true;
  // Dm7 G7 Cm7 F7: the Cm7 is the next ii, not a rest
  const goesOn =
    after !== undefined && isDominantClass(after) && [up(root, 5), up(root, 11)].includes(after.event.root);
  return !goesOn;
}

/** Whether a seventh chord goes down a fifth to a major or tonic minor chord. */
function arrives(before: ReadEvent, goal: ReadEvent): boolean {
  const { chordClass, root } = goal.event;
  const rests = chordClass === 'M' || chordClass === 'T' || (chordClass === 'm' && !hasMinorSeventh(goal.event));
  return before.event.chordClass === 'D' && up(before.event.root, 5) === root && rests;
}

/** ii–V–I and its parts, in major and minor, by the V or its substitute; V–I at home; the backdoor; IV–I. */
export function cadencesIn({ chords }: Line): Cadence[] {
  const found: Cadence[] = [];
  /** Dominants already part of a cadence that began with their ii. */
  const taken = new Set<number>();
  for (let index = 0; index < chords.length; index++) {
    const two = chords[index] as ReadEvent;
    const isRestated = index > 0 && varies((chords[index - 1] as ReadEvent).event, two.event);
    // Dm7/G before G7 is a ii too, for all that it sounds as a suspended V
    const isTwo = isTwoClass(two) || two.event.chord.quality === 'minor';
    if (!isTwo || isRestated || isVampTonic(two)) continue;
    const goal = up(pitchClassOf(two.event.chord.root), 10);
    const from = isTwoClass(two) ? afterVariations(chords, index) : index + 1;
    const { to, fifth, substitute } = dominantsTo(goal, chords, from);
    if (!fifth && !substitute) continue;
    const [five] = [chords[to - 1] as ReadEvent];
    const rest = chords[to];
    for (let each = from; each < to; each++) taken.add(each);
    const { event } = five;
    const isBackdoor =
      five.reading.role === 'backdoor dominant' && rest !== undefined && rest.event.root === up(event.root, 2);
    if (isBackdoor) {
      const key = keyOfGoal(rest.event.root, 'major', [rest], rest);
      found.push({ kind: 'backdoor', key, slots: slotsOf(chords.slice(index, to + 1)) });
      continue;
    }
    if (
      rest !== undefined &&
      rest.event.root === goal &&
      isRest(rest, chords[afterVariations(chords, to)], chords[from - 1] as ReadEvent)
    ) {
      const mode = rest.event.chordClass === 'm' ? 'minor' : 'major';
      const kind = fifth ? 'ii-V-I' : 'ii-subV-I';
      found.push({ kind, key: keyOfGoal(goal, mode, [rest], rest), slots: slotsOf(chords.slice(index, to + 1)) });
      continue;
    }
    // i7 IV7 of a minor key to and fro is no ii–V
    if (!fifth || (isHome(two) && five.chosen.target === null)) continue;
    const { target, targetMode, key } = five.reading;
    const isRead = target !== null && pitchClassOf(target) === goal && targetMode !== null;
    const plain = two.event.chordClass === 'h' ? 'minor' : 'major';
    const mode = isRead ? targetMode : pitchClassOf(key.tonic) === goal ? key.mode : plain;
    found.push({
      kind: 'ii-V',
      key: keyOfGoal(goal, mode, chords.slice(to, to + 1), five),
      slots: slotsOf(chords.slice(index, to)),
    });
  }
  for (let index = 1; index < chords.length; index++) {
    const home = chords[index] as ReadEvent;
    const before = chords[index - 1] as ReadEvent;
    const isForeignGoal = home.reading.role === 'borrowed' || !sameKey(home, before);
    if (isForeignGoal && !taken.has(index - 1) && arrives(before, home)) {
      // a fast cycle: each V–I is one, whatever key stands around it
      const mode = home.event.chordClass === 'm' ? 'minor' : 'major';
      found.push({ kind: 'V-I', key: keyOfGoal(home.event.root, mode, [home], home), slots: slotsOf([before, home]) });
      continue;
    }
    if (!isHome(home) || !sameKey(home, before)) continue;
    const { key } = home.reading;
    const slots = slotsOf([before, home]);
    if (before.reading.role === 'backdoor dominant') {
      if (!taken.has(index - 1)) found.push({ kind: 'backdoor', key, slots });
    } else if (before.chosen.target === 0 && before.reading.role === 'dominant') {
      if (!taken.has(index - 1)) found.push({ kind: 'V-I', key, slots });
    } else if (before.chosen.target === 0 && before.reading.role === 'substitute dominant') {
      if (!taken.has(index - 1)) found.push({ kind: 'subV-I', key, slots });
    } else if (before.place === 5 && ['M', 'T', 'm'].includes(before.event.chordClass)) {
      found.push({ kind: 'plagal', key, slots });
    }
  }
  return found;
}
