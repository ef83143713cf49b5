import { kitAt } from '../../parts/index.ts';
import { performTrio, type TrioParts, type TrioPlayer } from '../../performance/index.ts';
import { CLICK_SECONDS, clicksOf } from './metronome.ts';
import type { PlayedProgramme, ProgrammeEvent, ProgrammeSegment } from './played-programme.ts';
import type { Programme } from './programme.ts';
import { emptySeats, type Seats } from './seats.ts';

/** What is put down: a segment without what follows from its place, and who plays what in it. */
export interface Stretch {
  readonly segment: Omit<ProgrammeSegment, 'startSeconds' | 'bars' | 'durationTicks'>;
  readonly parts: TrioParts;
  readonly players: readonly TrioPlayer[];
  readonly seed: number;
  /** Which time through: the players vary by it. */
  readonly chorus: number;
}

/** What has been played so far, one stretch after the other without gaps. */
export interface Tape {
  /** Puts a stretch down where the last one ended. */
  put(stretch: Stretch): void;
  played(): PlayedProgramme;
}

export function emptyTape(programme: Programme): Tape {
  const seats = emptySeats();
  const events: ProgrammeEvent[] = [];
  const segments: ProgrammeSegment[] = [];
  let nowSeconds = 0;

  return {
    put: (stretch) => {
      const { segment, parts } = stretch;
      const sounding = soundOf(stretch, programme, roomAfter(segments.at(-1)), seats);
      events.push(...sounding.events.map((each) => ({ ...each, startSeconds: nowSeconds + each.startSeconds })));
      segments.push({
        ...segment,
        startSeconds: nowSeconds,
        durationTicks: parts.endTicks,
        bars: fullBars(parts).map(({ startTicks, meter }) => ({ startTicks, meter })),
      });
      nowSeconds += sounding.endSeconds;
    },
    played: () => {
      // the very first note may be early; before the start there is nothing
      const begun = events.map((each) => ({ ...each, startSeconds: Math.max(0, each.startSeconds) }));
      // a pickup is before its chorus, a drift before its beat: time order again, equals as they were put
      const ordered = begun.toSorted((a, b) => a.startSeconds - b.startSeconds);
      return { players: seats.players(), events: withoutOverlaps(ordered), segments, endSeconds: nowSeconds };
    },
  };
}

/** How long before its first bar a stretch may begin. */
function roomAfter(before: ProgrammeSegment | undefined): number {
  return before === undefined || before.kind === 'chorus' ? 0 : before.durationTicks;
}

const fullBars = ({ bars }: TrioParts): TrioParts['bars'] => bars.filter((bar) => bar.startTicks >= 0);

/** What sounds in a stretch, in seconds from its own beginning. */
function soundOf(
  { segment: { kind, tempoBpm }, parts, players, seed, chorus }: Stretch,
  { setUp, swing, aids }: Programme,
  roomTicks: number,
  seats: Seats,
): { readonly events: readonly ProgrammeEvent[]; readonly endSeconds: number } {
  const kit = kitAt(tempoBpm);
  const { parts: played, endSeconds } = performTrio(parts, { setUp, tempoBpm, swing, seed, chorus });
  const events = played
    .filter(({ player }) => players.includes(player))
    .flatMap(({ player, notes }) =>
      notes
        // a pickup leads in where there is room; between choruses the last bar stands in its place
        .filter(({ writtenStartTicks }) => writtenStartTicks >= -roomTicks)
        .map(({ startSeconds, durationSeconds, midi, velocity }) => ({
          startSeconds,
          durationSeconds,
          midi,
          velocity,
          player: seats.of(player, kit),
        })),
    );
  if (kind !== 'chorus' && kind !== 'rest') return { events, endSeconds };
  const tickSeconds = endSeconds / parts.endTicks;
  const clicks = clicksOf(aids.metronome, fullBars(parts)).map(({ ticks, midi, velocity }) => ({
    startSeconds: ticks * tickSeconds,
    durationSeconds: CLICK_SECONDS,
    midi,
    velocity,
    player: seats.of('metronome', kit),
  }));
  return { events: [...events, ...clicks], endSeconds };
}

/** Shortest a note is cut to, and the gap before its key is struck again. */
const SHORTEST_CUT_SECONDS = 0.001;

/** Ends each note before its player strikes the same key again, from chorus to chorus too. Events ascend. */
function withoutOverlaps(events: readonly ProgrammeEvent[]): ProgrammeEvent[] {
  const next = new Map<number, number>();
  return events
    .toReversed()
    .map((event) => {
      const place = event.player * 128 + event.midi;
      const again = next.get(place) ?? Number.POSITIVE_INFINITY;
      next.set(place, event.startSeconds);
      const room = again - event.startSeconds - SHORTEST_CUT_SECONDS;
      return room < event.durationSeconds ? { ...event, durationSeconds: Math.max(SHORTEST_CUT_SECONDS, room) } : event;
    })
    .reverse();
}
