/**
 * The walking bass, level 1, by its rules. Source: common practice, as the job's description words it: the chord's own root and
 * fifth in turn; on the last beat before a change an approach note into the next root (a half step, a scale step or its
 * dominant), never the pitch of the note before it; two-beat chords root and approach; one-beat chords their root.
 * Orderings: Weimar Jazz Database, automatic bass track (reference section 5; C): roots on beat 1 more than on 3, on 3 more
 * than on 2 and 4; half steps the commonest approach. Roots and fifths are read here from the symbol's text, not by our theory.
 */
import { describe, expect, test } from 'vitest';
import {
  beatTicksOf,
  DEFAULT_CHOICES,
  formatKey,
  formatNoteName,
  letterOf,
  makeLesson,
  midiOf,
  ownNames,
  readChart,
  reportBass,
  usualKeys,
  type BassNote,
  type Chart,
  type Key,
  type Lesson,
} from '@fivespan/core';
import { bassIn } from '../lines.ts';

const SEMITONES: Readonly<Record<string, number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };

function soundOf(name: string): number {
  const accidentals = Array.from(name.slice(1)).reduce((sum, sign) => sum + (sign === '#' ? 1 : -1), 0);
  return ((SEMITONES[name[0] as string] as number) + accidentals + 24) % 12;
}

/** Ground (bass or root), root and fifth of a symbol as pitch classes. Common practice: ø, ° and alt have a flat fifth, + a raised one. */
function read(symbol: string): { ground: number; root: number; fifth: number } {
  const [, root = '', suffix = ''] = /^([A-G][b#]*)(.*)$/u.exec(symbol) ?? [];
  const [, bass] = /\/([A-G][b#]*)$/u.exec(suffix) ?? [];
  const flat = /dim|b5|alt/u.test(suffix);
  const raised = /\+|#5|aug/u.test(suffix);
  const fifth = flat ? 6 : raised ? 8 : 7;
  return { ground: soundOf(bass ?? root), root: soundOf(root), fifth: (soundOf(root) + fifth) % 12 };
}

/** Which approaches are allowed by their way into the goal: half steps, whole steps, the dominant from below or above. */
const WAYS = new Set([1, -1, 2, -2, 5, -7]);

/** What a line does against the rules; empty where it keeps them. */
function bassFaults({ analysis }: Pick<Lesson, 'analysis'>, bass: readonly BassNote[]): string[] {
  const faults: string[] = [];
  const { slots } = analysis.form;
  for (const [index, slot] of slots.entries()) {
    const own = bass.filter((note) => note.startTicks >= slot.startTicks && note.startTicks < slot.endTicks);
    const symbol = slot.slot.chord.symbol;
    const say = (what: string): void => void faults.push(`bar ${slot.playedBar.bar.number}, ${symbol}: ${what}`);
    if (symbol === 'N.C.') {
      if (own.length > 0) say('sounds over N.C.');
      continue;
    }
    const beat = beatTicksOf(slot.playedBar.bar.meter);
    // the slot's own start, then every beat of its bar
    const starts = [slot.startTicks];
    for (let at = slot.playedBar.startTicks; at < slot.endTicks; at += beat) if (at > slot.startTicks) starts.push(at);
    if (own.map((note) => note.startTicks).join() !== starts.join()) {
      say('does not have one note a beat');
      continue;
    }
    const { ground, root, fifth } = read(symbol);
    const next = slots[index + 1];
    const nextSymbol = next?.slot.chord.symbol ?? 'N.C.';
    const changes = nextSymbol !== 'N.C.' && nextSymbol !== symbol;
    for (const [at, note] of own.entries()) {
      const key = midiOf(note.pitch);
      const before = own[at - 1] ?? bass.findLast((each) => each.startTicks + each.durationTicks === note.startTicks);
      const last = at === own.length - 1;
      if (note.startTicks + note.durationTicks !== (starts[at + 1] ?? slot.endTicks)) say('does not fill its beat');
      if (key < 29 || key > 52) say('is out of the left hand’s range');
      if (before !== undefined && before.startTicks < note.startTicks && midiOf(before.pitch) === key) {
        say(`has ${key} twice running`);
      }
      if (last && at > 0 && changes) {
        const goal = bass.find((each) => each.startTicks === slot.endTicks) as BassNote;
        const way = midiOf(goal.pitch) - key;
        if (note.function !== 'approach') say('does not say that it approaches');
        if (midiOf(goal.pitch) % 12 !== read(nextSymbol).ground) say('approaches something else than the next root');
        if (!WAYS.has(way)) say(`approaches by ${way}`);
        // a whole step is a step by letter too: F into G, not E#
        const letters = (letterOf(goal.pitch.name).codePointAt(0)! - letterOf(note.pitch.name).codePointAt(0)! + 7) % 7;
        if (Math.abs(way) === 2 && letters !== (way > 0 ? 1 : 6)) say('spells a scale step as no step');
        // a note of the chord keeps the chord's letters (docs/spelling.md, a): C𝄪 over A♯7
        const { chord, reading } = analysis.slots[index]!;
        const isOwn = chord !== null && ownNames(chord, reading.key).includes(note.pitch.name);
        if (!isOwn && /##|bb/u.test(formatNoteName(note.pitch.name))) say('has a double accidental');
        continue;
      }
      if (note.function === 'approach') say('approaches where nothing changes');
      // the last chord ends on its root, on the way there from its fifth
      if (next === undefined) {
        if (last && key % 12 !== ground) say('does not end on the root');
        continue;
      }
      // a chord over its own fifth has its root in the fifth's turn
      const wished = at % 2 === 0 ? ground : fifth === ground ? root : fifth;
      if (key % 12 !== wished) say(`beat ${at + 1} is not its ${at % 2 === 0 ? 'root' : 'fifth'}`);
    }
  }
  return faults;
}

const CHARTS: Readonly<Record<string, string>> = {
  'a ii–V–I in four': '| Fm7 | Bb7 | Ebmaj7 | % | Fm7 Bb7 | Ebmaj7 | Am7b5 D7alt | Gm6 |',
  'a waltz': 'meter: 3/4\nA:\n| Fm7 | Bb7 | Ebmaj7 | % | Fm7 Bb7 Ebmaj7 | C+7 | Fm7 | Bb7sus |',
  'dotted beats': 'meter: 6/8\nA:\n| Fm7 | Bb7 | Ebmaj7 Cm7 | F7 Bb7 | Ebmaj7 |',
  'twelve eighths': 'meter: 12/8\nA:\n| Fm7 | Bb7 | Ebmaj7 Cm7 | F7 Bb7 | Ebmaj7 |',
  'five in a bar': 'meter: 5/4\nA:\n| Fm7 | Bb7 | Fm7 / / Bb7 / | Ebmaj7 | % |',
  'two halves': 'meter: 2/2\nA:\n| Fm7 | Bb7 | Fm7 Bb7 | Ebmaj7 | % |',
  'no chord': '| Fm7 | N.C. | Bb7 | N.C. / / Ebmaj7 | Ebmaj7 |',
  'a pickup and a repeat': 'pickup: 2\nA:\n| Bb7 |\nB:\n|: Ebmaj7 | Cm7 | 1. Fm7 | Bb7 :| 2. Fm7 Bb7 | Eb6 |',
  'one-beat chords': '| Ebmaj7 Fm7 Gm7 Abmaj7 | Gm7 Gm7 Gm7 C7 | Fm7 Fm7 Bb7 Bb7 | Ebmaj7 |',
  'slash chords': '| Eb/G | Abmaj7 | Bb7/Ab | Eb/G Gbdim7 | Fm7 | Bb7/F | Eb/Bb |',
  'pushed chords': '| Fm7 / /&Bb7 / | Ebmaj7&/ / / Cm7&Bb7 | Fm7 /&Bb7 / / | Ebmaj7 |',
  'the same root, another chord': '| Cm7 | C7 | Fm7 F7 | Bb7sus Bb7 | Ebmaj7 Eb6 | Eb6 |',
  'the same chord in neighbouring bars': '| Fm7 | Fm7 | Fm7 Fm7 | Bb7 | Bb7 / / Bb7 | Ebmaj7 |',
};

function chartOf(text: string): Chart {
  const chart = readChart(`key: Eb major\n${text.startsWith('|') ? 'A:\n' : ''}${text}\n`);
  if (!chart.ok) throw new TypeError(`${text}: ${JSON.stringify(chart.issues)}`);
  return chart.value;
}

const KEYS: readonly Key[] = usualKeys('major');
const lessonOf = (text: string, seed: number): Lesson => makeLesson(chartOf(text), { ...DEFAULT_CHOICES, seed });

describe('the rules', () => {
  test.each(Object.entries(CHARTS))('%s, in twelve keys, whatever the seed (common practice)', (_, text) => {
    const chart = chartOf(text);
    for (const key of KEYS) {
      for (let seed = 0; seed < 4; seed++) {
        const line = bassIn(chart, 1, seed, key);
        expect(bassFaults(line, line.bass), `${formatKey(key)}, seed ${seed}`).toEqual([]);
      }
    }
  });

  test('the JSON counts written bars and beats, and names what sounds', () => {
    const lesson = lessonOf(CHARTS['a pickup and a repeat'] as string, 1);
    const { notes, version } = reportBass(lesson);
    expect(version).toBe(1);
    // a pickup of two beats is the end of bar 0; the repeat comes back to bar 1
    expect(notes.slice(0, 3).map(({ bar }) => bar)).toEqual([0, 0, 1]);
    expect(notes.filter(({ bar, beat }) => bar === 1 && beat === 1)).toHaveLength(2);
    for (const { name, midi } of notes) expect(soundOf(name)).toBe(midi % 12);
  });

  test('another root, pitch, time, octave or spelling is found', () => {
    const lesson = lessonOf(CHARTS['a ii–V–I in four'] as string, 1);
    const { bass } = lesson;
    const changed = (at: number, change: Partial<BassNote>): BassNote[] =>
      bass.map((note, index) => (index === at ? { ...note, ...change } : note));
    const moved = (at: number, octaves: number): Partial<BassNote> => {
      const { pitch } = bass[at] as BassNote;
      return { pitch: { ...pitch, octave: pitch.octave + octaves } };
    };
    for (const [at, note] of bass.entries()) {
      const sharper = { ...note.pitch, name: (note.pitch.name + 7) as typeof note.pitch.name };
      const { length } = bassFaults(lesson, changed(at, { pitch: sharper }));
      // an approach a half step higher may be another allowed one; the last chord is free on its way to the root
      const isFree = note.function === 'approach' || note.slotIndex === bass.at(-1)!.slotIndex;
      if (!isFree) expect(length).toBeGreaterThan(0);
    }
    expect(bassFaults(lesson, changed(3, moved(3, 1))).length).toBeGreaterThan(0);
    expect(bassFaults(lesson, changed(0, moved(0, 3))).length).toBeGreaterThan(0);
    expect(bassFaults(lesson, changed(5, { durationTicks: 480 })).length).toBeGreaterThan(0);
    expect(bassFaults(lesson, changed(3, { function: 'fifth' })).length).toBeGreaterThan(0);
    expect(bassFaults(lesson, bass.slice(1)).length).toBeGreaterThan(0);
    const [first, ...rest] = bass as [BassNote, ...BassNote[]];
    expect(bassFaults(lesson, [first, { ...rest[0]!, pitch: first.pitch }, ...rest.slice(1)]).length).toBeGreaterThan(
      0,
    );
  });
});

test('an approach from the altered scale is written as a step into its goal: F into G minor, never E# (common practice)', () => {
  const altered = readChart('key: G minor\nA:\n| D7alt | Gm6 |\n');
  if (!altered.ok) throw new TypeError('text must be a chart');
  const names = new Set<string>();
  for (let seed = 0; seed < 60; seed++) {
    const { bass } = bassIn(altered.value, 1, seed);
    names.add(formatNoteName((bass[3] as BassNote).pitch.name));
  }
  for (const name of names) expect(['F', 'F#', 'A', 'Ab', 'D']).toContain(name);
  expect(names.size).toBeGreaterThan(1);
});

describe('orderings of a real bass track (Weimar Jazz Database, automatic and noisy; C)', () => {
  const rootsOnBeat = [0, 0, 0, 0];
  const ways = { half: 0, whole: 0, dominant: 0 };
  const chart = chartOf(CHARTS['a ii–V–I in four'] as string);
  for (const key of KEYS) {
    for (let seed = 0; seed < 6; seed++) {
      const { bass, analysis } = bassIn(chart, 1, seed, key);
      for (const [index, note] of bass.entries()) {
        const slot = analysis.form.slots[note.slotIndex]!;
        const { root } = read(slot.slot.chord.symbol);
        if (midiOf(note.pitch) % 12 === root) rootsOnBeat[(note.startTicks / 960) % 4]! += 1;
        if (note.function !== 'approach') continue;
        const way = Math.abs(midiOf(bass[index + 1]!.pitch) - midiOf(note.pitch));
        ways[way === 1 ? 'half' : way === 2 ? 'whole' : 'dominant'] += 1;
      }
    }
  }

  test('roots: beat 1 no less than 3, 3 more than 2 and 4 (level 1 has roots on both strong beats)', () => {
    const [one, two, three, four] = rootsOnBeat as [number, number, number, number];
    expect(one).toBeGreaterThanOrEqual(three);
    expect(three).toBeGreaterThan(Math.max(two, four));
  });

  test('half steps are the commonest approach, and the others do come', () => {
    expect(ways.half).toBeGreaterThan(Math.max(ways.whole, ways.dominant));
    expect(ways.whole).toBeGreaterThan(0);
    expect(ways.dominant).toBeGreaterThan(0);
  });
});
