import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { phrasesOf } from '../../parts/index.ts';
import { anyChartText, inventedChart } from '../../parts/invented-plan.ts';
import { analyse, NO_ANALYSIS_PINS } from '../../analysis/index.ts';
import { TRIO_PLAYERS, type TrioPlayer } from '../../performance/index.ts';
import { formatKey, parseKey, pitchClassOf, type Key } from '../../theory/index.ts';
import { DEFAULT_CHOICES } from '../lesson.ts';
import { makeLesson } from '../make-lesson.ts';
import {
  inTurn,
  keysAlong,
  KEY_CYCLES,
  NO_AIDS,
  playProgramme,
  type PlayedProgramme,
  type Programme,
} from './index.ts';

const TUNE = 'title: Try\nkey: Eb major\nA:\n| Fm7 | Bb7 | Ebmaj7 | % |\nB:\n| Abm7 | Db7 | Ebmaj7 | Fm7 Bb7 |\n';
const E_FLAT = parseKey('Eb major') as Key;
const BAR = 3840;

function play(text: string, more: Partial<Programme> = {}, choices = DEFAULT_CHOICES): PlayedProgramme {
  const chart = inventedChart(text);
  const { key } = analyse(chart, NO_ANALYSIS_PINS);
  const choruses = inTurn({ keys: [key], tempi: [120], choruses: 2, players: TRIO_PLAYERS });
  return playProgramme(chart, choices, {
    setUp: 'trio',
    swing: 'measured',
    voicings: 'rootless',
    countInBars: 2,
    aids: NO_AIDS,
    choruses,
    ...more,
  })!;
}

const by = ({ players, events }: PlayedProgramme, plays: TrioPlayer) =>
  events.filter((event) => players[event.player]!.plays === plays);
const mean = (values: readonly number[]): number => values.reduce((sum, each) => sum + each, 0) / values.length;

describe('keysAlong', () => {
  // common practice: round the circle of fourths; whole steps close after six
  it('goes round and closes', () => {
    expect(keysAlong(E_FLAT, 'fourths').map(formatKey).slice(0, 4)).toEqual([
      'Eb major',
      'Ab major',
      'Db major',
      'Gb major',
    ]);
    for (const cycle of KEY_CYCLES) {
      const tonics = keysAlong(E_FLAT, cycle).map(({ tonic }) => pitchClassOf(tonic));
      expect(new Set(tonics).size).toBe(tonics.length);
      // twelve half steps, parted by the cycle's own: one, five and seven go round all twelve
      const closing = { 'whole steps up': 6, 'minor thirds up': 4, 'major thirds up': 3 };
      expect(tonics).toHaveLength(Object.entries(closing).find(([name]) => name === cycle)?.[1] ?? 12);
    }
  });
});

describe('playProgramme', () => {
  it('lasts as long as its bars: two of count-in, two choruses of eight, one that ends it', () => {
    const { segments, endSeconds } = play(TUNE);
    expect(segments.map(({ kind, durationTicks }) => [kind, durationTicks / BAR])).toEqual([
      ['count-in', 2],
      ['chorus', 8],
      ['chorus', 8],
      ['ending', 1],
    ]);
    expect(endSeconds).toBeCloseTo(19 * 2, 9);
  });

  it('counts in: one, two, one two three four', () => {
    const played = play(TUNE);
    const sticks = by(played, 'drums').filter(({ midi }) => midi === 31);
    for (const [index, beat] of [0, 2, 4, 5, 6, 7].entries()) {
      // within the drummer's 6 ms
      expect(Math.abs(sticks[index]!.startSeconds - beat * 0.5)).toBeLessThanOrEqual(0.006);
    }
    expect(sticks).toHaveLength(6);
    expect(by(played, 'bass')[0]!.startSeconds).toBeGreaterThan(3.98);
  });

  it('plays the printed line and bass first, others after', () => {
    const { chorus, bass } = makeLesson(inventedChart(TUNE), DEFAULT_CHOICES, E_FLAT);
    const played = play(TUNE);
    const [, first, second] = played.segments;
    const within = (plays: TrioPlayer, from: number, to: number): number[] =>
      by(played, plays)
        .filter(({ startSeconds }) => startSeconds >= from - 0.1 && startSeconds < to - 0.1)
        .map(({ midi }) => midi);
    expect(within('right hand', first!.startSeconds, second!.startSeconds)).toHaveLength(chorus.length);
    expect(within('bass', first!.startSeconds, second!.startSeconds)).toHaveLength(bass.length);
    expect(within('right hand', second!.startSeconds, played.endSeconds)).not.toEqual(
      within('right hand', first!.startSeconds, second!.startSeconds),
    );
  });

  it('walks at its level in every chorus, not the first alone', () => {
    const secondBass = (level: 1 | 3): number[] => {
      const played = play(TUNE, {}, { ...DEFAULT_CHOICES, level });
      const from = played.segments[2]!.startSeconds - 0.1;
      return by(played, 'bass').flatMap(({ startSeconds, midi }) => (startSeconds >= from ? [midi] : []));
    };
    expect(secondBass(3)).not.toEqual(secondBass(1));
  });

  it('grows louder from chorus to chorus', () => {
    const choruses = inTurn({ keys: [E_FLAT], tempi: [120], choruses: 4, players: TRIO_PLAYERS });
    const played = play(TUNE, { choruses });
    const loudness = played.segments
      .filter(({ kind }) => kind === 'chorus')
      .map(({ startSeconds }) =>
        mean(
          by(played, 'bass')
            .filter((each) => each.startSeconds >= startSeconds && each.startSeconds < startSeconds + 15.5)
            .map(({ velocity }) => velocity),
        ),
      );
    for (const [index, loud] of loudness.slice(1).entries()) expect(loud).toBeGreaterThan(loudness[index]! + 1);
  });

  it('leaves out whom it is not asked for, and leaves the others as they were', () => {
    const all = play(TUNE);
    const some = play(TUNE, { choruses: inTurn({ keys: [E_FLAT], tempi: [120], choruses: 2, players: ['bass'] }) });
    expect(by(some, 'right hand')).toEqual([]);
    expect(by(some, 'bass').map(({ midi, startSeconds, velocity }) => [midi, startSeconds, velocity])).toEqual(
      by(all, 'bass').map(({ midi, startSeconds, velocity }) => [midi, startSeconds, velocity]),
    );
  });

  it('has the left hand walk where there is no bass', () => {
    const trio = play(TUNE);
    const solo = play(TUNE, { setUp: 'solo' });
    expect(by(solo, 'bass')).toEqual([]);
    expect(by(solo, 'left hand').map(({ midi }) => midi)).toEqual(by(trio, 'bass').map(({ midi }) => midi));
  });

  it('comps with shells where asked: two notes, the root lowest', () => {
    const shells = by(play(TUNE, { voicings: 'shells' }), 'left hand');
    const rootless = by(play(TUNE), 'left hand');
    expect(Math.min(...shells.map(({ midi }) => midi))).toBeLessThan(Math.min(...rootless.map(({ midi }) => midi)));
    // a chord's two keys lie at most 5 ms apart, the lowest first; chords far more
    for (let index = 0; index < shells.length; index += 2) {
      const [low, high, next] = shells.slice(index, index + 3);
      expect(high!.startSeconds - low!.startSeconds).toBeLessThanOrEqual(0.005 + 1e-9);
      expect(high!.midi).toBeGreaterThan(low!.midi);
      if (next !== undefined) expect(next.startSeconds - high!.startSeconds).toBeGreaterThan(0.05);
    }
  });

  it('counts in again where the tempo changes, and takes brushes where it is slow', () => {
    const choruses = inTurn({ keys: [E_FLAT], tempi: [60, 120], choruses: 1, players: TRIO_PLAYERS });
    const { segments, players } = play(TUNE, { choruses });
    expect(segments.map(({ kind, tempoBpm }) => `${kind} ${tempoBpm}`)).toEqual([
      'count-in 60',
      'chorus 60',
      'count-in 120',
      'chorus 120',
      'ending 120',
    ]);
    expect(players.map(({ instrument }) => instrument)).toEqual(expect.arrayContaining(['brush kit', 'jazz kit']));
  });

  it('plays a key as another key, moved: the same rhythm of the drums, the bass on other notes', () => {
    const choruses = inTurn({ keys: keysAlong(E_FLAT, 'fourths'), tempi: [120], choruses: 1, players: TRIO_PLAYERS });
    const { segments } = play(TUNE, { choruses });
    expect(segments.filter(({ kind }) => kind === 'chorus').map(({ key }) => formatKey(key))).toEqual(
      keysAlong(E_FLAT, 'fourths').map(formatKey),
    );
  });

  it('holds for any chords in any metre: in order, in range, no key struck again while it is held, ends after the last beat', () => {
    fc.assert(
      fc.property(
        anyChartText,
        fc.integer({ min: 40, max: 320 }),
        fc.nat(99),
        fc.constantFrom('trio', 'solo'),
        (text, tempo, seed, setUp) => {
          const chart = inventedChart(text);
          const { key } = analyse(chart, NO_ANALYSIS_PINS);
          const choruses = inTurn({ keys: [key], tempi: [tempo], choruses: 2, players: TRIO_PLAYERS });
          const played = play(text, { choruses, setUp }, { ...DEFAULT_CHOICES, seed });
          let before = 0;
          const heldUntil = new Map<string, number>();
          for (const { startSeconds, durationSeconds, midi, velocity, player } of played.events) {
            expect(startSeconds).toBeGreaterThanOrEqual(before);
            before = startSeconds;
            expect(durationSeconds).toBeGreaterThan(0);
            expect(midi >= 21 && midi <= 108 && Number.isInteger(velocity) && velocity >= 1 && velocity <= 127).toBe(
              true,
            );
            const place = `${player} ${midi}`;
            expect(startSeconds).toBeGreaterThanOrEqual((heldUntil.get(place) ?? 0) - 1e-9);
            heldUntil.set(place, startSeconds + durationSeconds);
          }
          expect(before).toBeLessThan(played.endSeconds);
        },
      ),
      { seed: 20_261_125, numRuns: 40 },
    );
  });

  it('strays in time within its bounds, from note to note rather than at random', () => {
    const choruses = inTurn({ keys: [E_FLAT], tempi: [120], choruses: 12, players: ['bass'] });
    const bass = by(play(TUNE.replace('key:', 'feel: even\nkey:'), { choruses, countInBars: 0 }), 'bass').slice(0, -1);
    const late = bass.map(({ startSeconds }) => startSeconds - Math.round(startSeconds / 0.25) * 0.25);
    expect(late.length).toBeGreaterThan(300);
    // docs/sound.md: the bass by at most 9 ms
    for (const each of late) expect(Math.abs(each)).toBeLessThanOrEqual(0.009 + 1e-9);
    const average = mean(late);
    const together = mean(late.slice(1).map((each, index) => (each - average) * (late[index]! - average)));
    expect(together / mean(late.map((each) => (each - average) ** 2))).toBeGreaterThan(0.5);
  });

  it('leans back in the line: later at the end of a phrase than at its beginning', () => {
    const firsts: number[] = [];
    const lasts: number[] = [];
    const text = TUNE.replace('key:', 'feel: even\nkey:');
    for (let seed = 1; seed <= 12; seed++) {
      const choices = { ...DEFAULT_CHOICES, seed };
      const { chorus } = makeLesson(inventedChart(text), choices, E_FLAT);
      const choruses = inTurn({ keys: [E_FLAT], tempi: [120], choruses: 1, players: ['right hand'] });
      const line = by(play(text, { choruses, countInBars: 0 }, choices), 'right hand');
      expect(line).toHaveLength(chorus.length);
      const late = new Map(chorus.map((note, index) => [note, line[index]!.startSeconds - note.startTicks / 1920]));
      for (const phrase of phrasesOf(chorus).filter(({ length }) => length > 1)) {
        firsts.push(late.get(phrase[0]!)!);
        lasts.push(late.get(phrase.at(-1)!)!);
      }
    }
    expect(firsts.length).toBeGreaterThan(30);
    // 10 ms are meant; each note strays by up to 15
    expect(mean(lasts) - mean(firsts)).toBeGreaterThan(0.005);
    for (const each of [...firsts, ...lasts]) expect(Math.abs(each)).toBeLessThanOrEqual(0.02 + 1e-9);
  });

  it('leads the bass into the next key: half a step from a new chorus to the next one', () => {
    const keys = keysAlong(E_FLAT, 'fourths');
    const played = play(TUNE, { choruses: inTurn({ keys, tempi: [120], choruses: 2, players: ['bass'] }) });
    const seams = played.segments.filter(({ kind, time }) => kind === 'chorus' && time === 1).slice(1);
    expect(seams).toHaveLength(11);
    const ways = seams.map(({ startSeconds }) => {
      const before = by(played, 'bass').findLast((each) => each.startSeconds < startSeconds - 0.1)!;
      const after = by(played, 'bass').find((each) => each.startSeconds > startSeconds - 0.1)!;
      return after.midi - before.midi;
    });
    // by a half step, a scale step or its dominant (common practice); never on the same key
    for (const way of ways) expect(way).not.toBe(0);
    expect(ways.filter((way) => Math.abs(way) === 1).length).toBeGreaterThan(5);
  });

  it('leads a pickup in while the sticks count, once', () => {
    const played = play(`key: C major\npickup: 2\nA:\n| G7 |\n| Cmaj7 | Dm7 | G7 | Cmaj7 |\n`);
    expect(played.segments[0]).toMatchObject({ kind: 'count-in', durationTicks: 2 * BAR });
    const early = by(played, 'bass').filter(({ startSeconds }) => startSeconds < 3.9);
    for (const { startSeconds } of early) expect(startSeconds).toBeGreaterThan(2.9);
  });

  it('stops when cancelled and says how far it is', () => {
    const chart = inventedChart(TUNE);
    const choruses = inTurn({ keys: [E_FLAT], tempi: [120], choruses: 3, players: ['bass'] });
    const told: string[] = [];
    const programme: Programme = {
      setUp: 'trio',
      swing: 'measured',
      voicings: 'rootless',
      countInBars: 0,
      aids: NO_AIDS,
      choruses,
    };
    const stopped = playProgramme(chart, DEFAULT_CHOICES, programme, {
      report: (done, total) => told.push(`${done}/${total}`),
      cancelled: () => told.length === 2,
    });
    expect(stopped).toBeUndefined();
    expect(told).toEqual(['1/3', '2/3']);
  });

  it('refuses what is no programme', () => {
    expect(() => play(TUNE, { choruses: [] })).toThrow(/choruses must hold/u);
    expect(() => play(TUNE, { countInBars: 1.5 })).toThrow(/countInBars must be/u);
    expect(() => inTurn({ keys: [], tempi: [90], choruses: 1, players: ['bass'] })).toThrow(RangeError);
  });
});
