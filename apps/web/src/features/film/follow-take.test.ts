import { DEFAULT_CHOICES, ENGINE_VERSION, makeFilm, writeLessonDocument, writeTake, type Film } from '@fivespan/core';
import { describe, expect, it } from 'vitest';
import { midiOf } from '../../../../../checks/film/played.ts';
import { filmTakeJob, type FollowedTake } from './film-take-job.ts';
import { marksFault, takeSource, type Following } from './follow-take.ts';

const LINE = [65, 67, 68, 72].map((key, index): [number, number, number] => [2.25 + index * 0.5, key, 0.3]);
const document = writeLessonDocument({
  chartText: 'title: Slow Ferry\nkey: C minor\ntempo: 120\n\n| Dm7b5 | G7alt |',
  choices: DEFAULT_CHOICES,
  engine: ENGINE_VERSION,
});
const watch = { report: () => undefined, cancelled: () => false, breathe: async () => undefined } as never;

async function followed(order: Parameters<typeof filmTakeJob>[0]): Promise<FollowedTake> {
  const read = (await filmTakeJob(order, watch))?.value;
  if (read?.kind !== 'take') throw new TypeError(JSON.stringify(read));
  return read.take;
}

const following = (take: FollowedTake, more: Partial<Following> = {}): Following => ({
  take,
  name: 'take.mid',
  marks: [],
  offsetMs: 0,
  player: '',
  ...more,
});

/** When each key of the line is first seen to be down. */
function downs(asked: Following): number[] {
  const source = takeSource(asked);
  const film = makeFilm(source.chart, source.choices, { key: source.key, take: source.take }) as Film;
  return LINE.map(
    ([, key]) =>
      film.stills.find(({ picture }) => picture.keyboard?.pressed?.some(({ midi }) => midi === key))?.startSeconds ??
      -1,
  );
}

/** The same performance as it is kept when it was played here: bar 1 two seconds into the record. */
const KEPT = writeTake({
  engine: ENGINE_VERSION,
  lesson: 'a',
  edition: 0,
  document,
  programme: { tempoBpm: 120, key: 'C minor', countInBars: 1, isToClick: true },
  barOneMicros: 2_000_000,
  delayMs: 0,
  notes: LINE.map(([seconds, key, length]) => ({
    startMicros: Math.round(seconds * 1e6),
    durationMicros: length * 1e6,
    key,
    velocity: 80,
    channel: 0,
  })),
  pedals: [],
});

describe('a film that follows a take in the workbench', () => {
  it('shows each key where two moments and an offset say, of a file and of a kept take alike', async () => {
    const marks = [
      { filmSeconds: 10, moment: { at: 'first', seconds: 0 } },
      { filmSeconds: 11.515, moment: { at: 'last', seconds: 0 } },
    ] as const;
    const orders = [
      { kind: 'file', bytes: new Uint8Array(midiOf(LINE)), document },
      { kind: 'kept', text: KEPT },
    ] as const;
    for (const order of orders) {
      const seen = downs(following(await followed(order), { marks, offsetMs: 40 }));
      for (const [index, seconds] of seen.entries()) expect(seconds).toBeCloseTo(10.04 + index * 0.505, 2);
    }
  });

  it('counts seconds of the recording from its beginning', async () => {
    const marks = [{ filmSeconds: 3, moment: { at: 'seconds', seconds: 2 } }] as const;
    expect(downs(following(await followed({ kind: 'kept', text: KEPT }), { marks }))[0]).toBeCloseTo(3.25, 2);
  });

  it('says what is wrong with marks, follows the first alone then, and names nobody unasked', async () => {
    const take = await followed({ kind: 'kept', text: KEPT });
    const marks = [
      { filmSeconds: 3, moment: { at: 'first', seconds: 0 } },
      { filmSeconds: 30, moment: { at: 'last', seconds: 0 } },
    ] as const;
    expect(marksFault(following(take, { marks }))).toBe('too far off');
    expect(downs(following(take, { marks }))[1]).toBeCloseTo(3.5, 2);
    expect(takeSource(following(take)).take?.player).toBeNull();
    expect(takeSource(following(take, { player: ' M. Example ' })).take?.player).toBe('M. Example');
  });

  it('refuses what is no recording, with a reason', async () => {
    const read = await filmTakeJob({ kind: 'file', bytes: new Uint8Array([1, 2, 3]), document }, watch);
    expect(read?.value.kind).toBe('refused');
  });
});
