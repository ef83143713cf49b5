/** What a take shows, as plain data for a screen: made by a worker, without the lesson behind it. */
import {
  computeLesson,
  heardTake,
  judgeAsPlayed,
  onFoundBeats,
  parseKey,
  pitchClassOf,
  readAround,
  readLessonDocument,
  readTake,
  type ChordSymbol,
  type Finding,
  type Issue,
  type JudgedTake,
  type Key,
  type Lesson,
  type NoteName,
  type PraiseCode,
  type Take,
  type TakeAsPlayed,
} from '@fivespan/core';
import { markOf, shapeMarks } from '@fivespan/formats/diagram';

/** A thumb as it is called. */
export interface ThumbCalled {
  readonly thumb: NoteName;
  readonly mark: string;
}

/** What the hand did over one chord. */
export interface TakeSlot {
  /** As the lesson has it; another of its family; another move of it; none of them; nothing was played. */
  readonly kind: 'as written' | 'family' | 'other move' | 'outside' | 'nothing';
  readonly found: ThumbCalled | null;
  /** Where the lesson has the hand. */
  readonly wanted: ThumbCalled | null;
}

export interface TakeBar {
  /** As counted on paper. */
  readonly number: number;
  /** Time through the form, from 1. */
  readonly chorus: number;
  /** Of the form, from 0: what playing counts by. A pickup has −1. */
  readonly place: number;
  readonly chords: readonly ChordSymbol[];
  readonly isAsBefore: boolean;
  readonly slots: readonly TakeSlot[];
  /** Notes left hanging in it. */
  readonly hanging: number;
  readonly lateMs: number | null;
  /** `lateMs` as a share of a beat, −1 to 1: what a picture shows. */
  readonly lateBeats: number;
}

export interface TakeView {
  readonly title: string;
  /** In which it was heard, and the key asked for where that is another. */
  readonly key: Key;
  readonly keyAsked: Key | null;
  readonly tempoBpm: number;
  /** Whether nobody stated a tempo, so that its beats were found in its notes: then early and late are not reported. */
  readonly hasOwnBeats: boolean;
  readonly choruses: number;
  readonly notes: number;
  readonly leftNotes: number;
  readonly seconds: number;
  readonly wentWell: readonly PraiseCode[];
  readonly workOn: readonly Finding[];
  /** Another move of the family: nothing to mend, but to know. */
  readonly alsoSeen: readonly Finding[];
  readonly bars: readonly TakeBar[];
}

export type TakeJudged =
  | { readonly kind: 'judged'; readonly view: TakeView }
  | { readonly kind: 'damaged'; readonly issues: readonly Issue[] };

/** Fewer notes say little. */
export const FEWEST_NOTES = 12;

type Judged = Pick<JudgedTake, 'bars'>['bars'][number];

const samePlace = (a: ThumbCalled | null, b: ThumbCalled | null): boolean =>
  a !== null && b !== null && pitchClassOf(a.thumb) === pitchClassOf(b.thumb) && a.mark === b.mark;

function slotOf(
  { positions, kind, notes, slot }: Judged['slots'][number],
  called: (position: { readonly thumb: NoteName; readonly shape: Parameters<typeof markOf>[1] }) => ThumbCalled,
): TakeSlot {
  const wanted = slot.planned.position === null ? null : called(slot.planned.position);
  if (notes.length === 0) return { kind: 'nothing', found: null, wanted };
  if (kind === 'outside') return { kind: 'outside', found: null, wanted };
  const position = positions[0]?.position ?? null;
  const found = position === null ? null : called(position);
  if (kind === 'other move') return { kind, found, wanted };
  return { kind: found === null || samePlace(found, wanted) ? 'as written' : 'family', found: found ?? wanted, wanted };
}

/** Bars from the first to the last that something was played in, chorus by chorus: what a loop leaves out is no part of it. */
function playedBars(bars: readonly TakeBar[]): readonly TakeBar[] {
  const isPlayed = (bar: TakeBar): boolean =>
    bar.lateMs !== null || bar.hanging > 0 || bar.slots.some(({ kind }) => kind !== 'nothing');
  const choruses = [...new Set(bars.map(({ chorus }) => chorus))];
  return choruses.flatMap((chorus) => {
    const own = bars.filter((bar) => bar.chorus === chorus);
    const [first, last] = [own.findIndex(isPlayed), own.findLastIndex(isPlayed)];
    return first < 0 ? [] : own.slice(first, last + 1);
  });
}

type Damaged = Extract<TakeJudged, { readonly kind: 'damaged' }>;

/** A kept take with the lesson that is kept with it. */
interface OpenedTake {
  readonly kind: 'opened';
  readonly take: Take;
  /** In the key that was asked for. */
  readonly lesson: Lesson;
  readonly chartText: string;
}

/** A kept take with the lesson that is kept with it, in the key it was asked for in. */
export function openedTake(text: string): Damaged | OpenedTake {
  const read = readTake(text);
  if (!read.ok) return { kind: 'damaged', issues: read.issues };
  const document = readLessonDocument(read.value.document);
  if (!document.ok) return { kind: 'damaged', issues: document.issues };
  const { chartText, choices } = document.value;
  const { chart, issues } = readAround(chartText);
  if (chart === null) return { kind: 'damaged', issues };
  const { key } = read.value.programme;
  const computed = computeLesson(chart, choices, key === null ? null : (parseKey(key) ?? null));
  if (!computed.ok) return { kind: 'damaged', issues: computed.issues };
  return { kind: 'opened', take: read.value, lesson: computed.value, chartText };
}

/** A take heard as what it is, as the command line hears it: in the key that was played, on its own beats where no click was. */
export interface HeardAsPlayed {
  readonly heard: TakeAsPlayed;
  readonly tempoBpm: number;
  /** How sure its own beats are; null where a tempo was stated. */
  readonly beatsSure: number | null;
}

/** Judges an opened take. */
export function judgeOpened({ take, lesson }: OpenedTake): HeardAsPlayed {
  const struck = heardTake(take);
  const found = take.programme.isToClick ? null : onFoundBeats(lesson, struck, lesson.score.tempoBpm);
  const tempoBpm = found?.tempoBpm ?? take.programme.tempoBpm;
  const { chart, choices } = lesson;
  const asked = { chart, choices, lesson, tempoBpm, isToClick: found === null, anyLevel: false };
  return { heard: judgeAsPlayed(asked, found?.notes ?? struck), tempoBpm, beatsSure: found?.sure ?? null };
}

/**
 * Judges a kept take by the lesson that is kept with it.
 * @param text as core writes takes
 */
export function viewOfTake(text: string): TakeJudged {
  const opened = openedTake(text);
  if (opened.kind === 'damaged') return opened;
  const { heard, tempoBpm, beatsSure } = judgeOpened(opened);
  const { judged, lesson } = heard;
  const notes = [...judged.right.line.notes, ...judged.left.line.notes];
  const found = judged.bars.flatMap(({ slots }) =>
    slots.flatMap(({ positions }) => positions.flatMap(({ position }) => position?.shape ?? [])),
  );
  const marks = shapeMarks(lesson, found);
  const called = ({
    thumb,
    shape,
  }: {
    readonly thumb: NoteName;
    readonly shape: (typeof found)[number];
  }): ThumbCalled => ({
    thumb,
    mark: markOf(marks, shape),
  });
  const beatMs = 60_000 / tempoBpm;
  const pickups = judged.bars.filter(({ bar }) => bar.startTicks < 0).length;
  const perChorus = (judged.bars.length - pickups) / Math.max(1, judged.course.choruses);
  const bars = judged.bars.map((each, index): TakeBar => {
    const chords = each.bar.slots.map(({ planned }) => planned.analysed.played.slot.chord);
    const before = judged.bars[index - 1]?.bar.slots.map(({ planned }) => planned.analysed.played.slot.chord);
    return {
      number: each.bar.number,
      chorus: each.bar.chorus,
      place: index < pickups ? -1 : (index - pickups) % Math.max(1, perChorus),
      chords,
      isAsBefore: JSON.stringify(chords) === JSON.stringify(before),
      slots: each.slots.map((slot) => slotOf(slot, called)),
      hanging: each.hanging,
      lateMs: each.lateMs,
      lateBeats: Math.max(-1, Math.min(1, (each.lateMs ?? 0) / beatMs)),
    };
  });
  const lastSeconds = Math.max(0, ...notes.map(({ startSeconds, durationSeconds }) => startSeconds + durationSeconds));
  return {
    kind: 'judged',
    view: {
      title: lesson.chart.title,
      key: lesson.analysis.key,
      keyAsked: heard.playedIn === null ? null : opened.lesson.analysis.key,
      hasOwnBeats: beatsSure !== null,
      tempoBpm,
      choruses: judged.course.choruses,
      notes: notes.length,
      leftNotes: judged.left.notes,
      seconds: lastSeconds,
      wentWell: judged.wentWell,
      workOn: judged.workOn,
      alsoSeen: judged.findings.filter(({ code }) => code === 'position.other-move'),
      bars: playedBars(bars),
    },
  };
}
