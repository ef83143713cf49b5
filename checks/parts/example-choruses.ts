/**
 * The choruses that `examples/choruses` shows: the demo at level 2 and at level 4, chorus over bass, as a notation program opens them.
 * Run: npx tsx checks/parts/example-choruses.ts, which writes them anew.
 */
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { DEFAULT_CHOICES, makeLesson, readChart, stavesOf } from '@fivespan/core';
import { writeMusicXml } from '@fivespan/formats/musicxml';

const EXAMPLES = join(import.meta.dirname, '../../examples');

/** Each file, and how to make it. */
export const EXAMPLE_CHORUSES = ([2, 4] as const).map((level) => ({
  name: `DEMO-level-${level}.musicxml`,
  file: join(EXAMPLES, 'choruses', `DEMO-level-${level}.musicxml`),
  make: (): string => {
    const read = readChart(readFileSync(join(EXAMPLES, 'DEMO.chart'), 'utf8'));
    if (!read.ok) throw new TypeError('the demo can be read');
    const { score } = makeLesson(read.value, { ...DEFAULT_CHOICES, level });
    return writeMusicXml(score, { parts: stavesOf('piano') });
  },
}));

if (process.argv[1] === import.meta.filename) {
  mkdirSync(join(EXAMPLES, 'choruses'), { recursive: true });
  for (const { file, make } of EXAMPLE_CHORUSES) writeFileSync(file, make());
}
