import type { Analysis, AnalysedSlot } from '../analysis/index.ts';
import { degreeOnStep, midiOf, noteAbove, pitchClassOf, type Chord } from '../theory/index.ts';
import { BASS_KEYS } from './bass-line.ts';
import type { BassNote, BassRange } from './note.ts';

/** Ways into a goal in semitones: half and whole steps, and the goal's dominant from below or above. Common practice. */
const WAYS_IN: ReadonlySet<number> = new Set([1, -1, 2, -2, 5, -7]);
/** Notes that may stand where the one before stood: they say so. */
const MARKED: ReadonlySet<BassNote['function']> = new Set(['pedal', 'skip']);

/** Whether a sound is the third, major or minor, that the chord does not have. */
function isOtherThird(chord: Chord, sound: number): boolean {
  if (degreeOnStep(chord, 2) === undefined) return false;
  const above = (sound - pitchClassOf(chord.root) + 12) % 12;
  const own = chord.degrees.map((each) => pitchClassOf(noteAbove(chord.root, each)));
  return (above === 3 || above === 4) && !own.includes(sound as never);
}

interface Figure {
  text: string;
  readonly startTicks: number;
  readonly endTicks: number;
  readonly first: number;
  isFree: boolean;
}

/** The bars of a line as figures: where each note falls and how far it is from the bar's first. */
function figuresOf(slots: readonly AnalysedSlot[], notes: readonly BassNote[]): Figure[] {
  const bars = new Map<number, Figure>();
  for (const note of notes) {
    const played = slots[note.slotIndex]?.played;
    if (played === undefined) continue;
    const { startTicks, bar: written } = played.playedBar;
    const endTicks = startTicks + written.durationTicks;
    const bar = bars.get(startTicks) ?? { text: '', startTicks, endTicks, first: midiOf(note.pitch), isFree: false };
    bar.text += `${note.startTicks - startTicks}:${midiOf(note.pitch) - bar.first} `;
    if (note.startTicks !== played.startTicks && note.function !== 'pedal') bar.isFree = true;
    bars.set(startTicks, bar);
  }
  return [...bars.values()];
}

/**
 * Every rule of the walking bass that notes break: inside its chord and range; a chord begins on its root or written bass, or over a
 * pedal point; no unmarked pitch twice running, across a bar line least of all; an approach leads into what follows and is
 * not the other third of the chord it leaves, unless it ends a climb by half steps; no bar's figure three times running; the last note
 * is the root. Written from the rules, not from the search.
 */
export function bassFaults({ slots }: Analysis, notes: readonly BassNote[], range: BassRange = 'left hand'): string[] {
  const { lowest, highest } = BASS_KEYS[range];
  const faults = notes.flatMap((note, index): string[] => {
    // a teacher keeps their own rules
    if (note.own === true) return [];
    const slot = slots[note.slotIndex];
    const at = `bass note ${index + 1}`;
    if (slot === undefined || slot.chord === null) return [`${at} belongs to no chord`];
    const { played, chord } = slot;
    const own: string[] = [];
    const key = midiOf(note.pitch);
    if (note.startTicks < played.startTicks || note.startTicks + note.durationTicks > played.endTicks)
      own.push(`${at} leaves its chord`);
    if (key < lowest || key > highest) own.push(`${at} is out of range`);
    const ground = pitchClassOf(chord.bass ?? chord.root);
    const isPedal = note.function === 'pedal';
    if (note.startTicks === played.startTicks && key % 12 !== ground && !isPedal)
      own.push(`${at} does not begin on the root`);
    const isEnd = note.slotIndex === slots.length - 1 && index === notes.length - 1;
    if (isEnd && key % 12 !== ground) own.push(`${at} ends elsewhere than on the root`);
    const [before, next] = [notes[index - 1], notes[index + 1]];
    if (next === undefined || next.startTicks !== note.startTicks + note.durationTicks) return own;
    const way = midiOf(next.pitch) - key;
    if (way === 0 && !MARKED.has(next.function)) own.push(`${at} stands still`);
    if (note.function !== 'approach' || next.slotIndex === note.slotIndex) return own;
    if (!WAYS_IN.has(way)) own.push(`${at} leads nowhere`);
    const climbs = before !== undefined && Math.abs(way) === 1 && key - midiOf(before.pitch) === way;
    if (isOtherThird(chord, key % 12) && !climbs) own.push(`${at} contradicts the third of ${chord.symbol}`);
    return own;
  });
  const figures = figuresOf(slots, notes);
  const worn = figures.flatMap(({ text, isFree, startTicks }, index) => {
    const [first, second] = [figures[index - 2], figures[index - 1]];
    // a silent bar between is heard as a break
    const isRun = first?.endTicks === second?.startTicks && second?.endTicks === startTicks;
    return isFree && isRun && first?.text === text && second?.text === text
      ? [`bar ${index + 1} of the line has one figure for the third time`]
      : [];
  });
  return [...faults, ...worn];
}
