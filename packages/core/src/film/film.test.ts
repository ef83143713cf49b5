import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { writeSrt, writeWebVtt } from './captions.ts';
import { FRAME_RATES, frameCount, pictureAt, runsOf } from './film.ts';
import { EMPTY_PICTURE, type Picture } from './picture.ts';
import type { Cue } from './said.ts';

const pictureOf = (bar: number): Picture => ({ ...EMPTY_PICTURE, bar });

const films = fc
  .array(fc.double({ min: 0.001, max: 3, noNaN: true }), { minLength: 1, maxLength: 40 })
  .map((lengths) => {
    let now = 0;
    const stills = lengths.map((length, index) => {
      const still = { startSeconds: now, picture: pictureOf(index) };
      now += length;
      return still;
    });
    return { stills, endSeconds: now };
  });

describe('the frames of a film', () => {
  it('are all there once, in order, at every rate', () => {
    fc.assert(
      fc.property(films, fc.constantFrom(...FRAME_RATES), (film, fps) => {
        const runs = runsOf(film, fps);
        const total = frameCount(film, fps);
        expect(total / fps).toBeGreaterThanOrEqual(film.endSeconds - 1e-6);
        expect(total / fps).toBeLessThan(film.endSeconds + 1 / fps);
        expect(runs[0]?.from).toBe(0);
        expect(runs.at(-1)?.to).toBe(total);
        for (const [index, { from, to }] of runs.entries()) {
          expect(to).toBeGreaterThan(from);
          if (index > 0) expect(from).toBe(runs[index - 1]?.to);
        }
      }),
    );
  });

  it('change within half a frame of what they show', () => {
    const film = {
      stills: [0, 0.51, 1.02].map((startSeconds, bar) => ({ startSeconds, picture: pictureOf(bar) })),
      endSeconds: 2,
    };
    expect([14, 15, 30, 31].map((frame) => pictureAt(film, frame, 30).bar)).toEqual([0, 1, 1, 2]);
    expect(() => pictureAt(film, 60, 30)).toThrow(/one of the film's 60/u);
  });
});

describe('captions', () => {
  const own = (text: string, startSeconds: number, endSeconds: number): Cue => ({
    startSeconds,
    endSeconds,
    said: { code: 'own', text },
  });
  const textOf = (said: Cue['said']): string => (said.code === 'own' ? said.text : '');

  it('are written with their times, and with nothing a file would read as its own', () => {
    const cues = [own('A & <b>\n--> C', 0, 1.5), own('', 1.5, 2), own('later', 3661.25, 3662)];
    expect(writeWebVtt(cues, textOf)).toBe(
      'WEBVTT\n\n1\n00:00:00.000 --> 00:00:01.500\nA &amp; &lt;b&gt; → C\n\n2\n01:01:01.250 --> 01:01:02.000\nlater\n',
    );
    expect(writeSrt(cues, textOf)).toBe(
      '1\n00:00:00,000 --> 00:00:01,500\nA & <b> → C\n\n2\n01:01:01,250 --> 01:01:02,000\nlater\n',
    );
  });
});
