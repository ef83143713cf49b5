import { describe, expect, it } from 'vitest';
import { readChart } from '../../chart/index.ts';
import { sceneOf, type Scene, type SceneKind } from '../../film/index.ts';
import { formatKey, parseKey, type Key } from '../../theory/index.ts';
import { DEFAULT_CHOICES } from '../lesson.ts';
import { lineBars } from './line-bars.ts';
import { makeFilm, type Film } from './make-film.ts';

function chartOf(text: string) {
  const read = readChart(text);
  if (!read.ok) throw new TypeError(JSON.stringify(read.issues));
  return read.value;
}

const TUNE = `title: A tune
key: Eb major
tempo: 120
A:
| Fm7 | Bb7 | Ebmaj7 | % |
B:
| Am7b5 | D7alt | Gm6 | Abm7 Db7 |
`;

const filmOf = (
  text: string,
  ...more: Parameters<typeof makeFilm> extends [unknown, unknown, ...infer Rest] ? Rest : never
): Film => makeFilm(chartOf(text), DEFAULT_CHOICES, ...more) as Film;

/** What every film is: stills and cues in order, within it, cues never over one another. */
function expectWhole({ stills, cues, scenes, endSeconds, sound }: Film): void {
  expect(stills[0]?.startSeconds).toBe(0);
  for (const [index, still] of stills.entries()) {
    if (index > 0) expect(still.startSeconds).toBeGreaterThan(stills[index - 1]?.startSeconds ?? 0);
    expect(still.startSeconds).toBeLessThan(endSeconds);
  }
  for (const [index, cue] of cues.entries()) {
    expect(cue.endSeconds).toBeGreaterThan(cue.startSeconds);
    expect(cue.startSeconds).toBeGreaterThanOrEqual((cues[index - 1]?.endSeconds ?? 0) - 1e-9);
  }
  expect(scenes.at(-1)?.endSeconds).toBe(endSeconds);
  for (const event of sound.events) expect(sound.players[event.player]).toBeDefined();
}

describe('a lesson as a film', () => {
  const film = filmOf(TUNE);

  it('has every usual scene without a choice, each filled', () => {
    expect(film.scenes.map(({ kind }) => kind)).toEqual(['title', 'idea', 'position', 'play', 'play', 'end']);
    expectWhole(film);
    const codes = new Set(film.cues.map(({ said }) => said.code));
    for (const code of ['title', 'idea.chord', 'idea.scale', 'idea.family', 'idea.rubs', 'position.thumb'] as const) {
      expect(codes).toContain(code);
    }
  });

  it('moves the thumb on the beat that the chart has it on', () => {
    // at 120 a bar lasts two seconds; one bar is counted before
    const play = film.scenes.find(({ kind }) => kind === 'play');
    const from = play?.startSeconds ?? 0;
    const chords = film.stills
      .filter(({ startSeconds }) => startSeconds > from && startSeconds < (play?.endSeconds ?? 0))
      .map(({ startSeconds, picture: { now } }) => ({ at: startSeconds - from, symbol: now?.chord?.symbol }))
      .filter(({ symbol }, index, all) => symbol !== undefined && symbol !== all[index - 1]?.symbol)
      .map(({ at }) => Math.round(at * 1000) / 1000);
    expect(chords).toEqual([2, 4, 6, 10, 12, 14, 16, 17]);
  });

  it('says no more than there is time for: where chords come fast, several in one', () => {
    const play = film.scenes.find(({ kind }) => kind === 'play');
    const said = film.cues.filter(
      ({ said: { code }, startSeconds }) => code.startsWith('play.thumb') && startSeconds < (play?.endSeconds ?? 0),
    );
    // a bar lasts two seconds: two chords are named together, unless it is the last
    expect(said.slice(0, -1).every(({ startSeconds, endSeconds }) => endSeconds - startSeconds > 2.05)).toBe(true);
    const slow = filmOf(TUNE.replace('120', '50'));
    expect(slow.cues.filter(({ said: { code } }) => code === 'play.thumb').length).toBeGreaterThan(6);
  });

  it('writes out a hand note by note as its fingers come', () => {
    const position = film.scenes.find(({ kind }) => kind === 'position');
    const named = film.stills
      .filter(
        ({ startSeconds }) =>
          startSeconds >= (position?.startSeconds ?? 0) && startSeconds < (position?.endSeconds ?? 0),
      )
      .map(({ picture: { card, keyboard } }) => [card?.kind === 'hand' ? card.named : null, keyboard?.hand?.fingers]);
    expect(named.map(([each]) => each)).toEqual(named.map(([, fingers]) => fingers));
    expect(named.at(-1)).toEqual([5, 5]);
  });

  it('plays a stretch of bars alone, led in by its count', () => {
    const cut = filmOf(TUNE, { bars: { from: 5, to: 6 }, playOnly: true });
    expectWhole(cut);
    expect(cut.scenes.map(({ endSeconds }) => endSeconds)).toEqual([6, 14]);
    expect(new Set(cut.stills.map(({ picture }) => picture.bar))).toEqual(new Set([null, 4, 5]));
    const early = cut.sound.events.filter(({ startSeconds }) => startSeconds < 1.9);
    expect(early.every(({ player }) => cut.sound.players[player]?.plays === 'drums')).toBe(true);
    const bass = cut.sound.events.filter(({ player }) => cut.sound.players[player]?.plays === 'bass');
    expect(bass[0]?.startSeconds).toBeCloseTo(2, 1);
  });

  it("says the teacher's words in place of its own, in the picture too", () => {
    const scenes = [sceneOf('position', { words: 'Let the wrist float.' }), sceneOf('play', { words: 'Now we play.' })];
    const own = makeFilm(chartOf(TUNE), { ...DEFAULT_CHOICES, film: scenes }) as Film;
    expectWhole(own);
    expect(own.cues[0]?.said).toEqual({ code: 'own', text: 'Let the wrist float.' });
    expect(own.stills[0]?.picture.caption).toEqual({ code: 'own', text: 'Let the wrist float.' });
    expect(own.cues[1]?.said).toEqual({ code: 'own', text: 'Now we play.' });
    expect(own.cues[2]?.said.code).toBe('play.thumbs');
  });

  it('goes on in another key from a change of key', () => {
    const key = parseKey('A major') as Key;
    const scenes = [sceneOf('play'), sceneOf('key change', { key }), sceneOf('play')];
    const two = makeFilm(chartOf(TUNE), { ...DEFAULT_CHOICES, film: scenes }) as Film;
    expectWhole(two);
    expect(two.scenes.map((scene) => formatKey(scene.key))).toEqual(['Eb major', 'A major', 'A major']);
    expect(two.lessons).toHaveLength(2);
  });

  it.each([
    ['a pickup', 'key: C major\npickup: 2\nA:\n| G7 |\n| Cmaj7 | Dm7 | G7 | Cmaj7 |\n'],
    ['no chord at all', 'key: C major\n| N.C. | N.C. |\n'],
    ['one bar of three', 'key: C major\nmeter: 3/4\n| Cmaj7 |\n'],
    ['repeats', 'key: F major\n|: Gm7 | C7 :| Fmaj7 | % |\n'],
  ])('is whole whatever the chart: %s', (_what, text) => {
    expectWhole(filmOf(text));
  });
});

it('reads a score in lines of up to four bars, begun anew with each section', () => {
  const bars = (...sections: number[]) =>
    sections.flatMap((count, at) =>
      Array.from({ length: count }, (_, index) => ({ section: index === 0 ? `${at}` : null, isPickup: false })),
    );
  expect(lineBars(bars(8, 4)).map(({ from, to }) => [from, to])).toEqual([
    [0, 4],
    [4, 8],
    [8, 12],
  ]);
  expect(lineBars(bars(6)).map(({ from, to }) => to - from)).toEqual([3, 3]);
  expect(lineBars([{ section: null, isPickup: true }, ...bars(4)]).map(({ from, to }) => [from, to])).toEqual([[0, 5]]);
});

describe('a voice laid under a scene', () => {
  const key = parseKey('Eb major') as Key;
  const HASH = 'ab'.repeat(32);
  const voiced = (kind: SceneKind, seconds: number, own = key) =>
    sceneOf(kind, { voice: { name: 'spoken.wav', hash: HASH, seconds, key: own } });
  const made = (scenes: readonly Scene[], voices: readonly string[] = [HASH]): Film =>
    makeFilm(chartOf(TUNE), { ...DEFAULT_CHOICES, film: scenes }, { voices }) as Film;
  const lengths = ({ scenes }: Film): number[] =>
    scenes.map(({ startSeconds, endSeconds }) => endSeconds - startSeconds);

  it('gives the scene its length: cards as long as it, what is shown slower or faster within bounds', () => {
    const bare = lengths(made([sceneOf('idea'), sceneOf('position')]));
    const film = made([voiced('title', 7.5), voiced('idea', 25), voiced('position', 300), voiced('end', 0.2)]);
    expectWhole(film);
    const [title, idea, position, end] = lengths(film);
    expect(title).toBeCloseTo(7.5, 6);
    expect(idea).toBeCloseTo(25, 6);
    expect(position).toBeCloseTo(300, 6);
    expect(end).toBeCloseTo(1.5, 6);
    expect(film.voices.map(({ startSeconds }) => startSeconds)).toEqual(
      film.scenes.map(({ startSeconds }) => startSeconds),
    );
    // what is said is seen to the scene's end
    expect(film.cues.filter(({ endSeconds }) => Math.abs(endSeconds - (7.5 + 25 + 300)) < 1e-6)).toHaveLength(1);
    const [short] = lengths(made([voiced('idea', 1)]));
    expect(short).toBeCloseTo((bare[0] as number) * 0.6, 6);
    // notes come when their letters do, though everything goes slower
    const [first] = film.sound.events.filter(({ startSeconds }) => startSeconds > 7.5);
    const stretch = 25 / (bare[0] as number);
    expect(first?.startSeconds).toBeCloseTo(7.5 + 1.2 * stretch, 6);
  });

  it('leaves a chorus its time, and waits behind it', () => {
    const [plain] = lengths(made([sceneOf('play'), sceneOf('end')]));
    const [held] = lengths(made([voiced('play', (plain as number) + 4), sceneOf('end')]));
    const [kept] = lengths(made([voiced('play', 3), sceneOf('end')]));
    expect(held).toBeCloseTo((plain as number) + 4, 6);
    expect(kept).toBeCloseTo(plain as number, 6);
    expectWhole(made([voiced('play', 60)]));
  });

  it('is left out where its sound is not at hand or it speaks of another key, and that is told', () => {
    const other = parseKey('C major') as Key;
    const film = made([sceneOf('title'), voiced('title', 9), voiced('end', 9, other)], []);
    expect(film.leftOut.map(({ scene, why }) => [scene, why])).toEqual([
      [1, 'missing'],
      [2, 'another key'],
    ]);
    expect(lengths(film)).toEqual([5, 5, 7]);
    expect(film.voices).toEqual([]);
  });
});
