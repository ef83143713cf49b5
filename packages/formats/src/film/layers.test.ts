import { makeFilm, DEFAULT_CHOICES, readChart, type Film, type Picture } from '@fivespan/core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createEngraver, type Engraver } from '../engraving/index.ts';
import { cueSheet, filmDescription } from './description.ts';
import { filmDrawing, type FilmLook } from './layers.ts';
import { FILM_SHAPES, filmLayout } from './layout.ts';

let engraver: Engraver;
let film: Film;
beforeAll(async () => {
  engraver = await createEngraver();
  const read = readChart('title: A & <tune>\nkey: Eb major\n| Fm7 | Bb7 | Ebmaj7 | % |\n');
  if (!read.ok) throw new TypeError('the chart must be right');
  film = makeFilm(read.value, DEFAULT_CHOICES) as Film;
});
afterAll(() => engraver.close());

const look = (more: Partial<FilmLook>): FilmLook => ({
  shape: 'wide',
  theme: 'light',
  ground: 'paper',
  hasNotes: true,
  hasCaptions: true,
  ...more,
});

describe('the layers of a film', () => {
  it('look the same where their key is the same, and lie inside the frame', () => {
    const drawing = filmDrawing(film, look({}), engraver);
    const { width, height } = drawing.layout;
    const seen = new Map<string, string>();
    for (const { picture } of film.stills) {
      for (const { key, box, svg } of drawing.layersOf(picture)) {
        const drawn = svg();
        expect(seen.get(key) ?? drawn).toBe(drawn);
        seen.set(key, drawn);
        expect(box.x >= 0 && box.y >= 0 && box.x + box.width <= width && box.y + box.height <= height).toBe(true);
      }
    }
    expect([...seen.values()].some((svg) => svg.includes('A &amp; &lt;tune&gt;'))).toBe(true);
  });

  it('draw a line once however many beats it lasts: only its stroke and the chord change within a bar', () => {
    const drawing = filmDrawing(film, look({}), engraver);
    const played = film.stills.filter(({ picture }) => picture.bar === 2);
    const lines = new Set(played.map(({ picture }) => drawing.layersOf(picture).find(({ id }) => id === 'line')?.key));
    const beats = new Set(played.map(({ picture }) => drawing.layersOf(picture).find(({ id }) => id === 'now')?.key));
    expect(lines.size).toBe(1);
    expect(beats.size).toBe(4);
  });

  it('cut no chord at its top, nor let it reach the degrees over the keys', () => {
    // a flat beside a letter, and a j below, in the size of the letter: measured in the face
    const [up, down] = [0.79, 0.17];
    for (const shape of FILM_SHAPES) {
      for (const ground of ['paper', 'clear'] as const) {
        const { now, nowBaseline, nowSize, still, keyboard } = filmLayout(shape, ground);
        expect(nowBaseline - up * nowSize).toBeGreaterThanOrEqual(now.y);
        expect(still.baseline - up * still.size).toBeGreaterThanOrEqual(now.y);
        expect(still.baseline + down * still.size).toBeLessThanOrEqual(keyboard.y - 70);
      }
    }
  });

  it('keep the degrees of two keys a half step apart from running together', () => {
    const named = film.stills.findLast(({ picture }) => (picture.keyboard?.degrees?.notes.length ?? 0) >= 7);
    for (const shape of FILM_SHAPES) {
      for (const ground of ['paper', 'clear'] as const) {
        const layers = filmDrawing(film, look({ shape, ground }), engraver).layersOf(named?.picture as Picture);
        const svg = layers.find(({ id }) => id === 'keyboard')?.svg() ?? '';
        const middles = [...svg.matchAll(/class="degree" x="([\d.]+)"/gu)]
          .map(([, x]) => Number(x))
          .sort((a, b) => a - b);
        expect(middles.length).toBeGreaterThan(7);
        // a numeral is 20 wide, and stands 10 from the next
        for (const [index, x] of middles.entries())
          if (index > 0) expect(x - (middles[index - 1] ?? 0)).toBeGreaterThan(30);
      }
    }
  });

  it('name a thumb in what is said as its tab does, its other shape told apart', () => {
    const read = readChart('title: Two shapes\nkey: Eb major\ntempo: 60\n| Am7b5 D7alt | Gm6 | Abm7 Db7 | Ebmaj7 |\n');
    if (!read.ok) throw new TypeError('the chart must be right');
    const shapes = makeFilm(read.value, DEFAULT_CHOICES) as Film;
    const drawing = filmDrawing(shapes, look({}), engraver);
    const sheet = cueSheet(shapes);
    const names = new Set<string>();
    for (const { picture } of shapes.stills) {
      if (picture.keyboard?.hand == null || picture.keyboard.hand.fingers === 0 || picture.bar === null) continue;
      const textOf = (id: string): string =>
        drawing
          .layersOf(picture)
          .find((each) => each.id === id)
          ?.svg() ?? '';
      // what comes is drawn first
      const texts = (svg: string, role: string): string[] =>
        [...svg.matchAll(/<text class="([^"]*)"[^>]*>(.*?)<\/text>/gu)].flatMap(([, own, text = '']) =>
          own === role ? [text.replaceAll(/<[^>]*>/gu, '')] : [],
        );
      const name = texts(textOf('keyboard'), 'tab-name').at(-1) ?? '';
      const said = texts(textOf('caption'), 'caption').join(' ');
      expect(said).toMatch(new RegExp(`(?:[Tt]humb on|then) ${name}[:.,]`, 'u'));
      expect(sheet).toContain(said);
      names.add(name);
    }
    expect(names.size).toBeGreaterThan(3);
    expect([...names].some((name) => name.includes('′'))).toBe(true);
  });

  it('leave a camera its picture: nothing but one sheet where no notes are asked for', () => {
    for (const shape of FILM_SHAPES) {
      const drawing = filmDrawing(film, look({ shape, ground: 'clear', hasNotes: false }), engraver);
      expect(drawing.ground).toBeNull();
      const { sheet, width } = drawing.layout;
      const play = film.stills.find(({ picture }) => picture.bar === 1)?.picture;
      if (play === undefined || sheet === null) throw new TypeError('must be there');
      for (const { id, box } of drawing.layersOf(play)) {
        expect(['sheet', 'now', 'keyboard', 'caption']).toContain(id);
        expect(box.x >= sheet.x && box.y >= sheet.y && box.x + box.width <= sheet.x + sheet.width).toBe(true);
      }
      expect(sheet.width).toBeLessThan(width);
    }
  });
});

it('a description has every scene with its time, and the keys', () => {
  expect(filmDescription(film)).toMatch(
    /^A & <tune>\n\n0:00 Title\n0:05 The idea\n(?:\d+:\d\d .*\n)+\nKey: E♭ major\n/u,
  );
  expect(cueSheet(film)).toContain('Listen to');
});
