/** Small analyses of our own for tests, without a text parser: `'Gm7 | C7 | Fmaj7 Dm7'`, chords of a bar share it evenly. */
import { chordScalesFor, type Analysis, type AnalysedSlot, type Reading, type Role } from '../analysis/index.ts';
import type { Bar, Chart, PlayedBar, Section, Slot } from '../chart/index.ts';
import {
  degree,
  degrees,
  noteAbove,
  noteName,
  parseKey,
  type ChordQuality,
  type ChordSymbol,
} from '../theory/index.ts';

/** Suffix → quality, degrees, role. Common practice. */
const KINDS: Readonly<Record<string, readonly [ChordQuality, string, Role]>> = {
  '': ['major', '1 3 5', 'tonic'],
  m7: ['minor', '1 b3 5 b7', 'predominant'],
  m6: ['minor', '1 b3 5 6', 'tonic'],
  'm(maj7)': ['minor', '1 b3 5 7', 'tonic'],
  '7': ['dominant', '1 3 5 b7', 'dominant'],
  '7alt': ['dominant', '1 3 b7 b9 #9 #11 b13', 'dominant'],
  '7(b9)': ['dominant', '1 3 5 b7 b9', 'dominant'],
  '7sus': ['suspended', '1 4 5 b7', 'dominant'],
  maj7: ['major', '1 3 5 7', 'tonic'],
  m7b5: ['half-diminished', '1 b3 b5 b7', 'predominant'],
  dim7: ['diminished', '1 b3 b5 bb7', 'passing diminished'],
};

const FOUR_FOUR = { count: 4, unit: 4 };
const BAR_TICKS = 3840;

function symbolOf(text: string): ChordSymbol {
  if (text === 'N.C.') return { kind: 'no chord', symbol: text };
  const [, root = '', suffix = ''] = /^([A-G][b#]?)(.*)$/u.exec(text) ?? [];
  const [quality, spelled] = KINDS[suffix] as (typeof KINDS)[string];
  return { kind: 'chord', root: noteName(root), quality, degrees: degrees(spelled), bass: null, suffix, symbol: text };
}

export function inventedAnalysis(text: string, keyName: string): Analysis {
  const key = parseKey(keyName);
  if (key === undefined) throw new TypeError(`keyName must be a key, not '${keyName}'`);
  const bars = text.split('|').map((bar, index): Bar => {
    const symbols = bar.trim().split(/\s+/u);
    const durationTicks = BAR_TICKS / symbols.length;
    const slots = symbols.map((symbol, place): Slot => {
      const id = `b${index + 1}c${place + 1}` as Slot['id'];
      return { id, startTicks: place * durationTicks, durationTicks, chord: symbolOf(symbol) };
    });
    return {
      id: `b${index + 1}` as Bar['id'],
      number: index + 1,
      meter: FOUR_FOUR,
      keyChange: null,
      durationTicks: BAR_TICKS,
      slots,
      startsRepeat: false,
      endsRepeatTimes: 0,
      endings: [],
      startsEnding: false,
      marks: { segno: false, coda: false, fine: false, toCoda: false },
      jump: null,
    };
  });
  const section: Section = { id: 's1', name: null, bars };
  const chart: Chart = { title: '', key, meter: FOUR_FOUR, tempoBpm: null, feel: 'swing', sections: [section] };
  const playedBars = bars.map((bar, index): PlayedBar => ({
    bar,
    section,
    pass: 1,
    index,
    startTicks: index * BAR_TICKS,
  }));
  const played = playedBars
    .flatMap((playedBar) => playedBar.bar.slots.map((slot) => ({ slot, playedBar })))
    .map(({ slot, playedBar }, index) => {
      const startTicks = playedBar.startTicks + slot.startTicks;
      const endTicks = startTicks + slot.durationTicks;
      return {
        slot,
        playedBar,
        index,
        startTicks,
        endTicks,
        beat: 1 + slot.startTicks / 960,
        beats: slot.durationTicks / 960,
      };
    });
  const slots = played.map((each): AnalysedSlot => {
    const { chord } = each.slot;
    const role = chord.kind === 'chord' ? (KINDS[chord.suffix] as (typeof KINDS)[string])[2] : 'none';
    const goesTo = chord.kind === 'chord' && role === 'dominant' ? noteAbove(chord.root, degree('4')) : null;
    const reading: Reading = {
      key,
      numeral: '',
      role,
      reason: { code: 'invented', args: {} },
      target: goesTo,
      targetMode: goesTo === null ? null : key.mode,
    };
    return {
      played: each,
      chord: chord.kind === 'chord' ? chord : null,
      reading,
      alternatives: [],
      chordScales: chord.kind === 'chord' ? chordScalesFor(chord, reading) : [],
    };
  });
  const form = { bars: playedBars, slots: played, endTicks: bars.length * BAR_TICKS };
  return { chart, form, key, keyFound: key, regions: [], slots, cadences: [] };
}
