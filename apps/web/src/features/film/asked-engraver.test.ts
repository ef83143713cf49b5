import { DEFAULT_CHOICES, makeFilm, readChart, sceneOf, type Film } from '@fivespan/core';
import { createEngraver, type Engraver } from '@fivespan/formats/engraving';
import { FILM_SHAPES, filmDrawing } from '@fivespan/formats/film';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { AskedEngraver } from './asked-engraver.ts';

let engraver: Engraver;
beforeAll(async () => {
  engraver = await createEngraver();
});
afterAll(() => engraver?.close());

const read = readChart('title: A tune\nkey: Eb major\ntempo: 120\n\n| Fm7 | Bb7 | Ebmaj7 | Cm7 F7 |\n| Bb7 | Ebmaj7 |');
const film = makeFilm(read.ok ? read.value : (undefined as never), {
  ...DEFAULT_CHOICES,
  film: [sceneOf('title'), sceneOf('play')],
}) as Film;
const pictures = film.stills.map(({ picture }) => picture);

it('knows every line of a film before the film begins, and draws as the engraver itself does', async () => {
  for (const shape of FILM_SHAPES) {
    const look = { shape, theme: 'light', ground: 'paper', hasNotes: true, hasCaptions: true } as const;
    const asked = new AskedEngraver(async (each) => engraver.engrave(...each));
    const drawing = filmDrawing(film, look, asked.engraver);
    expect(await asked.learn(drawing, pictures, () => false)).toBe(true);
    const plain = filmDrawing(film, look, engraver);
    for (const picture of pictures) expect(drawing.frame(picture) === plain.frame(picture)).toBe(true);
  }
});

it('stops when it is asked to, and says what cannot be engraved', async () => {
  const look = { shape: 'wide', theme: 'light', ground: 'paper', hasNotes: true, hasCaptions: true } as const;
  const asked = new AskedEngraver(async (each) => engraver.engrave(...each));
  expect(await asked.learn(filmDrawing(film, look, asked.engraver), pictures, () => true)).toBe(false);
  const failing = new AskedEngraver(async () => await Promise.reject(new Error('the notes cannot be engraved')));
  await expect(failing.learn(filmDrawing(film, look, failing.engraver), pictures, () => false)).rejects.toThrow(
    'cannot be engraved',
  );
});
