import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { beatTicksOf } from '../../chart/index.ts';
import { balliauwSpans, distanceMm, imaginaryKeyRuler, spanOf } from '../../hand/index.ts';
import { DRILL_KINDS, DRILLS, twoTones, wordsOfPassage, type ChorusNote, type DrillKindId } from '../../parts/index.ts';
import { anyChartText, inventedChart } from '../../parts/invented-plan.ts';
import { formatKey, midi, midiOf, noteAbove, parseKey, pitchClassOf, type Key } from '../../theory/index.ts';
import { DEFAULT_CHOICES, type Choices } from '../lesson.ts';
import { groundOf } from '../make-lesson.ts';
import { reportDrill } from '../report/index.ts';
import { KEY_ROUNDS, keysRound, makeDrill, scoreOfDrill, type Drill, type DrillInKey } from './index.ts';

const RUNS: fc.Parameters<unknown> = { seed: 20_261_130, numRuns: 44 };
const key = (text: string): Key => parseKey(text) as Key;

const DEMO = inventedChart(
  'key: Eb major\ntempo: 132\nA:\n| Fm7 | Bb7 | Ebmaj7 | % |\n| Am7b5 | D7alt | Gm6 | % |\nB:\n| Abmaj7 | Abm7 Db7 | Ebmaj7 | C7(b9) |\n',
);

function drillOf(kind: DrillKindId, order: Partial<Drill['order']> = {}, choices: Partial<Choices> = {}): Drill {
  const made = makeDrill(
    DEMO,
    { ...DEFAULT_CHOICES, ...choices },
    { kind, bars: null, keys: [], tempi: null, ...order },
  );
  if (!made.ok) throw new Error(`a drill must be made: ${JSON.stringify(made.issues)}`);
  return made.value;
}

/** Whether two fingers lie as far apart as the published table says they do in practice; one finger is on one key. */
function isWithinSpan(a: ChorusNote, b: ChorusNote): boolean {
  if (a.finger === b.finger) return a.pitch === b.pitch;
  const [lower, higher] = a.finger < b.finger ? [a, b] : [b, a];
  const [from, to] = [midiOf(lower.pitch), midiOf(higher.pitch)];
  const steps = from <= to ? imaginaryKeyRuler(from, to) : -imaginaryKeyRuler(to, from);
  const { minPractical, maxPractical } = spanOf(balliauwSpans('medium'), lower.finger, higher.finger);
  return steps >= minPractical && steps <= maxPractical;
}

/** Notes of the bars of each passage. */
function byPassage({ lesson, passages }: DrillInKey): ChorusNote[][] {
  const bars = lesson.analysis.form.bars;
  return passages.map(({ fromBar, toBar }) => {
    const [first, last] = [bars[fromBar - 1]!, bars[toBar - 1]!];
    return lesson.chorus.filter(
      ({ startTicks }) => startTicks >= first.startTicks && startTicks < last.startTicks + last.bar.durationTicks,
    );
  });
}

/** What a line is, wherever it is: when, how long, which finger, how far from the first key. */
const contour = (notes: readonly ChorusNote[], fingers: 'the same' | 'any' = 'the same'): string[] =>
  notes.map(
    (note) =>
      `${note.startTicks} ${note.durationTicks} ${fingers === 'any' ? '' : note.finger} ${midiOf(note.pitch) - midiOf((notes[0] as ChorusNote).pitch)}`,
  );

const barOf = (note: ChorusNote, { lesson }: DrillInKey): number =>
  lesson.analysis.slots[note.slotIndex]!.played.playedBar.index;

/** Avoid notes a half step above a chord tone, that begin on a beat. */
const rubsOnBeat = (notes: readonly ChorusNote[], { lesson }: DrillInKey): string[] =>
  notes.flatMap((note) => {
    const { chordScale, analysed } = lesson.plan.slots[note.slotIndex]!;
    const { startTicks, bar } = analysed.played.playedBar;
    const sound = pitchClassOf(note.pitch.name);
    const rubs = chordScale!.avoid.some(
      (each) => pitchClassOf(each.note) === sound && each.resolvesTo.some(({ semitones }) => semitones === -1),
    );
    return rubs && (note.startTicks - startTicks) % beatTicksOf(bar.meter) === 0 ? ['rubs on a beat'] : [];
  });

/** What each kind says of itself, stated anew: the faults of a drill in one key. */
const RULES: { readonly [Kind in DrillKindId]: (inKey: DrillInKey) => string[] } = {
  'finger-patterns': (inKey) =>
    byPassage(inKey).flatMap((notes, index) => {
      const said = wordsOfPassage(inKey.passages[index]!.label).replace('fingers ', '').split(' ').map(Number);
      const thumbs = new Set(notes.map((note) => midiOf(note.pitch) - note.position.shape.steps[note.finger - 1]!));
      return [
        ...(thumbs.size > 1 ? ['the hand moves'] : []),
        ...(notes.some((note, at) => note.finger !== said[at % said.length]) ? ['other fingers than said'] : []),
      ];
    }),
  family: (inKey) => {
    const groups = new Map<string, string[]>();
    for (const [index, notes] of byPassage(inKey).entries()) {
      const { label } = inKey.passages[index]!;
      const slot = inKey.lesson.plan.slots[notes[0]!.slotIndex]!;
      const sign = `${slot.analysed.played.slot.chord.symbol} ${slot.chordScale!.id} ${slot.family!.shape.id} ${label.code}`;
      groups.set(sign, [...(groups.get(sign) ?? []), String(slot.position!.thumb)]);
      if (!slot.family!.positions.some((each) => each.thumb === slot.position!.thumb)) return ['not of the family'];
      if (notes.some((note) => note.position !== slot.position)) return ['leaves its position'];
    }
    return [...groups].flatMap(([sign, thumbs]) => {
      const other = groups.get(sign.replace('drill.in-order', 'drill.mixed')) ?? [];
      return other.toSorted().join() === thumbs.toSorted().join() ? [] : [`${sign}: in order and mixed differ`];
    });
  },
  thumbs: (inKey) => {
    const [alone = [], whole = []] = byPassage(inKey);
    const starts = new Set(inKey.lesson.analysis.slots.map(({ played }) => played.startTicks));
    return [
      ...(alone.some(({ finger, startTicks }) => finger !== 1 || !starts.has(startTicks))
        ? ['not the thumb alone']
        : []),
      ...(whole.some(({ finger, startTicks }) => starts.has(startTicks) && finger !== 1)
        ? ['not from the thumb up']
        : []),
    ];
  },
  'in-thirds': (inKey) =>
    byPassage(inKey).flatMap((notes) => {
      const top = notes.reduce((best, each, at) => (midiOf(each.pitch) > midiOf(notes[best]!.pitch) ? at : best), 0);
      const falls = notes.slice(1, top + 1).some((note, at) => midiOf(note.pitch) <= midiOf(notes[at]!.pitch));
      return [...(falls ? ['does not climb to its top'] : []), ...rubsOnBeat(notes, inKey)];
    }),
  'avoid-notes': (inKey) =>
    byPassage(inKey).flatMap((notes) =>
      notes.flatMap((note, at) => {
        const { chordScale } = inKey.lesson.plan.slots[note.slotIndex]!;
        const sound = pitchClassOf(note.pitch.name);
        const isTone = (each: number): boolean => chordScale!.chordTones.some((tone) => pitchClassOf(tone) === each);
        if (!chordScale!.avoid.some((each) => pitchClassOf(each.note) === sound)) return [];
        const next = notes[at + 1];
        if (next === undefined) return ['an avoid note hangs'];
        const way = Math.abs(midiOf(next.pitch) - midiOf(note.pitch));
        return way <= 2 && isTone(pitchClassOf(next.pitch.name)) ? [] : ['an avoid note is not taken in'];
      }),
    ),
  'outside-and-back': (inKey) =>
    byPassage(inKey).flatMap((notes) => {
      const first = barOf(notes[0]!, inKey);
      const slots = inKey.lesson.plan.slots;
      const inside = slots[notes[0]!.slotIndex]!.chordScale!;
      const isInside = (note: ChorusNote): boolean => (inside.set & (1 << pitchClassOf(note.pitch.name))) !== 0;
      const bars = [0, 1, 2].map((bar) => notes.filter((note) => barOf(note, inKey) === first + bar));
      const last = notes.at(-1)!;
      return [
        ...(bars[0]!.every(isInside) && bars[2]!.every(isInside) ? [] : ['outside too early or too late']),
        ...(bars[1]!.every(isInside) ? ['never outside'] : []),
        ...(inside.chordTones.some((tone) => pitchClassOf(tone) === pitchClassOf(last.pitch.name))
          ? []
          : ['ends on no chord tone']),
      ];
    }),
  motive: (inKey) => {
    const said = byPassage(inKey).map((notes) => {
      const { startTicks } = inKey.lesson.analysis.slots[notes[0]!.slotIndex]!.played.playedBar;
      return notes
        .map((note) => `${note.startTicks - startTicks} ${note.durationTicks} ${note.finger - notes[0]!.finger}`)
        .join();
    });
    return new Set(said).size > 1 ? ['another motive'] : [];
  },
  'hand-independence': (inKey) => {
    const { bass, analysis } = inKey.lesson;
    const rounds = inKey.passages.map(({ fromBar, toBar }) => {
      const [first, last] = [analysis.form.bars[fromBar - 1]!, analysis.form.bars[toBar - 1]!];
      return bass
        .filter(
          ({ startTicks }) => startTicks >= first.startTicks && startTicks < last.startTicks + last.bar.durationTicks,
        )
        .map((note) => `${note.startTicks - first.startTicks} ${midiOf(note.pitch)}`)
        .join();
    });
    return [
      ...(new Set(rounds).size > 1 ? ['the bass is not steady'] : []),
      ...byPassage(inKey).flatMap((notes, round) =>
        notes.some(({ finger }) => finger > round + 1) ? ['a finger too early'] : [],
      ),
    ];
  },
  'guide-tones': (inKey) =>
    inKey.lesson.chorus.flatMap((note) => {
      const { chord } = inKey.lesson.plan.slots[note.slotIndex]!.analysed;
      const sounds = twoTones(chord!).map((each) => pitchClassOf(noteAbove(chord!.root, each)));
      return sounds.includes(pitchClassOf(note.pitch.name)) ? [] : ['no guide tone'];
    }),
  'call-and-answer': (inKey) => {
    const from = inKey.passages[0]!.fromBar - 1;
    return (byPassage(inKey)[0] ?? []).some((note) => (barOf(note, inKey) - from) % 2 === 1)
      ? ['no room for an answer']
      : [];
  },
  'same-line': () => [],
};

/** Any changes in any metre, as many bars as a drill takes. */
const anyFewBars = anyChartText.map((text) =>
  text
    .split(' | ')
    .slice(0, 3)
    .join(' | ')
    .replace(/ ?\|?\s*$/u, ' |\n'),
);

const anyOrder = fc.record({
  text: anyFewBars,
  kind: fc.constantFrom(...DRILL_KINDS),
  level: fc.constantFrom(1, 2, 3, 4),
  hand: fc.constantFrom('small', 'medium', 'large'),
  round: fc.constantFrom(...KEY_ROUNDS),
  seed: fc.nat(1000),
  from: fc.integer({ min: 1, max: 2 }),
  length: fc.integer({ min: 0, max: 2 }),
});

describe('every drill over random charts, kinds, levels, hands and rounds', () => {
  it('keeps what its kind says, in its slots, under its fingers; the same in every key, the same again', () => {
    let made = 0;
    const kindsMade = new Set<DrillKindId>();
    fc.assert(
      fc.property(anyOrder, ({ text, kind, level, hand, round, seed, from, length }) => {
        const chart = inventedChart(text);
        const choices: Choices = {
          ...DEFAULT_CHOICES,
          level: level as Choices['level'],
          hand: hand as Choices['hand'],
          seed,
        };
        const own = groundOf(chart, choices, null).analysis.key;
        // the kept line in all twelve: it may change in none; guide tones in half of them
        const most = kind === 'same-line' ? 12 : kind === 'guide-tones' ? 6 : 3;
        const keys = keysRound(own, round, seed).slice(0, most);
        const order = { kind, bars: { from, to: from + length }, keys, tempi: null };
        // the same again now and then: each costs as much as the first
        const again = (seed % 4 === 0 ? [1, 2] : [1]).map(() => makeDrill(chart, choices, order));
        const [drill] = again.flatMap((each) => (each.ok ? [each.value] : []));
        if (drill === undefined) {
          const codes = again.map((each) => (each.ok ? '' : each.issues[0]?.code));
          expect(codes.every((code) => code === 'drill.no-bars' || code === 'drill.nothing')).toBe(true);
          return;
        }
        made++;
        kindsMade.add(kind);
        const bytes = again.map((each) => (each.ok ? JSON.stringify(reportDrill(each.value)) : ''));
        expect(bytes.at(-1)).toBe(bytes[0]);
        for (const inKey of drill.keys) {
          const { chorus, plan, analysis } = inKey.lesson;
          expect(RULES[kind](inKey)).toEqual([]);
          for (const [index, note] of chorus.entries()) {
            const { played } = analysis.slots[note.slotIndex]!;
            const before = chorus[index - 1];
            // an anticipated note of a kept line sounds before its chord
            if (kind !== 'same-line') {
              expect(note.startTicks).toBeGreaterThanOrEqual(played.startTicks);
              expect(note.startTicks + note.durationTicks).toBeLessThanOrEqual(played.endTicks);
            }
            if (before !== undefined && before.startTicks !== note.startTicks)
              expect(note.startTicks).toBeGreaterThanOrEqual(before.startTicks + before.durationTicks);
            if (DRILLS[kind].inPositions && note.neighbour === null)
              expect(note.pitch.name).toBe(note.position.notes[note.finger - 1]);
          }
          expect(chorus.length).toBeGreaterThan(0);
          expect(plan.slots.length).toBe(analysis.slots.length);
        }
        // a hand of this size, at the quickest its ladder allows
        if (hand === 'medium') expect(beyondTheHand(drill, kind, drill.ladder.limitBpm)).toEqual([]);
        const [first, ...others] = drill.keys;
        for (const other of others) {
          // a hand that does not reach a position in some key goes its own way there; the kept line never does
          const shapes = (each: DrillInKey): string =>
            each.lesson.plan.slots.map((slot) => slot.position?.shape.id).join();
          if (kind === 'guide-tones') {
            // fingers go by the key's own black and white keys; the lines are the same
            expect(contour(other.lesson.chorus, 'any')).toEqual(contour(first!.lesson.chorus, 'any'));
            continue;
          }
          if (kind !== 'same-line' && shapes(other) !== shapes(first!)) continue;
          if (kind === 'same-line') expect(contour(other.lesson.chorus)).toEqual(contour(first!.lesson.chorus));
          const played = (each: DrillInKey): string[] =>
            each.lesson.chorus.map((note) => `${note.startTicks} ${note.durationTicks} ${note.finger}`);
          expect(played(other)).toEqual(played(first!));
        }
        // one score that a writer can read: starts ascend
        const starts = scoreOfDrill(drill).staves[0]!.notes.map(({ startTicks }) => startTicks);
        expect(starts).toEqual(starts.toSorted((a, b) => a - b));
      }),
      RUNS,
    );
    expect(made).toBeGreaterThan(30);
    expect(kindsMade.size).toBe(DRILL_KINDS.length);
  });
});

describe('keysRound', () => {
  it.each(KEY_ROUNDS)('%s visits each key once, from home', (round) => {
    for (const home of [key('Eb major'), key('F# minor')]) {
      const sounds = keysRound(home, round, 7).map(({ tonic }) => pitchClassOf(tonic));
      expect(sounds[0]).toBe(pitchClassOf(home.tonic));
      expect(new Set(sounds).size).toBe(12);
      expect(sounds).toHaveLength(12);
    }
  });
  it('goes by thirds ring after ring, each a half step higher', () => {
    // by hand: C E♭ G♭ A close; a half step higher D♭ E G B♭; then D F A♭ B
    expect(keysRound(key('C major'), 'minor thirds up', 1).map(formatKey).join(', ')).toBe(
      'C, Eb, Gb, A, Db, E, G, Bb, D, F, Ab, B'.replaceAll(/\b(\w+)/gu, '$1 major'),
    );
  });
  it('draws another order for another seed', () => {
    const orders = [1, 2, 3].map((seed) => keysRound(key('C major'), 'random', seed).map(formatKey).join());
    expect(new Set(orders).size).toBe(3);
  });
});

/** What no hand does at a tempo: the notes too quick, or the way too long for the time. */
function beyondTheHand({ keys }: Pick<Drill, 'keys'>, kind: DrillKindId, tempo: number): string[] {
  return keys.flatMap(({ key: here, lesson }) => {
    const beat = beatTicksOf(lesson.chart.meter);
    return lesson.chorus.slice(1).flatMap((note, index) => {
      const before = lesson.chorus[index]!;
      const seconds = ((note.startTicks - before.startTicks) / beat) * (60 / tempo);
      const told = (what: string): string[] => [`${formatKey(here)} ${note.startTicks} ${note.finger}: ${what}`];
      if (seconds === 0) return [];
      // nine of ten recorded soloists play fewer than 6.2 notes a second (docs/sources.md, 5; C)
      if (1 / seconds >= 6.21) return told(`${1 / seconds} notes a second`);
      if (!DRILLS[kind].inPositions) return [];
      const [from, to] = [before, note].map((each) => midiOf(each.pitch) - each.position.shape.steps[each.finger - 1]!);
      const wayMm = distanceMm(midi(from!), midi(to!));
      // fingers that reach both keys in practice, or pass, do not leap (Balliauw and others 2017; R)
      if (wayMm === 0 || isWithinSpan(before, note)) return [];
      // ten bits a second: Fitts 1954 (from memory); a white key is 23.5 mm wide; another finger may have begun its way a note before
      const time = note.finger === before.finger ? seconds : 2 * seconds;
      return Math.log2((2 * wayMm) / 23.5) <= time * 10 + 1e-9 ? [] : told(`${wayMm} mm in ${time} s`);
    });
  });
}

describe('the ladder of tempi', () => {
  it('goes from one tempo to the other in even steps', () => {
    expect(drillOf('guide-tones', { tempi: { fromBpm: 80, toBpm: 120 } }).ladder.tempi).toEqual([
      80, 90, 100, 110, 120,
    ]);
    expect(drillOf('guide-tones', { tempi: { steps: [100, 60] } }).ladder.tempi).toEqual([60, 100]);
  });
  it('never asks more than the hand can do, whatever is asked for', () => {
    for (const kind of DRILL_KINDS) {
      const { ladder, keys } = drillOf(kind, {
        bars: { from: 5, to: 9 },
        keys: keysRound(key('Eb major'), 'fifths', 1).slice(0, 3),
        tempi: { steps: [390] },
      });
      const [tempo] = ladder.tempi;
      expect(tempo).toBeLessThanOrEqual(ladder.limitBpm);
      expect(beyondTheHand({ keys }, kind, tempo!)).toEqual([]);
    }
  });
  it('says what ends it', () => {
    const { ladder } = drillOf('in-thirds', { tempi: { fromBpm: 60, toBpm: 300 } });
    expect(ladder.tempi.at(-1)).toBe(ladder.limitBpm);
    expect(ladder.because?.code).toBe('drill.limit-way');
    expect(drillOf('guide-tones', { tempi: { fromBpm: 60, toBpm: 80 } }).ladder.because).toBeNull();
  });
});

describe('bars', () => {
  it('are those asked for, first to last, as on paper', () => {
    const { keys } = drillOf('thumbs', { bars: { from: 9, to: 10 } });
    const symbols = keys[0]!.lesson.analysis.slots.map(({ played }) => played.slot.chord.symbol);
    expect(symbols.join(' ')).toBe('Abmaj7 Abm7 Db7 Abmaj7 Abm7 Db7');
  });
  it('that the chart does not have are told', () => {
    const made = makeDrill(DEMO, DEFAULT_CHOICES, {
      kind: 'thumbs',
      bars: { from: 40, to: 44 },
      keys: [],
      tempi: null,
    });
    expect(made.ok ? null : made.issues[0]).toMatchObject({ code: 'drill.no-bars', args: { last: 12 } });
    const beyond = makeDrill(DEMO, DEFAULT_CHOICES, {
      kind: 'thumbs',
      bars: { from: 9, to: 13 },
      keys: [],
      tempi: null,
    });
    expect(beyond.ok ? null : beyond.issues[0]).toMatchObject({ code: 'drill.no-bars', args: { to: 13, last: 12 } });
  });
  it('in which nobody plays have nothing to drill', () => {
    const rest = inventedChart('key: C major\n| N.C. | C6 |\n');
    for (const kind of DRILL_KINDS) {
      const made = makeDrill(rest, DEFAULT_CHOICES, { kind, bars: { from: 1, to: 1 }, keys: [], tempi: null });
      expect(made.ok ? kind : made.issues[0]?.code).toBe('drill.nothing');
    }
  });
});
