import { describe, expect, it } from 'vitest';
import { readChart } from '../../chart/index.ts';
import { runsOf } from '../../film/index.ts';
import type { HeardNote } from '../../take/index.ts';
import { DEFAULT_CHOICES } from '../lesson.ts';
import { makeFilm, type Film } from './make-film.ts';
import type { FilmTake } from './take-scene.ts';

const read = readChart('title: A tune\nkey: C major\ntempo: 120\n| Dm7 | G7 | Cmaj7 | % |\n');
if (!read.ok) throw new TypeError('the chart must be right');

const note = (
  startSeconds: number,
  key: number,
  hand: HeardNote['hand'] = 'right',
  durationSeconds = 0.2,
): HeardNote => ({
  startSeconds,
  durationSeconds,
  key,
  velocity: 70,
  hand,
});

/** A count of two low notes, then a line over Dm7 and G7 (bars of 2 s from 4 s on), a C♯ that belongs nowhere, a root below. */
const NOTES = [
  note(2, 21, 'left'),
  note(3, 21, 'left'),
  note(4, 38, 'left', 1),
  note(4, 62),
  note(4.5, 65),
  note(5, 67),
  note(5.5, 69),
  note(6, 71),
  note(6.2, 71),
  note(6.5, 73, 'right', 0.9),
  note(7.5, 74),
];

const filmOf = (more: Partial<FilmTake> = {}): Film =>
  makeFilm(read.value, DEFAULT_CHOICES, {
    take: { notes: NOTES, tempoBpm: 120, barOneSeconds: 4, clock: [], marks: [], offsetMs: 0, player: null, ...more },
  }) as Film;

/** When keys go down, by what is seen. */
function downs({ stills }: Film): [seconds: number, key: number][] {
  let before: readonly number[] = [];
  return stills.flatMap(({ startSeconds, picture }) => {
    const now = (picture.keyboard?.pressed ?? []).map(({ midi }) => midi as number);
    const fresh = now.filter((key) => !before.includes(key));
    before = now;
    return fresh.map((key): [number, number] => [Math.round(startSeconds * 1000) / 1000, key]);
  });
}

describe('a film that follows a performance', () => {
  it('shows every key when it was struck, one that is struck again too, and no count', () => {
    const film = filmOf({ marks: [{ takeSeconds: 2, filmSeconds: 3.5 }] });
    expect(downs(film)).toEqual(NOTES.slice(2).map(({ startSeconds, key }) => [startSeconds + 1.5, key]));
    expect(film.stills[0]?.startSeconds).toBe(0);
    for (const [index, still] of film.stills.entries()) {
      if (index > 0) expect(still.startSeconds).toBeGreaterThan(film.stills[index - 1]?.startSeconds ?? 0);
    }
    // the keyboard holds what was played, not the note that was clapped with
    expect(film.stills[0]?.picture.keyboard?.lowest).toBe(36);
  });

  it('draws each key within half a frame of its note, and leaves none out at 24 frames', () => {
    const film = filmOf({ marks: [{ takeSeconds: 2, filmSeconds: 3.51 }] });
    for (const fps of [24, 30, 60] as const) {
      const runs = runsOf(film, fps);
      const seen = downs({ ...film, stills: runs.map(({ from, picture }) => ({ startSeconds: from / fps, picture })) });
      expect(seen).toHaveLength(NOTES.length - 2);
      for (const [index, [seconds]] of seen.entries()) {
        const struck = (NOTES[index + 2] as HeardNote).startSeconds + 1.51;
        expect(Math.abs(seconds - struck)).toBeLessThanOrEqual(0.5 / fps + 1e-3);
      }
    }
  });

  it('takes a second mark for a clock that runs faster, and an offset to the millisecond', () => {
    const marks = [
      { takeSeconds: 2, filmSeconds: 10 },
      { takeSeconds: 102, filmSeconds: 110.1 },
    ];
    expect(downs(filmOf({ marks }))[0]).toEqual([12.002, 38]);
    expect(downs(filmOf({ marks, offsetMs: -7 }))[0]).toEqual([11.995, 38]);
    expect(() => filmOf({ marks: [marks[0]!, { takeSeconds: 102, filmSeconds: 130 }] })).toThrow(RangeError);
  });

  it('goes by the clock where the record changes its tempo', () => {
    const clock = [
      { seconds: 0, clockSeconds: 0, rate: 1 },
      { seconds: 5, clockSeconds: 5, rate: 2 },
    ];
    const film = filmOf({ clock, marks: [{ takeSeconds: 4, filmSeconds: 1 }] });
    expect(downs(film).map(([seconds]) => seconds)).toEqual([1, 1, 1.5, 2, 3, 4, 4.4, 5, 7]);
  });

  it('lays the hand where it was, says whose each key is, and what lies outside', () => {
    const film = filmOf();
    const keys = film.stills.flatMap(({ picture: { keyboard } }) => keyboard?.pressed ?? []);
    expect(keys.find(({ midi }) => midi === 38)).toMatchObject({ hand: 'left', isInside: true });
    expect(keys.find(({ midi }) => midi === 62)).toMatchObject({ hand: 'right', isInside: true });
    expect(keys.find(({ midi }) => midi === 73)).toMatchObject({ isInside: false });
    const first = film.stills.find(({ picture }) => picture.bar === 0)?.picture;
    expect(first?.now?.chord?.symbol).toBe('Dm7');
    const { hand } = first?.keyboard ?? {};
    expect(hand).not.toBeNull();
    expect(hand === null || hand === undefined ? 0 : hand.thumbMidi).toBeGreaterThan(54);
  });

  it('names nobody unless asked to', () => {
    const { stills, player } = filmOf();
    expect(player ?? stills.find(({ picture }) => picture.heading?.player !== undefined)).toBeUndefined();
    expect(filmOf({ player: 'M. Example' }).stills[0]?.picture.heading?.player).toBe('M. Example');
  });
});
