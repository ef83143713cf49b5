import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { answerOf, chordBegins, keyStruck, NEW_PASS, type HeardPass } from './heard-pass.ts';
import {
  afterPass,
  goTo,
  gonOn,
  isThrough,
  keptOf,
  LADDER_ORDERS,
  newLadder,
  rungOf,
  withLimit,
  type Ladder,
  type PassAnswer,
} from './ladder.ts';
import { answered, begins, csvOf, EMPTY_LOG, rests, secondsByDay, tempoByKey, ticks, type Log } from './log.ts';
import { isAllFound, newSearch, octaveFound, seek } from './until-found.ts';

const USUAL_CRITERION = { metPercent: 90, outsidePercent: 10 };
const TEMPI = [60, 70, 80, 90];
const KEYS = ['C major', 'F major', 'Bb major'];
const play = (ladder: Ladder, answers: readonly PassAnswer[], passes = 1): Ladder =>
  answers.reduce((now, answer) => afterPass(now, answer, passes), ladder);

test('where time stands the log has no tempo, and no key a fastest one', () => {
  const entry = { id: 'a', day: '2026-11-30', title: 'Ford', lessonId: 'l', step: 'until found', key: 'F major' };
  const entries = [{ ...entry, tempoBpm: null, seconds: 60, clean: 0, notYet: 0 }];
  expect(csvOf(entries).split('\r\n')[1]).toBe('2026-11-30,Ford,until found,F major,,60,0,0');
  expect(tempoByKey([{ ...entries[0]!, clean: 1 }])).toEqual([]);
});

describe('the ladder of tempi', () => {
  test.each(LADDER_ORDERS)('with clean passes alone goes through every key and tempo once: %s', (order) => {
    let ladder = newLadder(order, KEYS, TEMPI);
    const seen: string[] = [];
    for (let pass = 0; pass < KEYS.length * TEMPI.length; pass++) {
      const { key, tempoBpm } = rungOf(ladder);
      seen.push(`${key} ${tempoBpm}`);
      ladder = afterPass(ladder, 'clean', 1);
    }
    const byKey = KEYS.flatMap((key) => TEMPI.map((bpm) => `${key} ${bpm}`));
    const byTempo = TEMPI.flatMap((bpm) => KEYS.map((key) => `${key} ${bpm}`));
    expect(seen).toEqual(order === 'key by key' ? byKey : byTempo);
    expect(isThrough(ladder)).toBe(true);
    // at the top it stays
    expect(rungOf(afterPass(ladder, 'clean', 1))).toEqual(rungOf(ladder));
  });

  test('never leaves its keys and tempi; not yet never climbs; a step back is one step; the limit holds', () => {
    const answer = fc.constantFrom<PassAnswer>('clean', 'not yet');
    fc.assert(
      fc.property(
        fc.constantFrom(...LADDER_ORDERS),
        fc.array(answer, { maxLength: 60 }),
        fc.integer({ min: 1, max: 4 }),
        fc.integer({ min: 30, max: 120 }),
        (order, answers, passes, limit) => {
          let ladder = withLimit(newLadder(order, KEYS, TEMPI), limit);
          for (const each of answers) {
            const before = ladder;
            ladder = afterPass(ladder, each, passes);
            const { key, tempoBpm } = rungOf(ladder);
            expect(KEYS).toContain(key);
            expect(tempoBpm).toBeLessThanOrEqual(Math.max(limit, 0));
            if (each === 'not yet') {
              expect(ladder.key).toBe(before.key);
              const fell = (before.rungs[before.key] as number) - (ladder.rungs[ladder.key] as number);
              expect([0, 1]).toContain(fell);
            }
          }
        },
      ),
      { seed: 15 },
    );
  });

  test('climbs after as many clean passes in a row as are asked for, and steps back after two that are not yet', () => {
    const ladder = newLadder('key by key', KEYS, TEMPI);
    expect(rungOf(play(ladder, ['clean', 'clean', 'not yet', 'clean', 'clean'], 3)).tempoBpm).toBe(60);
    expect(rungOf(play(ladder, ['clean', 'clean', 'clean'], 3)).tempoBpm).toBe(70);
    expect(rungOf(play(ladder, ['clean', 'clean', 'not yet'])).tempoBpm).toBe(80);
    expect(rungOf(play(ladder, ['clean', 'clean', 'not yet', 'not yet'])).tempoBpm).toBe(70);
    expect(rungOf(play(ladder, ['not yet', 'not yet', 'not yet'])).tempoBpm).toBe(60);
  });

  test('is gone on with where it stood, and any rung may be chosen', () => {
    const stood = play(newLadder('tempo by tempo', KEYS, TEMPI), ['clean', 'clean', 'clean', 'clean']);
    expect(rungOf(gonOn(newLadder('tempo by tempo', KEYS, TEMPI), keptOf(stood)))).toEqual(rungOf(stood));
    // other tempi: the nearest below
    expect(rungOf(gonOn(newLadder('key by key', ['F major'], [55, 65, 75]), keptOf(stood))).tempoBpm).toBe(65);
    expect(rungOf(goTo(stood, 99, -3))).toEqual({ key: 'Bb major', tempoBpm: 60 });
  });
});

describe('a pass as it was heard', () => {
  const through = (chords: readonly (readonly boolean[])[]): HeardPass =>
    chords.reduce(
      (pass, keys, index) => keys.reduce((now, meant) => keyStruck(now, meant), chordBegins(pass, `${index}`)),
      NEW_PASS,
    );

  test('is clean by the criterion, not yet without it, and unknown where nothing was heard', () => {
    expect(answerOf(through([[], []]), USUAL_CRITERION)).toBeNull();
    expect(answerOf(through(Array.from({ length: 10 }, () => [true, true])), USUAL_CRITERION)).toBe('clean');
    expect(answerOf(through([...Array.from({ length: 8 }, () => [true]), [], []]), USUAL_CRITERION)).toBe('not yet');
    expect(answerOf(through(Array.from({ length: 10 }, () => [true, false])), USUAL_CRITERION)).toBe('not yet');
    expect(
      answerOf(through(Array.from({ length: 10 }, () => [true, false])), { metPercent: 90, outsidePercent: 50 }),
    ).toBe('clean');
  });

  test('counts what was struck; one more meant key never makes it worse, one more beside never better', () => {
    const rank = { 'not yet': 0, clean: 1 } as const;
    fc.assert(
      fc.property(fc.array(fc.array(fc.boolean(), { maxLength: 5 }), { minLength: 1, maxLength: 12 }), (chords) => {
        const pass = through([...chords, [true]]);
        expect(pass.struck).toBe(chords.flat().length + 1);
        expect(pass.met).toBeLessThanOrEqual(pass.chords);
        const of = (each: HeardPass): number => rank[answerOf(each, USUAL_CRITERION) ?? 'not yet'];
        expect(of(keyStruck(pass, true))).toBeGreaterThanOrEqual(of(pass));
        expect(of(keyStruck(pass, false))).toBeLessThanOrEqual(of(pass));
      }),
      { seed: 15 },
    );
  });

  test('a key within the delay after a change belongs to the chord before', () => {
    const pass = keyStruck(chordBegins(chordBegins(NEW_PASS, 'a'), 'b'), true, true);
    expect([pass.met, pass.before?.isMet, pass.now?.isMet]).toEqual([1, true, false]);
  });
});

describe('until found', () => {
  const MINOR = [0, 3, 5, 7, 10];
  const sought = [
    { steps: MINOR, thumb: 7, root: 0 },
    { steps: MINOR, thumb: 2, root: 5 },
  ];

  test('any order, any octave, whatever else is struck: it goes on when all five keys of one octave are there, not before', () => {
    fc.assert(
      fc.property(
        fc.shuffledSubarray(MINOR, { minLength: 5 }),
        fc.integer({ min: 2, max: 7 }),
        fc.array(fc.integer({ min: 21, max: 54 }), { maxLength: 8 }),
        (order, octave, others) => {
          const thumb = 12 * octave + 7;
          const start = others
            .filter((key) => octaveFound(sought[0]!, [key]) === null)
            .reduce((search, key) => seek(search, key), newSearch(sought.slice(0, 1), false));
          if (isAllFound(start)) return;
          const keys = order.map((step) => thumb + step);
          const found = keys.reduce((search, key) => seek(search, key), start);
          expect(isAllFound(found)).toBe(true);
          // four keys of an octave in which nothing else was struck are not it
          const four = keys
            .slice(0, 4)
            .reduce((search, key) => seek(search, key), newSearch(sought.slice(0, 1), false));
          expect(isAllFound(four)).toBe(false);
        },
      ),
      { seed: 15 },
    );
  });

  test('with the left hand its root is waited for too, below the thumb', () => {
    const right = MINOR.map((step) => 67 + step);
    const without = right.reduce((search, key) => seek(search, key), newSearch(sought, true));
    expect(without.at).toBe(0);
    expect(seek(without, 84).at).toBe(0);
    const found = seek(without, 48);
    expect([found.at, found.struck.length]).toEqual([1, 0]);
    expect(isAllFound(found)).toBe(false);
  });
});

describe('the log', () => {
  const about = {
    day: '2026-11-30',
    title: 'Two "Rivers", again',
    lessonId: 'a',
    step: 'thumbs',
    key: 'C major',
    tempoBpm: 60,
  };

  test('goes on with what is the same, and begins anew with what is not; time is what went by', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: 0, max: 2 }), fc.double({ min: 0, max: 3, noNaN: true }))),
        (parts) => {
          let log: Log = EMPTY_LOG;
          let total = 0;
          for (const [index, [which, seconds]] of parts.entries()) {
            log = ticks(begins(log, { ...about, tempoBpm: 60 + which }, `${index}`), seconds);
            total += seconds;
          }
          expect(log.entries.reduce((sum, each) => sum + each.seconds, 0)).toBeCloseTo(total);
          for (const [index, entry] of log.entries.slice(1).entries()) {
            expect(entry.tempoBpm).not.toBe(log.entries[index]?.tempoBpm);
          }
        },
      ),
      { seed: 15 },
    );
    expect(ticks(rests(begins(EMPTY_LOG, about, '1')), 2).entries[0]?.seconds).toBe(0);
    // a machine that slept has not practised
    expect(ticks(begins(EMPTY_LOG, about, '1'), 3600).entries[0]?.seconds).toBe(1);
  });

  test('is told by day and by key, and written as CSV that a spreadsheet reads as it is (RFC 4180)', () => {
    let log = answered(ticks(begins(EMPTY_LOG, about, '1'), 9), 'clean');
    log = answered(ticks(begins(log, { ...about, tempoBpm: 80, title: '=1+1' }, '2'), 6), 'not yet');
    expect(secondsByDay(log.entries)).toEqual([{ day: '2026-11-30', seconds: 15 }]);
    expect(tempoByKey(log.entries)).toEqual([{ key: 'C major', tempoBpm: 60 }]);
    expect(csvOf(log.entries)).toBe(
      'day,lesson,step,key,tempo,seconds,clean,not yet\r\n' +
        '2026-11-30,"Two ""Rivers"", again",thumbs,C major,60,9,1,0\r\n' +
        "2026-11-30,'=1+1,thumbs,C major,80,6,0,1\r\n",
    );
  });
});
