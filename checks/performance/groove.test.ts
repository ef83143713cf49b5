/**
 * What the drums play and how hard, against recordings. Source: Groove MIDI Dataset (Gillick and others 2019, CC BY 4.0; named
 * in checks/performance/swing-recordings.ts): six jazz takes in 4/4, one in 3/4; shares and velocities computed here (C). Keys 36, 38, 44, 51: GM,
 * from memory (M).
 */
import { describe, expect, test } from 'vitest';
import { DEFAULT_CHOICES, inTurn, NO_AIDS, playProgramme, readChart } from '@fivespan/core';
import { median, quantile } from '../jtd.ts';
import { drumTakes, HAS_RECORDINGS, RIDE_KEYS } from './swing-recordings.ts';

interface Stroke {
  readonly beat: number;
  readonly key: number;
  readonly velocity: number;
}

/** Our drummer's second and third chorus at a tempo. */
function ourStrokes(tempoBpm: number): Stroke[] {
  const chart = readChart(
    'key: F major\nA:\n| Gm7 | C7 | Fmaj7 | D7 | Gm7 | C7 | Fmaj7 | % |\nB:\n| Cm7 | F7 | Bbmaj7 | % | Am7 | D7 | Gm7 | C7 |\n',
  );
  if (!chart.ok) throw new TypeError('text must be a chart');
  const choruses = inTurn({ keys: [chart.value.key!], tempi: [tempoBpm], choruses: 4, players: ['drums'] });
  const programme = {
    setUp: 'trio',
    swing: 'measured',
    voicings: 'rootless',
    countInBars: 0,
    aids: NO_AIDS,
    choruses,
  } as const;
  const { events } = playProgramme(chart.value, DEFAULT_CHOICES, programme)!;
  return events.map(({ startSeconds, midi, velocity }) => ({
    beat: (startSeconds * tempoBpm) / 60,
    key: midi,
    velocity,
  }));
}

/** The share of a drum's on-beat strokes that fall on two and four. */
function backbeatShare(strokes: readonly Stroke[], key: number): number {
  const beats = strokes.filter((each) => each.key === key && Math.abs(each.beat - Math.round(each.beat)) < 0.2);
  return beats.filter((each) => Math.round(each.beat) % 2 === 1).length / beats.length;
}

/** How often a beat of the ride is followed by its short note: after two and four, and after one and three. */
function shortNotes(strokes: readonly Stroke[]): { readonly afterBackbeat: number; readonly afterOther: number } {
  const rides = strokes.filter(({ key }) => RIDE_KEYS.includes(key)).map(({ beat }) => beat);
  const last = Math.floor(Math.max(...rides));
  const followed = [0, 0];
  for (let beat = 0; beat < last; beat++) {
    if (rides.some((each) => each > beat + 0.4 && each < beat + 0.85)) followed[beat % 2]!++;
  }
  return { afterBackbeat: followed[1]! / (last / 2), afterOther: followed[0]! / (last / 2) };
}

/** The share of bars of four that have the ride's plain pattern: every beat, and the short note after two and four. */
function plainBars(strokes: readonly Stroke[]): number {
  const rides = strokes.filter(({ key }) => RIDE_KEYS.includes(key)).map(({ beat }) => beat);
  const bars = Math.floor(Math.max(...rides) / 4);
  const pattern = (bar: number): string =>
    [0, 1, 2, 3]
      .map((beat) => bar * 4 + beat)
      .map((at) => {
        const isOn = rides.some((each) => Math.abs(each - at) < 0.2);
        const isFollowed = rides.some((each) => each > at + 0.4 && each < at + 0.85);
        return `${isOn ? 'X' : '.'}${isFollowed ? 'x' : '-'}`;
      })
      .join('');
  return Array.from({ length: bars }, (_, bar) => pattern(bar)).filter((each) => each === 'X-XxX-Xx').length / bars;
}

/** The share of beats that the ride strikes. */
function riddenBeats(strokes: readonly Stroke[]): number {
  const rides = strokes.filter(({ key }) => RIDE_KEYS.includes(key)).map(({ beat }) => beat);
  const beats = Array.from({ length: Math.floor(Math.max(...rides)) }, (_, beat) => beat);
  return beats.filter((at) => rides.some((each) => Math.abs(each - at) < 0.2)).length / beats.length;
}

const velocities = (strokes: readonly Stroke[], keys: readonly number[]): number[] =>
  strokes.filter(({ key }) => keys.includes(key)).map(({ velocity }) => velocity);

describe.skipIf(!HAS_RECORDINGS)(`against recordings${HAS_RECORDINGS ? '' : ': open data not here'}`, () => {
  const takes = HAS_RECORDINGS ? drumTakes() : [];
  const inFour = takes.filter(({ name }) => name.includes('4-4'));
  const tempi = [100, 125, 180];

  test('the takes are there', () => {
    expect(inFour).toHaveLength(6);
    for (const { strokes } of takes) expect(strokes.length).toBeGreaterThan(300);
  });

  test('the hi-hat foot marks two and four, as in every take it mostly does', () => {
    for (const { strokes } of inFour) expect(backbeatShare(strokes, 44)).toBeGreaterThan(0.5);
    for (const tempo of tempi) expect(backbeatShare(ourStrokes(tempo), 44)).toBe(1);
  });

  test('the ride has its short note after two and four more often than after one and three, as in every take', () => {
    for (const { strokes } of inFour) {
      const { afterBackbeat, afterOther } = shortNotes(strokes);
      expect(afterBackbeat).toBeGreaterThan(afterOther);
    }
    for (const tempo of tempi) {
      const { afterBackbeat, afterOther } = shortNotes(ourStrokes(tempo));
      expect(afterBackbeat).toBeGreaterThan(afterOther);
    }
  });

  test('the ride varies as in the takes: its beats, short notes and plain bars are as frequent as in one or another', () => {
    const measures = [
      (strokes: readonly Stroke[]) => shortNotes(strokes).afterBackbeat,
      (strokes: readonly Stroke[]) => shortNotes(strokes).afterOther,
      plainBars,
      riddenBeats,
    ];
    for (const measure of measures) {
      const recorded = inFour.map(({ strokes }) => measure(strokes));
      for (const tempo of tempi) {
        const ours = measure(ourStrokes(tempo));
        expect(ours).toBeGreaterThanOrEqual(Math.min(...recorded));
        expect(ours).toBeLessThanOrEqual(Math.max(...recorded));
      }
    }
  });

  test.each([
    ['ride', RIDE_KEYS],
    ['pedal hi-hat', [44]],
    ['snare', [38]],
    ['bass drum', [36]],
  ] as const)('the %s is struck as hard as in the takes: our median inside their quartiles', (_, keys) => {
    const recorded = takes.flatMap(({ strokes }) => velocities(strokes, keys));
    const ours = median(tempi.flatMap((tempo) => velocities(ourStrokes(tempo), keys)));
    expect(ours).toBeGreaterThanOrEqual(quantile(recorded, 0.25));
    expect(ours).toBeLessThanOrEqual(quantile(recorded, 0.75));
  });

  test('the snare speaks at least half as often as in the sparsest take, and less than in the busiest: there it is alone', () => {
    const aBar = (strokes: readonly Stroke[]): number =>
      velocities(strokes, [38]).length / (Math.max(...strokes.map(({ beat }) => beat)) / 4);
    const recorded = inFour.map(({ strokes }) => aBar(strokes));
    for (const tempo of tempi) {
      expect(aBar(ourStrokes(tempo))).toBeLessThan(Math.max(...recorded));
      expect(aBar(ourStrokes(tempo))).toBeGreaterThan(Math.min(...recorded) / 2);
    }
  });
});
