import { createEngraver, type Engraver } from '@fivespan/formats/engraving';
import { writeMusicXml } from '@fivespan/formats/musicxml';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { lessonOf, TWICE } from '../study/invented-study.ts';
import { withNoteGrounds } from './note-ground.ts';

let engraver: Engraver;
beforeAll(async () => {
  engraver = await createEngraver();
});
afterAll(() => engraver.close());

it('gives every note one ground about its head, 24 pixels and more each way', () => {
  const xml = writeMusicXml(lessonOf(TWICE).score, { purpose: 'engraving', noteIds: true });
  // CSS: 96 pixels an inch; WCAG 2.2, 2.5.8: targets of 24 pixels
  const pixels = (units: number): number => (units / 100 / 25.4) * 96;
  for (const staffHeightMm of [5.6, 7]) {
    for (const svg of engraver.engrave(xml, { widthMm: 200, staffHeightMm, noteIds: true })) {
      const grounded = withNoteGrounds(svg, staffHeightMm);
      const found = [
        ...grounded.matchAll(
          /data-note="[^"]*" class="note"><rect class="hit" x="(-?\d+)" y="(-?\d+)" width="(\d+)" height="(\d+)"[^>]*><g class="notehead"><use[^>]*translate\((\d+), (\d+)/gu,
        ),
      ].map((match) => match.slice(1).map(Number));
      expect(found).toHaveLength([...svg.matchAll(/class="note"/gu)].length);
      expect(found.length).toBeGreaterThan(0);
      for (const [x = 0, y = 0, width = 0, height = 0, headX = 0, headY = 0] of found) {
        expect(Math.min(pixels(width), pixels(height))).toBeGreaterThanOrEqual(24);
        expect(headX > x && headX < x + width && headY > y && headY < y + height).toBe(true);
      }
    }
  }
});
