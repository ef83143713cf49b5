import { unzipSync } from 'fflate';
import { afterEach, expect, test } from 'vitest';
import { zipJob } from './zip-job.ts';

const watch = { report: () => {}, cancelled: () => false, breathe: () => Promise.resolve() };
const zone = process.env['TZ'];
afterEach(() => {
  if (zone === undefined) delete process.env['TZ'];
  else process.env['TZ'] = zone;
});

const ENTRIES = [
  { path: 'A-major/study.pdf', bytes: new TextEncoder().encode('%PDF-1.7 …') },
  { path: 'lesson.json', bytes: new TextEncoder().encode('{}\n'.repeat(50)) },
];

async function zipped(): Promise<Uint8Array> {
  const made = await zipJob(ENTRIES, watch);
  if (made === undefined) throw new Error('must be made');
  return made.value as Uint8Array;
}

test('files come out as they went in, in their order', async () => {
  const entries = unzipSync(await zipped());
  expect(Object.keys(entries)).toEqual(ENTRIES.map(({ path }) => path));
  for (const { path, bytes } of ENTRIES) expect(entries[path]).toEqual(bytes);
});

test('the same bytes whatever the clock and the time zone', async () => {
  process.env['TZ'] = 'Pacific/Kiritimati';
  const east = await zipped();
  process.env['TZ'] = 'Pacific/Pago_Pago';
  expect(await zipped()).toEqual(east);
});
