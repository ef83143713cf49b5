import type { Analysis } from '../analysis/index.ts';
import { barsOf, type Chart } from '../chart/index.ts';
import { PARTS, phrasesOf, type ChorusNote, type HandNote, type PartNote, type PartNotes } from '../parts/index.ts';
import type { Plan } from '../plan/index.ts';
import { midiOf, pitchClassOf, type Key } from '../theory/index.ts';
import type { Score, ScoreBar, ScoreChord, ScoreNote, ScorePhrase, ScoreThumb } from './score.ts';

/** Beats a minute where the chart states none. */
export const DEFAULT_TEMPO_BPM = 120;

export interface ScoreSources extends PartNotes {
  readonly chart: Chart;
  readonly analysis: Analysis;
  readonly plan: Plan;
}

/** A frozen value all the way down: many writers read it, none changes it. */
function frozen<Value>(value: Value): Value {
  if (typeof value === 'object' && value !== null) {
    Object.freeze(value);
    Object.values(value).forEach(frozen);
  }
  return value;
}

function noteOf(note: PartNote | HandNote): ScoreNote {
  const { pitch, startTicks, durationTicks } = note;
  return { pitch, startTicks, durationTicks, finger: 'finger' in note ? note.finger : null };
}

/** The key in force at each written bar: the last key change on paper at or before it, wherever the form came from. */
function keysAtBars(chart: Chart, home: Key): ReadonlyMap<string, Key> {
  const keys = new Map<string, Key>();
  let key = home;
  for (const bar of barsOf(chart)) {
    key = bar.keyChange ?? key;
    keys.set(bar.id, key);
  }
  return keys;
}

function barsOfScore(chart: Chart, { form, key }: Analysis): ScoreBar[] {
  const keys = keysAtBars(chart, key);
  return form.bars.map(({ bar, section, startTicks }) => ({
    number: bar.number,
    startTicks,
    durationTicks: bar.durationTicks,
    meter: bar.meter,
    key: keys.get(bar.id) ?? key,
    section: section.bars[0]?.id === bar.id ? section.name : null,
    isPickup: bar.number === 0,
  }));
}

/** One symbol a slot; a bar that goes on with the chord of the bar before still shows it, as a chart does. */
function chordsOfScore({ slots }: Analysis): ScoreChord[] {
  return slots.map(({ played, reading }) => ({
    startTicks: played.startTicks,
    chord: played.slot.chord,
    numeral: reading.numeral,
  }));
}

/**
 * Where the position changes or moves to another octave, at its first note: an anticipation brings its thumb with it. A chromatic
 * neighbour is between two fingers and says nothing about the thumb.
 */
function thumbsOf(notes: readonly ChorusNote[]): ScoreThumb[] {
  const thumbs: ScoreThumb[] = [];
  let before = '';
  for (const { position, startTicks, pitch, finger, neighbour } of notes) {
    if (neighbour !== null) continue;
    const thumbMidi = midiOf(pitch) - (position.shape.steps[finger - 1] as number);
    // a note of the teacher's that is outside the position
    if ((thumbMidi - pitchClassOf(position.thumb)) % 12 !== 0) continue;
    const place = `${position.shape.id}@${position.thumb}@${thumbMidi}`;
    if (place !== before) thumbs.push({ startTicks, thumb: position.thumb });
    before = place;
  }
  return thumbs;
}

/** The phrases of a line, from its first note to the end of its last. */
function phrasesOfScore(notes: readonly HandNote[]): ScorePhrase[] {
  return phrasesOf(notes).map((phrase) => {
    const [first, last] = [phrase[0] as HandNote, phrase.at(-1) as HandNote];
    return { startTicks: first.startTicks, endTicks: last.startTicks + last.durationTicks };
  });
}

/**
 * The written music of a lesson: the chorus over the bass, and the arpeggio study and the voicings beside them, one time
 * through the form.
 * @example buildScore(lesson).staves[0]?.role // → 'right hand'
 */
export function buildScore(sources: ScoreSources): Score {
  const { chart, analysis, chorus } = sources;
  return frozen({
    title: chart.title,
    key: analysis.key,
    meter: chart.meter,
    tempoBpm: chart.tempoBpm ?? DEFAULT_TEMPO_BPM,
    feel: chart.feel,
    bars: barsOfScore(chart, analysis),
    chords: chordsOfScore(analysis),
    thumbs: thumbsOf(chorus),
    staves: PARTS.filter(({ id, whenEmpty }) => whenEmpty === 'rests' || sources[id].length > 0).map(
      ({ id, staff, clef }) => ({ role: staff, clef, notes: sources[id].map(noteOf) }),
    ),
    phrases: phrasesOfScore(chorus),
    endTicks: analysis.form.endTicks,
  });
}
