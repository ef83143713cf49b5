import { describe, expect, it } from 'vitest';
import { analyse, NO_ANALYSIS_PINS } from '../../analysis/index.ts';
import { inventedChart } from '../../parts/invented-plan.ts';
import { phrasesOf } from '../../parts/index.ts';
import { TRIO_PLAYERS } from '../../performance/index.ts';
import { parseKey, type Key } from '../../theory/index.ts';
import { DEFAULT_CHOICES } from '../lesson.ts';
import { makeLesson } from '../make-lesson.ts';
import {
  inTurn,
  NO_AIDS,
  playLessons,
  programmeMinutes,
  type HeardPlayer,
  type PlayedProgramme,
  type PracticeAids,
  type Programme,
} from './index.ts';
import { clicksOf } from './metronome.ts';

const TUNE = `title: Try\nkey: Eb major\nA:\n${'| Fm7 | Bb7 | Ebmaj7 | % |\n'.repeat(2)}`;
const E_FLAT = parseKey('Eb major') as Key;
const BAR_SECONDS = 2;

function programmeOf(aids: Partial<PracticeAids>, more: Partial<Programme> = {}): Programme {
  return {
    setUp: 'trio',
    swing: 'measured',
    voicings: 'rootless',
    countInBars: 2,
    aids: { ...NO_AIDS, ...aids },
    choruses: inTurn({ keys: [E_FLAT], tempi: [120], choruses: 2, players: TRIO_PLAYERS }),
    ...more,
  };
}

/** One lesson for all: what is tried here is how it is played. */
const lesson = makeLesson(inventedChart(TUNE), DEFAULT_CHOICES, E_FLAT);
const play = (aids: Partial<PracticeAids>, more: Partial<Programme> = {}): PlayedProgramme =>
  playLessons(() => lesson, 1, programmeOf(aids, more)) as PlayedProgramme;

const by = ({ players, events }: PlayedProgramme, plays: HeardPlayer) =>
  events.filter((event) => players[event.player]?.plays === plays);
const kindsOf = ({ segments }: PlayedProgramme): string[] =>
  segments.map(({ kind, durationTicks }) => `${kind} ${durationTicks / 3840}`);

describe('a rest between rounds', () => {
  it('stands between choruses, counted by the sticks, everybody else silent', () => {
    const played = play({ restBars: 1 });
    expect(kindsOf(played)).toEqual(['count-in 2', 'chorus 8', 'rest 1', 'chorus 8', 'ending 1']);
    const rest = played.segments[2]!;
    const within = played.events.filter(
      ({ startSeconds }) => startSeconds > rest.startSeconds + 0.1 && startSeconds < rest.startSeconds + 1.9,
    );
    // one, two, three, four: the first on the line itself
    expect(within).toHaveLength(3);
    expect(within.every(({ midi }) => midi === 31)).toBe(true);
  });

  it('is the count-in where the tempo changes, and as long as was wished', () => {
    const choruses = inTurn({ keys: [E_FLAT], tempi: [100, 120], choruses: 1, players: TRIO_PLAYERS });
    expect(kindsOf(play({ restBars: 3 }, { choruses }))).toEqual([
      'count-in 2',
      'chorus 8',
      'count-in 3',
      'chorus 8',
      'ending 1',
    ]);
  });

  it('is counted in what a programme takes', () => {
    const chart = inventedChart(TUNE);
    const { form } = analyse(chart, NO_ANALYSIS_PINS);
    for (const restBars of [0, 1, 4]) {
      const programme = programmeOf({ restBars });
      const { endSeconds } = play({ restBars });
      expect(programmeMinutes(chart, form, programme) * 60).toBeCloseTo(endSeconds, 6);
    }
  });
});

describe('a metronome', () => {
  it.each([
    ['every beat', [0, 1, 2, 3]],
    ['two and four', [1, 3]],
  ] as const)(
    'on %s is exactly on the beat, through rests too, and leaves the others as they were',
    (metronome, beats) => {
      const played = play({ metronome, restBars: 1 });
      const clicks = by(played, 'metronome').map(({ startSeconds }) => startSeconds);
      // 17 bars after two of count-in; none in the last bar
      const due = Array.from({ length: 17 }, (_, bar) =>
        beats.map((beat) => (2 + bar) * BAR_SECONDS + beat / 2),
      ).flat();
      expect(clicks).toHaveLength(due.length);
      for (const [index, seconds] of due.entries()) expect(clicks[index]).toBeCloseTo(seconds, 9);
      const without = play({ restBars: 1 });
      for (const player of ['right hand', 'left hand', 'bass'] as const)
        expect(by(played, player)).toEqual(by(without, player));
    },
  );

  it.each([
    [{ count: 6, unit: 8 }, 2880, [1440]],
    [{ count: 3, unit: 4 }, 2880, [960]],
    [{ count: 5, unit: 4 }, 4800, [960, 2880]],
  ] as const)('on two and four in %o', (meter, durationTicks, ticks) => {
    expect(clicksOf('two and four', [{ startTicks: 0, durationTicks, meter }]).map((click) => click.ticks)).toEqual(
      ticks,
    );
  });
});

describe('a demonstration that leaves time to answer', () => {
  it('plays whole phrases in turn, the others the next time: together all of the line', () => {
    const { chorus } = lesson;
    const phrases = phrasesOf(chorus);
    const one = { choruses: programmeOf({}).choruses.slice(0, 1) };
    const heard = by(play({ answers: 'phrases' }, one), 'right hand');
    const all = by(play({}, one), 'right hand');
    expect(all).toHaveLength(chorus.length);
    expect(heard).toHaveLength(phrases.filter((_, index) => index % 2 === 0).flat().length);
    const { trades } = play({ answers: 'phrases' }, one).segments[1]!;
    expect(new Set(trades.map(({ isCall }) => isCall)).size).toBe(2);
  });

  it('says whose turn it is by the bars, the other way round the next time', () => {
    const [, first, second] = play({ answers: 'fours' }).segments;
    const turns = [0, 4].map((bar) => bar * 3840);
    expect(first?.trades).toEqual(turns.map((startTicks, index) => ({ startTicks, isCall: index % 2 === 0 })));
    expect(second?.trades).toEqual(turns.map((startTicks, index) => ({ startTicks, isCall: index % 2 === 1 })));
  });

  it('needs the right hand in it, and is nothing without', () => {
    const choruses = inTurn({ keys: [E_FLAT], tempi: [120], choruses: 1, players: ['bass'] });
    expect(play({ answers: 'twos' }, { choruses }).segments.every(({ trades }) => trades.length === 0)).toBe(true);
  });
});
