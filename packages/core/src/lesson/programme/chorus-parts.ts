import {
  comp,
  improviseChorus,
  leadVoicings,
  HIGHEST_BASS,
  LOWEST_BASS,
  playDrums,
  walkBass,
  withOwnBass,
  withOwnChorus,
  type BarFigure,
  type DrumKit,
  type VoicingStyle,
} from '../../parts/index.ts';
import type { CompChord, DrumStroke, PartNote } from '../../parts/index.ts';
import type { TrioParts } from '../../performance/index.ts';
import type { Analysis } from '../../analysis/index.ts';
import { barTicksOf } from '../../chart/index.ts';
import { randomSource } from '../../random.ts';
import { midi, midiOf, pitchAt, pitchClassOf, type Chord, type Midi } from '../../theory/index.ts';
import type { Lesson } from '../lesson.ts';

/** Which time through, and how. */
export interface ChorusOrder {
  /** From 0, within its key: the first is the one on paper. */
  readonly time: number;
  readonly tempoBpm: number;
  readonly kit: DrumKit;
  readonly voicings: VoicingStyle;
  /** Whose chorus comes after; null where the piece ends. */
  readonly next: Lesson | null;
  /** The bass's last key in the chorus before, which it does not strike again at once; null where nothing came before. */
  readonly after: Midi | null;
  /** The figures of its last two bars, as though they stood right before this chorus. */
  readonly heard: readonly BarFigure[];
}

/**
 * The analysis with the next chorus's first chord after its own last one, so that the bass leads on into it, into another key
 * too.
 */
export function leadingOn(analysis: Analysis, next: Analysis): Analysis {
  const first = next.slots.find(({ played }) => played.startTicks >= 0);
  if (first === undefined) return analysis;
  const { played } = first;
  const { endTicks } = analysis.form;
  const moved = {
    ...first,
    played: {
      ...played,
      startTicks: endTicks,
      endTicks: endTicks + played.endTicks - played.startTicks,
      playedBar: { ...played.playedBar, startTicks: endTicks },
    },
  };
  return { ...analysis, slots: [...analysis.slots, moved] };
}

/**
 * What everyone plays in one chorus of a lesson. The first time through, line and bass are the printed ones; then each draws
 * from a source of its own, the line grows (parts/chorus/growth.ts), with the teacher's own notes over their chords as before, and the bass leads on into what comes after. The comping listens to the demonstration line also where that is not heard, so that a student finds room.
 */
export function partsOfChorus(lesson: Lesson, order: ChorusOrder): TrioParts {
  const { time, tempoBpm, kit, voicings, next, after, heard } = order;
  const { analysis, plan, chart, choices } = lesson;
  const named = (part: string) => randomSource(choices.seed, time === 0 ? part : `${part} ${time + 1}`);
  const { notes, motives } = choices.pins.parts;
  const improvised =
    time === 0 ? [] : improviseChorus(plan, { level: choices.level, random: named('chorus'), motives, chorus: time });
  const line = time === 0 ? lesson.chorus : withOwnChorus(plan, improvised, notes, choices.hand);
  const goesOn = next === null ? analysis : leadingOn(analysis, next.analysis);
  const bass =
    time === 0
      ? lesson.bass
      : withOwnBass(
          { analysis: goesOn, plan },
          walkBass(goesOn, named('bass'), {
            level: choices.level,
            ...choices.bass,
            after,
            heard,
            line: improvised,
          }).filter(({ slotIndex }) => slotIndex < analysis.slots.length),
          notes,
          choices.bass.range,
        );
  return {
    bars: analysis.form.bars.map(({ bar, startTicks }) => ({
      startTicks,
      durationTicks: bar.durationTicks,
      meter: bar.meter,
    })),
    feel: chart.feel,
    endTicks: analysis.form.endTicks,
    line,
    bass,
    comping: comp(analysis, {
      style: voicings,
      feel: chart.feel,
      tempoBpm,
      density: choices.comping,
      solo: line,
      plan,
      pinned: choices.pins.parts.voicings,
      random: named('comping'),
    }),
    drums: playDrums(analysis, { feel: chart.feel, tempoBpm, kit, solo: line, random: named('drums') }),
  };
}

/**
 * A walking line whose last note is beside the first one of the line that follows: moved by an octave where it is a half step
 * from it in another octave, or the same key, and the hand has the other one. What is printed moves
 * only off the same key.
 * @param isPrinted whether the line is the one on paper
 */
export function landingOn(parts: TrioParts, next: TrioParts, isPrinted: boolean): TrioParts {
  const last = parts.bass.at(-1);
  const first = next.bass.find(({ startTicks }) => startTicks >= 0);
  if (last === undefined || first === undefined) return parts;
  const way = midiOf(first.pitch) - midiOf(last.pitch);
  // another key may begin on the very note this one ends on
  const isSame = way === 0;
  if (!isSame && (isPrinted || (Math.abs(way) !== 11 && Math.abs(way) !== 13))) return parts;
  const octaves = isSame ? (midiOf(last.pitch) + 12 > HIGHEST_BASS ? -1 : 1) : Math.sign(way);
  const key = midiOf(last.pitch) + 12 * octaves;
  if (key < LOWEST_BASS || key > HIGHEST_BASS) return parts;
  const moved = { ...last, pitch: { ...last.pitch, octave: last.pitch.octave + octaves } };
  return { ...parts, bass: [...parts.bass.slice(0, -1), moved] };
}

/** The last slot on the tonic: what the piece ends on. */
function homeSlot({ analysis }: Lesson): number {
  const home = pitchClassOf(analysis.key.tonic);
  return analysis.slots.findLastIndex(({ chord }) => chord !== null && pitchClassOf(chord.root) === home);
}

/**
 * One bar that ends the piece, at home: the tonic's last chord held, its root in the bass, crash and bass drum; without the chord
 * where the tune never has it. Ticks count from the bar's start. Common practice.
 */
export function endingOf(lesson: Lesson, kit: DrumKit, voicings: VoicingStyle): TrioParts {
  const { analysis, chart } = lesson;
  const { meter } = chart;
  const slotIndex = homeSlot(lesson);
  const chord: Chord | null = analysis.slots[slotIndex]?.chord ?? null;
  const durationTicks = barTicksOf(meter);
  const tonic = analysis.key.tonic;
  let key = LOWEST_BASS;
  while (key % 12 !== pitchClassOf(tonic)) key++;
  const why = { code: 'bass.root', args: {} };
  const bass: PartNote[] = [{ startTicks: 0, durationTicks, pitch: pitchAt(tonic, midi(key)), slotIndex, why }];
  const voicing = chord === null ? undefined : leadVoicings(analysis, voicings)[slotIndex];
  const comping: CompChord[] =
    voicing === undefined
      ? []
      : [{ startTicks: 0, durationTicks, slotIndex, form: voicing.form, pitches: voicing.pitches }];
  const strokes = [
    { drum: kit === 'brushes' ? 'swirl' : 'crash', stress: 'plain' },
    { drum: 'bass drum', stress: 'plain' },
  ] as const;
  const drums = strokes.map((stroke): DrumStroke => ({ startTicks: 0, role: 'ending', ...stroke }));
  return {
    bars: [{ startTicks: 0, durationTicks, meter }],
    feel: chart.feel,
    endTicks: durationTicks,
    line: [],
    bass,
    comping,
    drums,
  };
}
