import { unfold, type Chart, type Form } from '../chart/index.ts';
import { usualKey, type Chord, type Key, type PitchClass } from '../theory/index.ts';
import {
  NO_ANALYSIS_PINS,
  type Analysis,
  type AnalysedSlot,
  type AnalysisPins,
  type Reading,
  type Region,
} from './analysis.ts';
import { figuresIn } from './figure/figures.ts';
import type { ReadEvent } from './figure/read-event.ts';
import { settingsOf } from './figure/settings.ts';
import { eventsOf, nextOf, type HarmonicEvent } from './harmony/event.ts';
import { costTablesOf, functionAt, groundOf, type Ground } from './harmony/ground.ts';
import { rankHomes, type HomeCandidate } from './harmony/home-key.ts';
import { endOfForm } from './harmony/form-end.ts';
import { HOME_COUNT, KEY_COSTS, REGION_KEY_COUNT } from './harmony/key-costs.ts';
import { keyIndexOf, spelledKey } from './harmony/key-spelling.ts';
import { pinned, pinnedSlots } from './harmony/pins.ts';
import { placeIn, readingOf, silenceIn } from './harmony/reading.ts';
import { keyChangeSlots, statedKeysOf, type StatedKeys } from './harmony/stated-keys.ts';
import { readEvents, type Readings } from './harmony/search.ts';
import { chordScalesFor } from './ladder/ladder.ts';
import { keepingWritten } from './ladder/scale-spelling.ts';
import { PLAIN_SETTING, type LadderSetting } from './ladder/setting.ts';

/** Other readings are kept while they cost at most this much more than the chosen one: less than a change of key. */
const GOOD_WITHIN = 12;
/** … and at most so many. */
const MOST_ALTERNATIVES = 5;

const DEFAULT_KEY: Key = usualKey(0 as PitchClass, 'major');

/** The home keys a stated key may be read as: itself, and a blues in major. All where none is stated. */
function homesOf(key: Key | null): number[] {
  if (key === null) return Array.from({ length: HOME_COUNT }, (_, home) => home);
  const index = keyIndexOf(key);
  return key.mode === 'major' ? [index, index + REGION_KEY_COUNT] : [index];
}

function indexOrNone(key: Key | null): number {
  return key === null ? -1 : keyIndexOf(key);
}

/** The spelled key of each stretch of events in one key. Keys the chart states keep their spelling. */
function spelledStretches(
  events: readonly HarmonicEvent[],
  readings: Readings,
  home: Key,
  fixed: ReadonlyMap<number, Key>,
  stated: StatedKeys,
): Key[] {
  const keys: Key[] = [];
  const at = (index: number): number => (readings.keys[index] as number) % REGION_KEY_COUNT;
  for (let from = 0; from < events.length;) {
    let to = from + 1;
    while (to < events.length && at(to) === at(from)) to++;
    const pin = fixed.get(from);
    // a key on paper keeps its spelling
    const written = [home, stated[events[from]?.slots[0] ?? 0] ?? null].find((each) => indexOrNone(each) === at(from));
    const key = written ?? spelledKey(at(from), events.slice(from, to), home);
    for (let index = from; index < to; index++) keys.push(pin ?? key);
    from = to;
  }
  return keys;
}

interface RankedReading {
  readonly reading: Reading;
  readonly costAbove: number;
}

/** All readings of an event: the chosen one first, then the good others, each numeral and key once. */
function rankedReadings(
  ground: Ground,
  readings: Readings,
  keys: readonly Key[],
  index: number,
): { reading: Reading; costAbove: number }[] {
  const event = ground.events[index] as HarmonicEvent;
  const next = nextOf(ground.events, index);
  const chosenKey = readings.keys[index] as number;
  const chosenChoice = readings.choices[index] as number;
  const here = keys[index] as Key;
  const ranked = [
    { reading: readingOf(event, here, functionAt(ground, index, chosenKey, chosenChoice), next), costAbove: 0 },
  ];
  const others = (readings.costAbove[index] ?? [])
    .filter((each) => each.key !== chosenKey || each.choice !== chosenChoice)
    .sort((a, b) => a.above - b.above || a.key - b.key || a.choice - b.choice);
  for (const { key, choice, above } of others) {
    if (ranked.length > MOST_ALTERNATIVES) break;
    const spelled = key === chosenKey ? here : spelledKey(key % REGION_KEY_COUNT, [event], here);
    const reading = readingOf(event, spelled, functionAt(ground, index, key, choice), next);
    const isKnown = ranked.some(
      ({ reading: known }) => known.numeral === reading.numeral && keyIndexOf(known.key) === key % REGION_KEY_COUNT,
    );
    if (!isKnown) ranked.push({ reading, costAbove: above });
  }
  return ranked;
}

/** Stretches of slots in one key. */
function regionsOf(slots: readonly AnalysedSlot[]): Region[] {
  const regions: { key: Key; fromSlot: number; toSlot: number }[] = [];
  for (const [index, { reading }] of slots.entries()) {
    const open = regions.at(-1);
    const isSame = open !== undefined && open.key.tonic === reading.key.tonic && open.key.mode === reading.key.mode;
    if (isSame) open.toSlot = index + 1;
    else regions.push({ key: reading.key, fromSlot: index, toSlot: index + 1 });
  }
  return regions;
}

/** What is searched: the form's events with all they may do, before and after the teacher's pins. */
interface Search {
  readonly free: Ground;
  readonly ground: Ground;
  readonly stated: StatedKeys;
  readonly fixedKeys: ReadonlyMap<number, Key>;
}

function searchOf(chart: Chart, form: Form, pins: AnalysisPins): Search {
  const stated = statedKeysOf(chart, form);
  const events = eventsOf(form, new Set([...pinnedSlots(form, pins), ...keyChangeSlots(stated)]));
  const free = groundOf(events, (slot) => indexOrNone(stated[slot] ?? null), KEY_COSTS, endOfForm(form));
  return { free, stated, ...pinned(free, form, pins) };
}

/** The readings, and whether the home is that of a blues. */
interface HomeReadings extends Readings {
  readonly isBlues: boolean;
}

/** The home key stated, the one found, and the best reading from it. */
function readHome(chart: Chart, { free, ground }: Search): { key: Key; keyFound: Key; readings: HomeReadings } {
  const { events } = free;
  const stated = chart.key;
  if (events.length === 0) {
    const key = stated ?? DEFAULT_KEY;
    return { key, keyFound: key, readings: { cost: 0, keys: [], choices: [], costAbove: [], isBlues: false } };
  }
  const spelled = (home: number): Key =>
    home % REGION_KEY_COUNT === indexOrNone(stated)
      ? (stated as Key)
      : spelledKey(home % REGION_KEY_COUNT, events, stated);
  const freeTables = costTablesOf(free);
  const [found] = rankHomes(free, freeTables) as [HomeCandidate];
  const tables = ground === free ? freeTables : costTablesOf(ground);
  // what the teacher fixed is evidence for the home key too, where none is stated
  const isSettled = stated === null && ground === free;
  const [best] = isSettled ? [found] : (rankHomes(ground, tables, homesOf(stated)) as [HomeCandidate]);
  return {
    key: spelled(best.home),
    keyFound: spelled(found.home),
    readings: { ...readEvents(ground, tables, best.home, GOOD_WITHIN), isBlues: best.home >= REGION_KEY_COUNT },
  };
}

/** What is known of a slot with a chord before its ladder is climbed. */
interface ReadSlot {
  readonly reading: Reading;
  readonly alternatives: readonly RankedReading[];
  readonly sounding: Chord;
  readonly setting: LadderSetting;
}

/** analyse() for a form that is unfolded already. */
function analyseForm(chart: Chart, form: Form, pins: AnalysisPins): Analysis {
  const search = searchOf(chart, form, pins);
  const { ground, stated, fixedKeys } = search;
  const { events } = ground;
  const { key, keyFound, readings } = readHome(chart, search);
  const keys = spelledStretches(events, readings, key, fixedKeys, stated);
  const ranked = events.map((_, index) => rankedReadings(ground, readings, keys, index));
  const chords = events.map((event, index): ReadEvent => {
    const { reading } = (ranked[index] as readonly RankedReading[])[0] as RankedReading;
    const chosen = functionAt(ground, index, readings.keys[index] as number, readings.choices[index] as number);
    return { event, reading, chosen, place: placeIn(event, reading.key) };
  });
  const { cadences, changed } = figuresIn(form, chords, key);
  const isBlues = readings.isBlues || cadences.some(({ kind }) => kind === 'blues' || kind === 'minor blues');
  const final = chords.map((chord) => ({ ...chord, reading: changed.get(chord) ?? chord.reading }));
  const settings = settingsOf(final, isBlues ? key : null);
  const bySlot = new Map<number, ReadSlot>();
  for (const [index, chord] of chords.entries()) {
    const { sounding } = chord.event;
    const setting = settings[index] ?? PLAIN_SETTING;
    const alternatives = (ranked[index] as readonly RankedReading[]).slice(1);
    const reading = changed.get(chord) ?? chord.reading;
    for (const slot of chord.event.slots) bySlot.set(slot, { reading, alternatives, sounding, setting });
  }
  let current = keys[0] ?? key;
  const slots = form.slots.map((played, index): AnalysedSlot => {
    const read = bySlot.get(index);
    const { chord } = played.slot;
    if (read === undefined || chord.kind === 'no chord') {
      return { played, chord: null, reading: silenceIn(current), alternatives: [], chordScales: [] };
    }
    current = read.reading.key;
    const { reading, alternatives } = read;
    return {
      played,
      chord,
      reading,
      alternatives,
      chordScales: keepingWritten(
        chordScalesFor(read.sounding, read.reading, read.setting),
        chord,
        read.sounding,
        read.reading.key,
      ),
    };
  });
  return { chart, form, key, keyFound, regions: regionsOf(slots), slots, cadences };
}

/**
 * All 24 keys a chart may be in, the likeliest first, each with how much worse it is as a home (integer cost above the first;
 * under about 12 both are good). Empty for a chart without chords.
 * @example formatKey(rankedKeys(chart)[0].key) // → 'Eb major'
 */
export function rankedKeys(chart: Chart): readonly { readonly key: Key; readonly costAbove: number }[] {
  const { free } = searchOf(chart, unfold(chart), NO_ANALYSIS_PINS);
  const { events } = free;
  if (events.length === 0) return [];
  const homes = rankHomes(free, costTablesOf(free));
  const [best] = homes;
  const byKey = new Map<number, number>();
  for (const { home, cost } of homes) {
    // a blues and its major key are one key: the cheaper of them came first
    if (!byKey.has(home % REGION_KEY_COUNT)) byKey.set(home % REGION_KEY_COUNT, cost - (best?.cost ?? 0));
  }
  return [...byKey].map(([index, costAbove]) => ({ key: spelledKey(index, events, chart.key), costAbove }));
}

/** Up to this far apart the likeliest key is the right one only two times in three (docs/analysis.md). */
const CLOSE_WITHIN = 25;

/**
 * The keys that lie close to the one found, where the chart states none: a teacher is shown them and chooses.
 */
export function closeKeys(chart: Chart): readonly { readonly key: Key; readonly costAbove: number }[] {
  return chart.key === null ? rankedKeys(chart).filter(({ costAbove }, at) => at > 0 && costAbove <= CLOSE_WITHIN) : [];
}

/**
 * What a chart's changes mean: home key, regions, a reading and a ladder of chord-scales for every chord each time it is
 * played, and the figures they make. Exact for its stated cost; linear in the bars. docs/analysis.md states the method.
 * @param pins what the teacher fixed; NO_ANALYSIS_PINS for nothing. A pin whose slot or numeral is not there is passed over.
 * @example analyse(chartOf('Fm7 | Bb7 | Ebmaj7'), NO_ANALYSIS_PINS).slots.map((slot) => slot.reading.numeral) // → ['iim7', 'V7', 'Imaj7']
 */
export function analyse(chart: Chart, pins: AnalysisPins): Analysis {
  return analyseForm(chart, unfold(chart), pins);
}
