import { describe, expect, it } from 'vitest';
import { wordsOfPassage } from '../../parts/index.ts';
import { inventedChart } from '../../parts/invented-plan.ts';
import { CHORD_KINDS_BY_SYMBOL, midiOf, pitchClassOf, typeset } from '../../theory/index.ts';
import { DEFAULT_CHOICES, type Choices } from '../lesson.ts';
import { listenForOf, makeDrill } from './index.ts';

const SLASHED = ['C/D', 'F/G', 'Dm7/G', 'Bb/C', 'C7/E', 'Emaj7/A', 'Em7', 'Am7', 'Dm7'];
const BARS = [...['C', 'F#'].flatMap((root) => CHORD_KINDS_BY_SYMBOL.map(({ suffix }) => root + suffix)), ...SLASHED];
const CHARTS = [0, 30, 60, 90].map((from) =>
  inventedChart(`key: C major\n| ${BARS.slice(from, from + 30).join(' | ')} |\n`),
);

/** Whether the sounds of a scale can be climbed in thirds from one of them through seven: by hand, thirds of 3 or 4 semitones. */
function climbsInThirds(sounds: ReadonlySet<number>, from: number): boolean {
  let ways = [[from]];
  for (let step = 0; step < 6; step++) {
    ways = ways.flatMap((way) =>
      [3, 4]
        .map((third) => ((way.at(-1) as number) + third) % 12)
        .filter((next) => sounds.has(next) && !way.includes(next))
        .map((next) => [...way, next]),
    );
  }
  return ways.length > 0;
}

describe('every chord kind, slash chords and ways outside, in thirds', () => {
  it.each([
    [1, 'small'],
    [4, 'medium'],
  ] as const)('goes up to the 13th by thirds wherever its scale does: level %i, %s hand', (level, hand) => {
    const choices: Choices = { ...DEFAULT_CHOICES, level, hand };
    const short = new Set<string>();
    const untold = new Set<string>();
    let [whole, wrong, foreign] = [0, 0, 0];
    for (const chart of CHARTS) {
      const made = makeDrill(chart, choices, { kind: 'in-thirds', bars: null, keys: [], tempi: null });
      if (!made.ok) throw new Error('the drill must be made');
      const [{ lesson, passages } = { lesson: undefined, passages: [] }] = made.value.keys;
      for (const { label, fromBar, toBar } of passages) {
        const [from, to] = [fromBar, toBar].map((bar) => lesson!.analysis.form.bars[bar - 1]!);
        const up = lesson!.chorus
          .filter(
            ({ startTicks }) => startTicks >= from!.startTicks && startTicks < to!.startTicks + to!.bar.durationTicks,
          )
          .slice(0, 7);
        const gaps = up.slice(1).map((note, index) => midiOf(note.pitch) - midiOf(up[index]!.pitch));
        const isWhole = gaps.length === 6 && gaps.every((gap) => gap === 3 || gap === 4);
        if (isWhole) whole++;
        if (isWhole !== (label.args['reach'] === 'to the 13th')) wrong++;
        const { chordScale, analysed } = lesson!.plan.slots[up[0]!.slotIndex]!;
        const sounds = new Set(chordScale!.notes.map(pitchClassOf));
        // thirds on another root than the chord's are said to be, everywhere the drill has words; no others are
        const [lowest, root] = [pitchClassOf(up[0]!.pitch.name), pitchClassOf(analysed.chord!.root)];
        const isForeign = lowest !== root && gaps.slice(0, 3).every((gap) => gap === 3 || gap === 4);
        const told = listenForOf(made.value).some((each) =>
          each.startsWith(`Over ${typeset(analysed.chord!.symbol)} the`),
        );
        if (isForeign) foreign++;
        if (isForeign !== (label.args['root'] !== undefined) || (isForeign && !told))
          untold.add(analysed.chord!.symbol);
        // a suspended chord has its 4 or 2 for the third
        const isSuspended = analysed.chord!.quality === 'suspended';
        if (!isWhole && !isSuspended && climbsInThirds(sounds, pitchClassOf(up[0]!.pitch.name)))
          short.add(`${analysed.chord!.symbol} ${chordScale!.id} ${gaps.join(' ')}`);
      }
    }
    expect([...short]).toEqual([]);
    expect(wrong).toBe(0);
    expect([...untold]).toEqual([]);
    expect(foreign).toBeGreaterThan(0);
    expect(whole).toBeGreaterThan(60);
  });
});

it('says over an altered dominant that its thirds are those of the chord a tritone away', () => {
  const chart = inventedChart('key: G minor\n| Am7b5 | D7alt | Gm6 | % |\n');
  const made = makeDrill(chart, DEFAULT_CHOICES, { kind: 'in-thirds', bars: null, keys: [], tempi: null });
  if (!made.ok) throw new Error('the drill must be made');
  const [{ lesson, passages }] = made.value.keys as [(typeof made.value.keys)[number]];
  expect(passages.map(({ label }) => wordsOfPassage(label))).toEqual([
    'in thirds to the 13th',
    'A♭7 in thirds to the 13th',
    'in thirds to the 13th',
  ]);
  expect(lesson.score.bars.flatMap(({ section }) => section ?? [])).toContain('from A♭');
  expect(listenForOf(made.value).at(-1)).toBe(
    'Over D7alt the thirds stand on A♭: A♭7, a tritone away, with the same third and seventh.',
  );
});
