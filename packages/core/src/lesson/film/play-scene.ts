import { beatsOf, beatTicksOf } from '../../chart/index.ts';
import {
  EMPTY_PICTURE,
  type HandPlace,
  type HandShown,
  type Cue,
  type Picture,
  type Said,
  type Scene,
  type Still,
} from '../../film/index.ts';
import { ACCOMPANISTS, PLAYERS_IN, TRIO_PLAYERS } from '../../performance/index.ts';
import type { PlannedSlot } from '../../plan/index.ts';
import type { Choices } from '../lesson.ts';
import {
  NO_AIDS,
  playLessons,
  type PlayedProgramme,
  type Programme,
  type ProgrammeSegment,
} from '../programme/index.ts';
import { keyboardOf } from './held-slot.ts';
import { lineBars, type BarStretch } from './line-bars.ts';
import { playCues, sameHand } from './play-cues.ts';
import type { ScenePart, SceneSources } from './scene-part.ts';

/** Bars of sticks before the music where nobody chose. */
const COUNT_IN_BARS = 1;

/** Notes stray from their beat by less than this: what comes so little before a bar belongs to it. As in course.ts of the workbench. */
const EARLY_SECONDS = 0.02;

/** Who plays, as far as the teacher chose it. */
function programmeOf({ programme }: Choices, { heading }: SceneSources, isDemonstrated: boolean): Programme {
  const setUp = programme?.setUp ?? 'trio';
  const asked = isDemonstrated ? TRIO_PLAYERS : ACCOMPANISTS;
  return {
    setUp,
    swing: programme?.swing ?? 'measured',
    voicings: programme?.voicings ?? 'rootless',
    countInBars: Math.max(COUNT_IN_BARS, Math.min(programme?.countInBars ?? COUNT_IN_BARS, 4)),
    aids: NO_AIDS,
    choruses: [
      {
        key: heading.key,
        tempoBpm: heading.tempoBpm,
        players: asked.filter((player) => PLAYERS_IN[setUp].includes(player)),
      },
    ],
  };
}

const secondsAt = (segment: ProgrammeSegment, ticks: number): number =>
  segment.startSeconds + (ticks / beatTicksOf(segment.meter)) * (60 / segment.tempoBpm);

/** The music cut to a stretch of bars: the count-in leads to it, and it ends with its last bar. */
interface Cut {
  readonly events: PlayedProgramme['events'];
  /** What is taken from the chorus's own times. */
  readonly shiftSeconds: number;
  readonly fromTicks: number;
  readonly toTicks: number;
  readonly endSeconds: number;
}

function cutOf(played: PlayedProgramme, chorus: ProgrammeSegment, fromTicks: number, toTicks: number): Cut {
  const isWhole = fromTicks === 0 && toTicks === chorus.durationTicks;
  if (isWhole) return { events: played.events, shiftSeconds: 0, fromTicks, toTicks, endSeconds: played.endSeconds };
  const from = secondsAt(chorus, fromTicks);
  const to = secondsAt(chorus, toTicks);
  const shiftSeconds = from - chorus.startSeconds;
  const events = played.events.flatMap((event) => {
    const { startSeconds } = event;
    const isCount = startSeconds < chorus.startSeconds - EARLY_SECONDS;
    if (isCount && shiftSeconds > 0 && played.players[event.player]?.plays !== 'drums') return [];
    if (isCount) return [event];
    if (startSeconds < from - EARLY_SECONDS || startSeconds >= to - EARLY_SECONDS) return [];
    return [{ ...event, startSeconds: Math.max(0, startSeconds - shiftSeconds) }];
  });
  return { events, shiftSeconds, fromTicks, toTicks, endSeconds: to - shiftSeconds };
}

/** A slot of the music with where it stands, pickup left out. */
interface Sounding {
  readonly slot: PlannedSlot;
  readonly startTicks: number;
  readonly endTicks: number;
}

const handOf = ({ position, thumbMidi }: PlannedSlot): HandPlace | null =>
  position === null || thumbMidi === null ? null : { position, thumbMidi };

/**
 * A chorus as it is played: the line turns, the bar moves, now becomes what was next.
 * @param bars only this stretch of the form, by index, `to` exclusive; null for all
 */
export function playScene(scene: Scene, sources: SceneSources, choices: Choices, bars: BarStretch | null): ScenePart {
  const { lesson, lessonIndex, heading } = sources;
  const programme = programmeOf(choices, sources, scene.isDemonstrated);
  const played = playLessons(() => lesson, choices.seed, programme) as PlayedProgramme;
  const chorus = played.segments.find(({ kind }) => kind === 'chorus') as ProgrammeSegment;
  const { score } = lesson;
  const ticksAt = (bar: number): number => score.bars[bar]?.startTicks ?? chorus.durationTicks;
  const cut = cutOf(
    played,
    chorus,
    bars === null ? 0 : Math.max(0, ticksAt(bars.from)),
    bars === null ? chorus.durationTicks : ticksAt(bars.to),
  );
  const at = (ticks: number): number => secondsAt(chorus, ticks) - cut.shiftSeconds;
  const lines = lineBars(score.bars);
  const lineOf = (bar: number): BarStretch => lines.find(({ from, to }) => bar >= from && bar < to) as BarStretch;
  const sounding: Sounding[] = lesson.plan.slots
    .map((slot) => {
      const { startTicks, endTicks } = slot.analysed.played;
      return { slot, startTicks, endTicks };
    })
    .filter(({ startTicks, endTicks }) => endTicks > cut.fromTicks && startTicks < cut.toTicks && startTicks >= 0);

  const keyboardFor = (slot: PlannedSlot, after: PlannedSlot | undefined) => ({
    lesson: lessonIndex,
    ...keyboardOf(lesson),
    hand: withFingers(handOf(slot)),
    next: after === undefined ? null : handOf(after),
    degrees: null,
  });
  const symbolOf = ({ analysed }: PlannedSlot): string => analysed.played.slot.chord.symbol;
  const spoken = playCues(
    sounding.map(({ slot, startTicks, endTicks }) => ({
      symbol: slot.analysed.played.slot.chord,
      chord: slot.analysed.chord,
      chordScale: slot.chordScale,
      hand: handOf(slot),
      startSeconds: at(Math.max(startTicks, cut.fromTicks)),
      endSeconds: at(Math.min(endTicks, cut.toTicks)),
    })),
    lessonIndex,
  );
  const pictureOf = (index: number, bar: number, beat: number, seconds: number): Picture => {
    const { slot } = sounding[index] as Sounding;
    const later = sounding.slice(index + 1).map((each) => each.slot);
    const next = later.find((each) => symbolOf(each) !== symbolOf(slot));
    const move = later.find((each) => each.position !== null && !sameHand(handOf(each), handOf(slot)));
    const { chord } = slot.analysed.played.slot;
    return {
      ...EMPTY_PICTURE,
      heading,
      line: { lesson: lessonIndex, ...lineOf(bar) },
      bar,
      now: { chord, beat, beats: beatsOf(score.bars[bar]?.meter ?? chorus.meter) },
      next: next?.analysed.played.slot.chord ?? null,
      keyboard: keyboardFor(slot, move),
      caption: spoken.findLast(({ startSeconds }) => startSeconds <= seconds + 1e-6)?.said ?? null,
    };
  };

  const stills: Still[] = [];
  const cues: Cue[] = [];
  const [first] = sounding;
  const firstBar = score.bars.findIndex(({ startTicks }) => startTicks >= cut.fromTicks);
  const lead: Said = { code: scene.isDemonstrated ? 'play.listen' : 'play.turn', tempoBpm: heading.tempoBpm };
  const startSeconds = at(cut.fromTicks);
  if (first !== undefined && startSeconds > 0) {
    const beats = beatsOf(chorus.meter);
    const beatSeconds = 60 / chorus.tempoBpm;
    const counted = Math.round(startSeconds / beatSeconds);
    for (let beat = 0; beat < counted; beat++) {
      stills.push({
        startSeconds: beat * beatSeconds,
        picture: {
          ...EMPTY_PICTURE,
          heading,
          line: { lesson: lessonIndex, ...lineOf(firstBar) },
          now: { chord: null, beat: beat % beats, beats },
          next: first.slot.analysed.played.slot.chord,
          keyboard: keyboardFor({ ...first.slot, position: null }, first.slot),
          caption: lead,
        },
      });
    }
    cues.push({ startSeconds: 0, endSeconds: startSeconds, said: lead });
  }

  cues.push(...spoken);
  for (const [index, { startTicks, endTicks }] of sounding.entries()) {
    const from = Math.max(startTicks, cut.fromTicks);
    const to = Math.min(endTicks, cut.toTicks);
    for (const [bar, { startTicks: barStart, durationTicks, meter }] of score.bars.entries()) {
      const beatTicks = beatTicksOf(meter);
      for (let beat = 0; beat * beatTicks < durationTicks; beat++) {
        const beatStart = barStart + beat * beatTicks;
        const begins = Math.max(beatStart, from);
        if (begins >= Math.min(beatStart + beatTicks, to)) continue;
        stills.push({ startSeconds: at(begins), picture: pictureOf(index, bar, beat, at(begins)) });
      }
    }
  }
  const endSeconds = Math.max(cut.endSeconds, at(cut.toTicks));
  const last = stills.at(-1)?.picture;
  if (last !== undefined && endSeconds > at(cut.toTicks) + 0.1) {
    const said: Said = { code: 'play.ending' };
    stills.push({
      startSeconds: at(cut.toTicks),
      picture: { ...last, bar: null, now: null, next: null, caption: null, keyboard: keyboardOnly(last) },
    });
    cues.push({ startSeconds: at(cut.toTicks), endSeconds, said });
  }
  const own: Said | null = scene.words === null ? null : { code: 'own', text: scene.words };
  return {
    stills: own === null ? stills : stills.map((each) => withLead(each, lead, own)),
    cues: own === null ? cues : cues.map((cue) => (cue.said === lead ? { ...cue, said: own } : cue)),
    players: played.players,
    events: cut.events,
    endSeconds,
  };
}

/** The hand stays where it ended; nothing comes after it. */
function keyboardOnly({ keyboard }: Picture): Picture['keyboard'] {
  return keyboard === null ? null : { ...keyboard, next: null };
}

function withFingers(hand: HandPlace | null): HandShown | null {
  return hand === null ? null : { ...hand, fingers: 5 };
}

function withLead(still: Still, lead: Said, own: Said): Still {
  return still.picture.caption === lead ? { ...still, picture: { ...still.picture, caption: own } } : still;
}
