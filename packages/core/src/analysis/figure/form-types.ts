import type { Cadence } from '../analysis.ts';
import { keyIndexOf } from '../harmony/key-spelling.ts';
import type { Key } from '../../theory/index.ts';
import { isDominantClass, isTwoClass, type Line, type ReadEvent } from './read-event.ts';

/** A bar's chord on its first beat, the first of it, and its root's place above a tonic. */
interface Downbeat {
  readonly chord: ReadEvent;
  readonly place: number;
}

function downbeatAt({ chords, bars }: Line, bar: number, tonic: number): Downbeat | null {
  const [first] = bars[bar]?.sounding ?? [];
  const chord = first === undefined ? undefined : chords[first];
  return chord === undefined ? null : { chord, place: (chord.event.root - tonic + 12) % 12 };
}

/** All that sounds from one bar to before another. */
function chordsBetween({ chords, bars }: Line, from: number, to: number): ReadEvent[] {
  const indices = bars.slice(from, to).flatMap((bar) => bar.sounding);
  return [...new Set(indices)].sort((a, b) => a - b).map((index) => chords[index] as ReadEvent);
}

/** The slots of a stretch of bars. */
function slotsBetween(from: number, to: number, slotsOfBar: readonly (readonly number[])[]): number[] {
  return slotsOfBar.slice(from, to).flat();
}

const HOME_CLASSES = { major: 'MTDsp', minor: 'm' } as const;

/** Whether twelve bars from `start`, each `scale` bars long, are a blues. */
function isBlues(line: Line, start: number, scale: number, home: Key): boolean {
  const tonic = keyIndexOf(home) % 12;
  const at = (bar: number): Downbeat | null => downbeatAt(line, start + (bar - 1) * scale, tonic);
  const isHome = (beat: Downbeat | null): boolean =>
    beat !== null && beat.place === 0 && HOME_CLASSES[home.mode].includes(beat.chord.event.chordClass);
  const isFour = (beat: Downbeat | null): boolean =>
    beat !== null && beat.place === 5 && (beat.chord.event.chordClass === 'm') === (home.mode === 'minor');
  // in minor the IV may be a seventh chord, in major nothing but
  const four = at(5);
  const hasFour = isFour(four) || (home.mode === 'minor' && four?.place === 5 && isDominantClass(four.chord));
  const returns = [7, 8].some((bar) => [0, 4, 9].includes(at(bar)?.place ?? -1));
  // bar 9 has left home for the last time, by V IV, ii V or any other way: eight bars and their repeat are no blues
  const leaves = at(9) !== null && !isHome(at(9));
  const ends = isHome(at(11)) || (at(11)?.place === 4 && at(11)?.chord.event.chordClass === 'm') || isHome(at(12));
  return isHome(at(1)) && hasFour && returns && leaves && ends;
}

/** The roots of a rhythm bridge above the tonic, two bars each. Source: docs/sources.md, 7 (III7 VI7 II7 V7). */
const BRIDGE = [4, 9, 2, 7] as const;

function isBridge(line: Line, start: number, tonic: number): boolean {
  return BRIDGE.every((place, step) => {
    const root = (tonic + place) % 12;
    const inTwoBars = chordsBetween(line, start + 2 * step, start + 2 * step + 2);
    const own = inTwoBars.filter((chord) => isDominantClass(chord) && chord.event.root === root);
    const rest = inTwoBars.filter((chord) => !own.includes(chord));
    return own.length > 0 && rest.every((chord) => isTwoClass(chord) && chord.event.root === (root + 7) % 12);
  });
}

/** Whether eight bars are the A of the rhythm form: I at the top, IV in the sixth bar. Source: as BRIDGE. */
function isRhythmA(line: Line, start: number, tonic: number): boolean {
  const first = downbeatAt(line, start, tonic);
  const sixth = downbeatAt(line, start + 5, tonic);
  const goesToFour = sixth !== null && sixth.place === 5 && sixth.chord.event.chordClass !== 'h';
  const leadsBack = chordsBetween(line, start + 1, start + 4).some(
    (chord) => isDominantClass(chord) && chord.event.root === (tonic + 7) % 12,
  );
  return first !== null && first.place === 0 && first.chord.event.chordClass !== 'm' && goesToFour && leadsBack;
}

/**
 * Whole forms known by their bars: the blues and the minor blues (twelve bars, or twenty-four at double length), the 32-bar
 * rhythm form and its bridge. They may begin where a section begins, or where the form has come round after such a one.
 */
export function formTypesIn(line: Line, home: Key, slotsOfBar: readonly (readonly number[])[]): Cadence[] {
  const found: Cadence[] = [];
  const count = line.bars.length;
  const tonic = keyIndexOf(home) % 12;
  const begins = new Set<number>();
  for (const [index, bar] of line.bars.entries()) if (index === 0 || bar.startsSection) begins.add(index);
  for (let start = 0; start < count; start++) {
    if (!begins.has(start)) continue;
    for (const scale of [1, 2]) {
      const to = start + 12 * scale;
      if (to > count || !isBlues(line, start, scale, home)) continue;
      found.push({
        kind: home.mode === 'minor' ? 'minor blues' : 'blues',
        key: home,
        slots: slotsBetween(start, to, slotsOfBar),
      });
      begins.add(to);
      break;
    }
  }
  if (home.mode === 'minor') return found;
  for (let start = 0; start + 8 <= count; start++) {
    if (!isBridge(line, start, tonic)) continue;
    found.push({ kind: 'rhythm bridge', key: home, slots: slotsBetween(start, start + 8, slotsOfBar) });
    const [first, second, last] = [start - 16, start - 8, start + 8];
    if (first < 0 || last + 8 > count) continue;
    if ([first, second, last].every((each) => isRhythmA(line, each, tonic))) {
      found.push({ kind: 'rhythm form', key: home, slots: slotsBetween(first, last + 8, slotsOfBar) });
    }
  }
  return found;
}
