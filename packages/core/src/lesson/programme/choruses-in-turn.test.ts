import { expect, it } from 'vitest';
import { figuresOf } from '../../parts/index.ts';
import { inventedChart } from '../../parts/invented-plan.ts';
import { midiOf } from '../../theory/index.ts';
import { DEFAULT_CHOICES } from '../lesson.ts';
import { makeLesson } from '../make-lesson.ts';
import { chorusesInTurn } from './choruses-in-turn.ts';

// it begins and ends on its held tonic, so that the same root and fifth meet at the seam
const TUNE = 'key: Bb major\nA:\n| Bbmaj7 | % | Eb7 | % | Bbmaj7 | % |\n';

it.each([1, 3] as const)('no bass figure comes three times running at the seam of choruses, level %d', (level) => {
  for (let seed = 0; seed < 4; seed++) {
    const lesson = makeLesson(inventedChart(TUNE), { ...DEFAULT_CHOICES, level, seed });
    const { key, slots } = lesson.analysis;
    const choruses = Array.from({ length: 5 }, () => ({ key, tempoBpm: 120, parts: {} }) as never);
    const turn = chorusesInTurn(() => lesson, { choruses, voicings: 'rootless' } as never);
    const basses = choruses.map((_, index) => turn.partsOf(index).bass);
    const figures = basses.flatMap((bass) => figuresOf(slots, bass).map(({ text }) => text));
    expect(figures).toHaveLength(30);
    const thirds = figures.filter((text, at) => at >= 2 && text === figures[at - 1] && text === figures[at - 2]);
    expect(thirds, `seed ${seed}`).toEqual([]);
    for (const [index, bass] of basses.slice(1).entries()) {
      expect(midiOf(bass[0]!.pitch)).not.toBe(midiOf(basses[index]!.at(-1)!.pitch));
    }
  }
});
