import { playedBarAt } from '../../chart/index.ts';
import { DRILLS, DRILL_WORDS, wordsOfPassage, type PartNote } from '../../parts/index.ts';
import { formatKey, formatNoteName, midiOf } from '../../theory/index.ts';
import { listenForOf, type Drill, type DrillInKey } from '../drill/index.ts';
import { beatReported } from './as-written.ts';

interface DrillNoteReport {
  readonly bar: number;
  readonly startTicks: number;
  readonly durationTicks: number;
  readonly name: string;
  readonly midi: number;
}

/** The public JSON of `drill`, version 1: docs/json.md. */
export interface DrillReport {
  readonly version: 1;
  readonly kind: string;
  readonly name: string;
  readonly sentence: string;
  readonly listenFor: readonly string[];
  /** Bars as written; null for all of the chart. */
  readonly bars: { readonly from: number; readonly to: number } | null;
  /** The phrase that is kept in every key; null where none was asked for. */
  readonly phrase: string | null;
  readonly seed: number;
  readonly level: number;
  readonly tempi: readonly number[];
  readonly limitBpm: number;
  readonly keys: readonly {
    readonly key: string;
    readonly passages: readonly { readonly fromBar: number; readonly toBar: number; readonly text: string }[];
    readonly chords: readonly {
      readonly bar: number;
      readonly beat: number;
      readonly beats: number;
      readonly symbol: string;
      readonly chordScale: string | null;
    }[];
    /** `thumb` and `shape` name the position; null where the drill keeps to none. */
    readonly rightHand: readonly (DrillNoteReport & {
      readonly finger: number;
      readonly thumb: string | null;
      readonly shape: string | null;
      readonly why: string;
    })[];
    /** Null where the drill writes none. */
    readonly leftHand: readonly DrillNoteReport[] | null;
  }[];
}

function reportKey(
  { key, lesson, passages }: DrillInKey,
  hasLeftHand: boolean,
  inPositions: boolean,
): DrillReport['keys'][number] {
  const { analysis, plan, chorus, bass } = lesson;
  const report = (note: PartNote): DrillNoteReport => ({
    bar: playedBarAt(analysis.form, note.startTicks).bar.number,
    startTicks: note.startTicks,
    durationTicks: note.durationTicks,
    name: formatNoteName(note.pitch.name),
    midi: midiOf(note.pitch),
  });
  return {
    key: formatKey(key),
    passages: passages.map(({ label, fromBar, toBar }) => ({ fromBar, toBar, text: wordsOfPassage(label) })),
    chords: plan.slots.map(({ analysed: { played }, chordScale }) => ({
      bar: played.playedBar.bar.number,
      beat: beatReported(played.beat),
      beats: beatReported(played.beats),
      symbol: played.slot.chord.symbol,
      chordScale: chordScale?.id ?? null,
    })),
    rightHand: chorus.map((note) => ({
      ...report(note),
      finger: note.finger,
      thumb: inPositions ? formatNoteName(note.position.thumb) : null,
      shape: inPositions ? note.position.shape.name : null,
      why: note.why.code,
    })),
    leftHand: hasLeftHand ? bass.map(report) : null,
  };
}

/** A drill as public JSON: every key with its bars counted from 1. */
export function reportDrill(drill: Drill): DrillReport {
  const { order, keys, ladder } = drill;
  const { leftHand, inPositions } = DRILLS[order.kind];
  const { name, sentence } = DRILL_WORDS[order.kind];
  const [first] = keys;
  return {
    version: 1,
    kind: order.kind,
    name,
    sentence,
    listenFor: listenForOf(drill),
    bars: order.bars,
    phrase: order.phrase ?? null,
    seed: first?.lesson.choices.seed ?? 0,
    level: first?.lesson.choices.level ?? 1,
    tempi: ladder.tempi,
    limitBpm: ladder.limitBpm,
    keys: keys.map((each) => reportKey(each, leftHand !== 'none', inPositions)),
  };
}
