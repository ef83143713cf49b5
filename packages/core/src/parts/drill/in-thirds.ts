import { beatTicksOf, TICKS_PER_QUARTER } from '../../chart/index.ts';
import { formatNoteName, pitchAt, pitchClassOf, type Chord } from '../../theory/index.ts';
import { wayUpInThirds, type ForeignStack, type LineNote } from '../arpeggios.ts';
import type { HandNote } from '../note.ts';
import type { DrillKind } from './drill-kind.ts';
import { reasonOver } from './drill-note.ts';
import { barOver, eachChordOnce, type HeldSlot } from './passage.ts';

const EIGHTH_TICKS = TICKS_PER_QUARTER / 2;

/** A note of the line with its time. */
interface Timed {
  readonly note: LineNote;
  readonly startTicks: number;
  readonly durationTicks: number;
}

/** Up and down in eighths, again and again until the time is over, the first note as long as is said; how often a note is held on. */
function inEighths(line: readonly LineNote[], slot: HeldSlot, endTicks: number, firstTicks: number) {
  const { startTicks, playedBar } = slot.analysed.played;
  const beatTicks = beatTicksOf(playedBar.bar.meter);
  const around = [...line, ...line.slice(1, -1).toReversed()];
  const notes: Timed[] = [];
  let holds = 0;
  for (let ticks = startTicks, index = 0; ticks < endTicks; index++) {
    const note = around[index % around.length] as LineNote;
    const before = notes.at(-1);
    // what rubs passes off the beat: the note before it is held until the beat is over
    if (before !== undefined && note.rubs && (ticks - startTicks) % beatTicks === 0) {
      notes[notes.length - 1] = { ...before, durationTicks: before.durationTicks + EIGHTH_TICKS };
      ticks += EIGHTH_TICKS;
      holds++;
      if (ticks >= endTicks) break;
    }
    const wished = index === 0 ? firstTicks : EIGHTH_TICKS;
    const durationTicks = Math.min(wished, endTicks - ticks);
    notes.push({ note, startTicks: ticks, durationTicks });
    ticks += durationTicks;
  }
  return { notes, holds };
}

/** Where the lowest note comes back near the end it is held; else the line goes on to the end, and no avoid note is its last. */
function ended(notes: readonly Timed[], latestTicks: number, endTicks: number): Timed[] {
  const [lowest] = notes;
  if (lowest === undefined) return [];
  const back = notes.findLastIndex(({ note }) => note.key === lowest.note.key);
  const resting = notes.findLastIndex(({ note }) => note.mayRest);
  const last = notes[(notes[back] as Timed).startTicks >= latestTicks ? back : Math.max(resting, 0)] as Timed;
  return [...notes.slice(0, notes.indexOf(last)), { ...last, durationTicks: endTicks - last.startTicks }];
}

/** The line up and down over its bars: where a first note twice as long keeps all that rubs off the beats, it is that. */
function upAndDown(line: readonly LineNote[], slot: HeldSlot, latestTicks: number, endTicks: number): Timed[] {
  if (line.length === 0) return [];
  const [plain, held] = [EIGHTH_TICKS, 2 * EIGHTH_TICKS].map((first) => inEighths(line, slot, endTicks, first)) as [
    ReturnType<typeof inEighths>,
    ReturnType<typeof inEighths>,
  ];
  const { notes } = plain.holds > 0 && held.holds === 0 ? held : plain;
  return ended(notes, latestTicks, endTicks);
}

/** What a label says of a stack on another root than the chord's. */
function argsOfForeign(
  foreign: ForeignStack | null,
  { chord }: HeldSlot['analysed'],
): Readonly<Record<string, string>> {
  if (foreign === null || chord === null) return {};
  const { root, seventhChord, holdsGuideTones } = foreign;
  return {
    chord: chord.symbol,
    root: formatNoteName(root),
    ...(seventhChord === null ? {} : { seventhChord }),
    ...(isTritoneAway(chord, foreign) ? { away: 'a tritone away' } : {}),
    ...(holdsGuideTones ? { holds: 'third and seventh' } : {}),
  };
}

const isTritoneAway = (chord: Chord, { root }: ForeignStack): boolean =>
  (pitchClassOf(root) - pitchClassOf(chord.root) + 12) % 12 === 6;

/** Each chord stacked in thirds up to its 13th and down again, out of positions: two bars a chord, more where bars are short. */
export const inThirds: DrillKind = {
  leftHand: 'none',
  inPositions: true,
  passages: (bars, { hand }) =>
    eachChordOnce(bars).map(({ source, slot }) => {
      const { line, isWhole, foreign } = wayUpInThirds(slot, hand);
      // as many bars as the way up and down takes, at least two
      const eighthsInBar = source.playedBar.bar.durationTicks / EIGHTH_TICKS;
      const count = Math.max(2, Math.ceil((2 * line.length - 1) / eighthsInBar));
      return {
        label: {
          code: 'drill.stack',
          args: {
            reach: isWhole ? 'to the 13th' : 'as far as the scale allows',
            ...argsOfForeign(foreign, slot.analysed),
          },
        },
        bars: Array.from({ length: count }, () => barOver(source, slot)),
        write: (slots) => {
          const [first, last] = [slots[0], slots.at(-1)];
          if (first === undefined || last === undefined) return [];
          const { startTicks, endTicks } = last.analysed.played;
          const placed = { ...slot, analysed: first.analysed };
          return upAndDown(line, placed, (startTicks + endTicks) / 2, endTicks).map(
            ({ note: { key, name, finger, position }, ...time }): HandNote => {
              const here = slots.findLast(({ analysed }) => analysed.played.startTicks <= time.startTicks) ?? first;
              const slotIndex = here.analysed.played.index;
              return { ...time, pitch: pitchAt(name, key), slotIndex, why: reasonOver(here, name), finger, position };
            },
          );
        },
      };
    }),
};
