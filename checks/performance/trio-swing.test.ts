/**
 * How the trio swings, against recordings. Sources: Jazz Trio Database and Groove MIDI Dataset (checks/performance/swing-recordings.ts,
 * where both are named with their licences): quartiles over all beats of the recordings in a band of tempo, computed here (C).
 * Friberg & Sundström 2002, abstract (R): the ride's short note is about 100 ms; its ratio at four tempi computed (C).
 */
import { describe, expect, test } from 'vitest';
import {
  DEFAULT_CHOICES,
  NO_AIDS,
  playProgramme,
  readChart,
  trioSwing,
  type PlayedProgramme,
  type SwingSource,
} from '@fivespan/core';
import { median, quantile } from '../jtd.ts';
import { BANDS, ENOUGH, HAS_RECORDINGS, pairsOf, pooledIn, ratioOf, recordedTakes } from './swing-recordings.ts';

const RIDE = 51;
const CHORUSES = 6;

function playedAt(tempoBpm: number, swing: SwingSource = 'measured', feel = 'swing'): PlayedProgramme {
  const text = `title: Swing check\nkey: Eb major\nfeel: ${feel}\nA:\n| Fm7 | Bb7 | Ebmaj7 | C7 | Fm7 | Bb7 | Ebmaj7 | % |\n| Fm7 | Bb7 | Ebmaj7 | C7 | Fm7 | Bb7 | Ebmaj7 | % |\n`;
  const chart = readChart(text);
  if (!chart.ok) throw new TypeError('text must be a chart');
  const key = chart.value.key!;
  const choruses = Array.from({ length: CHORUSES }, () => ({
    key,
    tempoBpm,
    players: ['right hand', 'left hand', 'bass', 'drums'] as const,
  }));
  const programme = {
    setUp: 'trio',
    swing,
    voicings: 'rootless',
    countInBars: 0,
    aids: NO_AIDS,
    choruses,
  } as const;
  return playProgramme(chart.value, { ...DEFAULT_CHOICES, level: 2 }, programme)!;
}

/** Onsets of a player, of one key where it is given, each chord once. */
function onsetsOf({ players, events }: PlayedProgramme, plays: string, key?: number): number[] {
  const onsets = events
    .filter((event) => players[event.player]!.plays === plays && (key === undefined || event.midi === key))
    .map((event) => event.startSeconds);
  return onsets.filter((onset, index) => index === 0 || onset - onsets[index - 1]! > 0.005);
}

function beatLines({ segments }: PlayedProgramme): number[] {
  return segments
    .filter(({ kind }) => kind === 'chorus')
    .flatMap(({ startSeconds, durationTicks, tempoBpm }) =>
      Array.from({ length: durationTicks / 960 }, (_, beat) => startSeconds + (beat * 60) / tempoBpm),
    );
}

const ratios = (played: PlayedProgramme, plays: string, key?: number): number[] =>
  pairsOf(beatLines(played), onsetsOf(played, plays, key)).map(ratioOf);

/** How far a player is behind the ride where both play on a beat, ms. */
function lateMs(played: PlayedProgramme, plays: string): number[] {
  const ride = onsetsOf(played, 'drums', RIDE);
  const own = onsetsOf(played, plays);
  const near = (onsets: readonly number[], line: number): number | undefined =>
    onsets.find((each) => Math.abs(each - line) < 0.05);
  return beatLines(played).flatMap((line) => {
    const [a, b] = [near(own, line), near(ride, line)];
    return a === undefined || b === undefined ? [] : [(a - b) * 1000];
  });
}

describe.skipIf(!HAS_RECORDINGS)(`against recordings${HAS_RECORDINGS ? '' : ': open data not here'}`, () => {
  const takes = HAS_RECORDINGS ? recordedTakes() : [];
  const inside = (band: (typeof BANDS)[number], measure: Parameters<typeof pooledIn>[2], value: number): void => {
    const all = pooledIn(takes, band, measure);
    if (all.length < ENOUGH) return;
    expect(value, measure).toBeGreaterThanOrEqual(quantile(all, 0.25));
    expect(value, measure).toBeLessThanOrEqual(quantile(all, 0.75));
  };

  test('there are recordings in every band', () => {
    expect(takes.length).toBeGreaterThanOrEqual(20);
    for (const band of BANDS) expect(pooledIn(takes, band, 'ride').length).toBeGreaterThanOrEqual(ENOUGH);
  });

  test.each(BANDS)('at $at bpm our defaults lie inside the quartiles of the recordings', (band) => {
    const { drums, soloist, bass } = trioSwing(60 / band.at, 'swing', 'measured');
    inside(band, 'ride', drums.ratio);
    inside(band, 'soloist', soloist.ratio);
    inside(band, 'soloistLateOn', soloist.delaySeconds * 1000);
    inside(band, 'bassLateOn', bass.delaySeconds * 1000);
    // and are their medians, to the figures the table is written with
    expect(drums.ratio).toBeCloseTo(median(pooledIn(takes, band, 'ride')), 1);
  });

  test.each(BANDS)('at $at bpm ride, soloist and bass as played lie inside the quartiles', (band) => {
    const played = playedAt(band.at);
    const ride = ratios(played, 'drums', RIDE);
    const soloist = ratios(played, 'right hand');
    expect(ride.length).toBeGreaterThan(50);
    expect(soloist.length).toBeGreaterThan(20);
    inside(band, 'ride', median(ride));
    inside(band, 'soloist', median(soloist));
    inside(band, 'soloistLateOn', median(lateMs(played, 'right hand')));
    inside(band, 'bassLateOn', median(lateMs(played, 'bass')));
  });

  test('off-beats of soloist and ride meet as near as in the recordings, at every tempo that has them', () => {
    for (const band of BANDS) {
      const { drums, soloist } = trioSwing(60 / band.at, 'swing', 'measured');
      const offMs = ({ ratio, delaySeconds }: typeof drums): number =>
        (delaySeconds + ((60 / band.at) * ratio) / (ratio + 1)) * 1000;
      inside(band, 'soloistLateOff', offMs(soloist) - offMs(drums));
    }
  });
});

describe('the published curve', () => {
  test.each([
    [150, 3.0],
    [200, 2.0],
    [240, 1.5],
    [300, 1.0],
  ])('at %i bpm is %f : 1 (C), set and as played', (bpm, ratio) => {
    expect(trioSwing(60 / bpm, 'swing', 'published').drums.ratio).toBeCloseTo(ratio, 9);
    // the drummer strays by at most 6 ms a stroke: the median comes within a tenth of the short note's change
    expect(Math.abs(median(ratios(playedAt(bpm, 'published'), 'drums', RIDE)) - ratio)).toBeLessThan(0.15);
  });
});

test('an even feel is straight (common practice)', () => {
  for (const bpm of [90, 150, 220]) {
    expect(median(ratios(playedAt(bpm, 'measured', 'even'), 'right hand'))).toBeCloseTo(1, 1);
  }
});
