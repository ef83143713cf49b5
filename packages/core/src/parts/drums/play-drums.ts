import type { Analysis } from '../../analysis/index.ts';
import { beatsOf, beatTicksOf, type Feel, type PlayedBar } from '../../chart/index.ts';
import type { RandomSource } from '../../random.ts';
import { beatGroups, skipTicks, type BeatGroup } from './drum-groups.ts';
import type { Drum, DrumKit, DrumStress, DrumStroke } from './drum-kit.ts';
import { fillOf } from './drum-fill.ts';
import { phraseAnswers, type SoloNote } from './phrase-answers.ts';

export interface DrummingOptions {
  readonly feel: Feel;
  /** Beats a minute of the metre: the faster, the fewer short notes and the lighter the bass drum. */
  readonly tempoBpm: number;
  readonly kit: DrumKit;
  /** The line the drummer listens to: snare comments come where it rests, and its phrases' endings are answered. */
  readonly solo: readonly SoloNote[];
  /** Its own named source. */
  readonly random: RandomSource;
}

/** Beats a minute from which the bass drum is no longer feathered on every beat, and the ride leaves its short notes out more often. Common practice; the numbers are our own. */
const NO_FEATHERING_FROM_BPM = 240;
const FEWER_SKIPS_FROM_BPM = 260;

/** Chances in a hundred. Our own, unless said otherwise. */
const CHANCE = {
  /**
   * The short note after a group's second beat is left out … when fast … Source: Groove MIDI Dataset (Gillick and others 2019, CC
   * BY 4.0): in six jazz takes, fills included, it is there after 67 (the fast one) to 89 of a hundred backbeats, and 45 to 75 of a hundred
   * bars have the plain pattern; checks/performance/groove.test.ts.
   */
  noSkip: 14,
  noSkipFast: 33,
  /** … and one after another beat is put in: in those takes after none to 11 of a hundred. */
  extraSkip: 4,
  /** A ride beat other than a bar's first is left out: in those takes, fills included, 5 to 15 of a hundred beats are. */
  noBeat: 4,
  /**
   * A snare comment on an off-beat where the line rests, and where it does not: together about half as many as the drummers of
   * the Groove MIDI Dataset play who have nobody to leave room for (checks/performance/groove.test.ts).
   */
  snareInRest: 55,
  snareUnderLine: 30,
  /** Of those in rests, the ones that are more than ghosted. */
  spokenOut: 45,
  /** A bass drum off the beat among them. */
  bassDrumComment: 15,
  /** A second hi-hat on a waltz's third beat. */
  hatOnThree: 40,
} as const;

/** Puts a stroke into the bar being played. */
type Strike = (inBarTicks: number, drum: Drum, stress: DrumStress, role?: DrumStroke['role']) => void;

interface Moment {
  readonly played: PlayedBar;
  readonly groups: readonly BeatGroup[];
  readonly beatTicks: number;
  readonly skip: number | null;
  readonly options: DrummingOptions;
  /** Solo onsets in each beat of the bar. */
  readonly busy: readonly number[];
}

const chance = (random: RandomSource, percent: number): boolean => random.integer(100) < percent;

/** Ride, or a brush tapping the snare: every beat, with the short note that follows each group's second and leads on. */
function swingTime(strike: Strike, { groups, beatTicks, skip, options }: Moment): void {
  const { random, tempoBpm, kit } = options;
  const surface: Drum = kit === 'brushes' ? 'snare' : 'ride';
  for (const { startTicks, beats } of groups) {
    for (let beat = 0; beat < beats; beat++) {
      const at = startTicks + beat * beatTicks;
      const isBackbeat = beat === 1;
      const rests = kit === 'sticks' && at > 0 && chance(random, CHANCE.noBeat);
      if (!rests) strike(at, surface, kit === 'brushes' ? 'soft' : isBackbeat ? 'accented' : 'plain');
      if (skip === null) continue;
      const leavesOut = tempoBpm >= FEWER_SKIPS_FROM_BPM ? CHANCE.noSkipFast : CHANCE.noSkip;
      if (isBackbeat ? !chance(random, leavesOut) : chance(random, CHANCE.extraSkip)) {
        strike(at + skip, surface, kit === 'brushes' ? 'ghosted' : 'soft');
      }
    }
    if (kit === 'brushes') strike(startTicks, 'swirl', 'soft');
    strike(startTicks + (beats > 1 ? beatTicks : 0), 'pedal hi-hat', 'plain');
    if (beats === 3 && groups.length === 1 && chance(random, CHANCE.hatOnThree)) {
      strike(startTicks + 2 * beatTicks, 'pedal hi-hat', 'soft');
    }
  }
}

/** Felt rather than heard, on every beat. Common practice. */
function featherBassDrum(strike: Strike, { played, beatTicks, options }: Moment): void {
  if (options.tempoBpm >= NO_FEATHERING_FROM_BPM) return;
  for (let beat = 0; beat < beatsOf(played.bar.meter); beat++) strike(beat * beatTicks, 'bass drum', 'feathered');
}

/** Snare, now and then bass drum, between the beats: more where the line rests. */
function comment(strike: Strike, { beatTicks, skip, options, busy }: Moment): void {
  if (skip === null) return;
  const { random, kit } = options;
  for (const [beat, onsets] of busy.entries()) {
    if (!chance(random, onsets === 0 ? CHANCE.snareInRest : CHANCE.snareUnderLine)) continue;
    const isBassDrum = chance(random, CHANCE.bassDrumComment);
    const speaksOut = onsets === 0 && kit === 'sticks' && chance(random, CHANCE.spokenOut);
    const stress = speaksOut ? 'soft' : 'ghosted';
    // the brush that keeps time already taps the snare
    if (isBassDrum || kit === 'sticks')
      strike(beat * beatTicks + skip, isBassDrum ? 'bass drum' : 'snare', stress, 'comping');
  }
}

/**
 * Even eighths: closed hi-hat or a brush on every eighth, the bass drum on each group's first beat and the eighth that leads
 * to the next, a side stick that answers between, one of two ways. Common practice for Latin-inflected tunes.
 */
function evenTime(strike: Strike, { groups, beatTicks, skip, options }: Moment): void {
  const { random, kit } = options;
  const surface: Drum = kit === 'brushes' ? 'snare' : 'closed hi-hat';
  const answersLate = chance(random, 50);
  for (const [index, { startTicks, beats }] of groups.entries()) {
    for (let beat = 0; beat < beats; beat++) {
      const at = startTicks + beat * beatTicks;
      strike(at, surface, beat === 0 ? 'plain' : 'soft');
      if (skip !== null) strike(at + skip, surface, 'ghosted');
    }
    strike(startTicks, 'bass drum', 'soft');
    if (skip !== null) strike(startTicks + (beats - 1) * beatTicks + skip, 'bass drum', 'ghosted');
    strike(startTicks + (beats > 1 ? beatTicks : 0), 'pedal hi-hat', 'plain');
    const late = skip !== null && answersLate === (index % 2 === 0);
    if (kit === 'sticks') strike(startTicks + (beats > 1 ? beatTicks : 0) + (late ? skip : 0), 'side stick', 'soft');
  }
}

/** Whether a bar is the last of its section: another begins after it, or the form ends. */
export function endsSection(bars: readonly PlayedBar[], index: number): boolean {
  const next = bars[index + 1];
  return next === undefined || next.section.bars[0]?.id === next.bar.id;
}

function busyBeats({ startTicks, bar }: PlayedBar, beatTicks: number, solo: DrummingOptions['solo']): number[] {
  const counts = Array.from({ length: beatsOf(bar.meter) }, () => 0);
  for (const note of solo) {
    const beat = Math.floor((note.startTicks - startTicks) / beatTicks);
    if (beat >= 0 && beat < counts.length) counts[beat] = (counts[beat] as number) + 1;
  }
  return counts;
}

/**
 * The drummer's part for one time through the form: ride with variations, hi-hat foot on two and four (the second beat of every
 * group elsewhere), feathered bass drum, snare comments, phrases caught and answered, a fill at each section's end answered on the next one; brushes or an
 * even-eighth pattern where asked. A pickup has no drums. Common practice.
 * @example playDrums(analysis, { feel: 'swing', tempoBpm: 132, kit: 'sticks', solo: chorus, random: randomSource(1, 'drums') })
 */
export function playDrums({ form }: Analysis, options: DrummingOptions): DrumStroke[] {
  let answers = false;
  const replies = phraseAnswers(form.bars, options.solo, options.kit, options.random);
  return form.bars.flatMap((played, index): DrumStroke[] => {
    const { bar: written, startTicks } = played;
    if (written.number === 0) return [];
    const beatTicks = beatTicksOf(written.meter);
    const moment: Moment = {
      played,
      groups: beatGroups(written.meter),
      beatTicks,
      skip: skipTicks(written.meter),
      options,
      busy: busyBeats(played, beatTicks, options.solo),
    };
    const strokes: DrumStroke[] = [];
    const strike: Strike = (inBarTicks, drum, stress, role = 'time') =>
      strokes.push({ startTicks: startTicks + inBarTicks, drum, stress, role });
    if (options.feel === 'even') evenTime(strike, moment);
    else {
      swingTime(strike, moment);
      featherBassDrum(strike, moment);
      comment(strike, moment);
    }
    const barEnd = startTicks + written.durationTicks;
    strokes.push(...replies.filter((each) => each.startTicks >= startTicks && each.startTicks < barEnd));
    if (answers && options.kit === 'sticks') strike(0, 'crash', 'soft', 'fill');
    if (answers) strike(0, 'bass drum', 'plain', 'fill');
    answers = endsSection(form.bars, index);
    const fill = answers ? fillOf(played, moment.groups, options) : null;
    const time =
      fill === null
        ? strokes
        : strokes.filter((each) => each.startTicks < fill.fromTicks || each.drum === 'pedal hi-hat');
    return withoutDoubles([...time, ...(fill?.strokes ?? [])]);
  });
}

const STRESSES: readonly DrumStress[] = ['feathered', 'ghosted', 'soft', 'plain', 'accented'];

/** In time order; a drum struck twice at once is struck once, the harder of the two. */
function withoutDoubles(strokes: readonly DrumStroke[]): DrumStroke[] {
  const kept = new Map<string, DrumStroke>();
  for (const stroke of strokes) {
    const place = `${stroke.startTicks} ${stroke.drum}`;
    const other = kept.get(place);
    if (other === undefined || STRESSES.indexOf(stroke.stress) > STRESSES.indexOf(other.stress))
      kept.set(place, stroke);
  }
  return [...kept.values()].sort((a, b) => a.startTicks - b.startTicks);
}
