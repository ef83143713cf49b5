/* oxlint-disable unicorn/no-useless-spread -- rows of a table, several to a line */
/** Lesson files and backups. */
import {
  barsOf,
  computeLesson,
  DEFAULT_CHOICES,
  ENGINE_VERSION,
  parseKey,
  notePinIssues,
  planPinIssues,
  readAround,
  readLessonDocument,
  readTake,
  usualProgramme,
  writeLessonDocument,
  writeTake,
} from '@fivespan/core';
import { readBackup, writeBackup } from '../../apps/web/src/features/backup/backup-document.ts';
import { compare, mergePlan, replacePlan } from '../../apps/web/src/features/backup/restore-plan.ts';
import { takesBack, takesToPut } from '../../apps/web/src/features/backup/takes-plan.ts';
import { viewOfTake } from '../../apps/web/src/features/takes/take-view.ts';
import { type Chance } from './chance.ts';
import { judgeIssues, must } from './judge.ts';
import { TEXT_SCRAPS } from './mutate.ts';
import { chartOf, judged, KEYS, lazily, START_CHARTS } from './input.ts';

export const DOCUMENTS = lazily((): readonly string[] =>
  START_CHARTS.map((chartText, index) => {
    const key = parseKey('Ab major') ?? (KEYS[0] as (typeof KEYS)[number]);
    return writeLessonDocument({
      chartText,
      engine: ENGINE_VERSION,
      choices: {
        ...DEFAULT_CHOICES,
        keys: [key],
        hand: index % 2 === 0 ? 'small' : { spanMm: 200 },
        programme: usualProgramme(chartOf(chartText), key),
        phrases: [
          {
            name: 'a line',
            part: 'chorus',
            lengthTicks: 3840,
            chords: [{ onsetTicks: 0, symbol: 'Fm7' }],
            notes: [{ onsetTicks: 480, durationTicks: 960, key: 68 }],
          },
        ],
        pins: {
          analysis: {
            regions: [{ slot: 'b1.1' as never, pass: 1, key }],
            numerals: [{ slot: 'b2.1' as never, pass: 1, numeral: 'V7' }],
          },
          plan: {
            chordScales: [{ slot: 'b1.1' as never, pass: 1, chordScale: 'dorian@1' }],
            positions: [{ slot: 'b1.1' as never, pass: 1, shape: 'minor-pentatonic', thumbMidi: 65 }],
            secondScales: [{ slot: 'b1.1' as never, pass: 1, chordScale: 'lydian@1' }],
          },
          parts: {
            voicings: [
              { slot: 'b1.1' as never, pass: 1, keys: [53, 57, 60, 64] },
              { slot: 'b2.1' as never, pass: 1, keys: [53, 58, 62], own: { over: 'Bb7', left: 3 } },
            ],
            notes: [
              {
                part: 'chorus',
                slot: 'b1.1',
                pass: 1,
                over: 'Fm7',
                notes: [
                  { onsetTicks: 0, durationTicks: 480, key: 68 },
                  { onsetTicks: 480, durationTicks: 960, key: 71 },
                ],
              },
              { part: 'bass', slot: 'b2.1', pass: 1, over: 'Bb7', notes: [] },
            ],
            motives: [
              {
                notes: [
                  { onsetTicks: 0, durationTicks: 320, finger: 1 },
                  { onsetTicks: 320, durationTicks: 320, finger: 5 },
                  { onsetTicks: 640, durationTicks: 320, finger: 2 },
                ],
              },
            ],
          },
        },
      },
    });
  }),
);

export const JSON_SCRAPS: readonly string[] = [
  ...TEXT_SCRAPS.slice(0, 20),
  ...[
    'null',
    'true',
    '{}',
    '[]',
    '[[[[[[',
    '1e400',
    '-0',
    '"F major"',
    '"H major"',
    '"C minor"',
    ',',
    ':',
    '"',
    '"__proto__":{"a":1},',
  ],
  ...[
    '"version": 2,',
    '"engine": 99,',
    '"seed": -1,',
    '"level": 4,',
    '"pass": 0,',
    '"keys": ["Eb major","Eb major"],',
    '\\ud800',
    '\\u0000',
    '\ud800',
  ],
];

export function judgeDocument(text: string, chance: Chance): void {
  const document = judged(readLessonDocument(text), text);
  if (document === undefined) return;
  const written = writeLessonDocument(document);
  const again = readLessonDocument(written);
  must(again.ok && writeLessonDocument(again.value) === written, 'written, it reads otherwise');
  const { chart, issues } = readAround(document.chartText);
  judgeIssues(issues, text);
  if (chart === null || barsOf(chart).length > 24 || !chance.once(10)) return;
  const lesson = judged(computeLesson(chart, document.choices), text);
  if (lesson === undefined) return;
  judgeIssues(
    planPinIssues(lesson.analysis, document.choices.pins.plan, document.choices.hand, document.choices.pins.analysis),
    text,
  );
  judgeIssues(notePinIssues(lesson.plan, lesson.choices.pins.parts.notes), text);
}

/** A take of a document, as it is kept: a few notes of one hand. */
function takeOf(document: string, index: number) {
  const note = (at: number) => ({
    startMicros: 2_000_000 + at * 250_000,
    durationMicros: 200_000,
    key: 60 + ((at * 5) % 24),
    velocity: 70,
    channel: at % 2,
  });
  const take = writeTake({
    engine: ENGINE_VERSION,
    lesson: `l${index}`,
    edition: 0,
    document,
    programme: { tempoBpm: 120, key: null, countInBars: 1, isToClick: index % 2 === 0 },
    barOneMicros: 2_000_000,
    delayMs: 0,
    notes: Array.from({ length: 30 }, (_, at) => note(at)),
    pedals: [{ atMicros: 2_000_000, value: 127, channel: 0 }],
  });
  const about = {
    id: `t${index}`,
    lessonId: `l${index}`,
    title: 'Tin Kettle',
    key: 'F minor',
    tempoBpm: 120,
    at: index,
  };
  return { ...about, state: 'kept' as const, isOffered: false, remarks: [{ bar: 1, text: 'Softer.' }], take };
}

export const BACKUPS = lazily((): readonly string[] => {
  const lessons = DOCUMENTS().map((document, index) => ({
    id: `l${index}`,
    title: 'Tin Kettle',
    createdAt: index,
    changedAt: index,
    document,
  }));
  return [...writeBackup(lessons), ...writeBackup(lessons.slice(0, 1), { takes: DOCUMENTS().map(takeOf) })];
});

/** Takes out of a backup: read, put beside those that are here, taken back, and now and then judged. */
function judgeTakes(text: string, takes: NonNullable<Parameters<typeof takesToPut>[0]>): void {
  must(
    takes.every(({ take, state }) => readTake(take).ok && state === 'kept'),
    'a take that cannot be read back',
  );
  const here = takes.slice(0, 1).map((each) => ({ ...each, remarks: [] }));
  for (const isReplacing of [true, false]) {
    const put = takesToPut(takes, here, isReplacing);
    const now = new Map([...here, ...put.map(({ after }) => after)].map((each) => [each.id, each]));
    const back = takesBack(put, [...now.values()]);
    must(
      back.remove.every((id) => here.every((each) => each.id !== id)),
      'a take that was here goes',
    );
  }
  // making its lesson costs more than all the rest
  const [first] = takes;
  if (first === undefined || text.length % 12 !== 0) return;
  const view = JSON.stringify(viewOfTake(first.take));
  must(!/NaN|Infinity/u.test(view), 'a figure that is none');
}

export function judgeBackup(text: string): void {
  const read = readBackup(text);
  if (read.kind !== 'backup') return;
  const { lessons, unusable, takes = [] } = read.backup;
  judgeTakes(text, takes);
  must(
    unusable.every(({ title }) => title.length <= 200),
    'a long title',
  );
  for (const { damage } of unusable) if (damage.kind === 'document') judgeIssues(damage.issues, text);
  const here = lessons.slice(0, 1).map((each) => ({ ...each, document: `${each.document} `, revision: 1 }));
  let next = 0;
  const comparison = compare(lessons, here);
  const beside = { freshId: () => `fresh${next++}`, titleOf: (title: string) => `${title} (second)` };
  for (const what of ['keep both', 'take the file’s', 'keep what is here'] as const) {
    const { put } = mergePlan(comparison, what, here, beside);
    for (const { document } of put) must(readLessonDocument(document).ok, 'a lesson to keep that cannot be read back');
  }
  must(replacePlan(lessons, here).put.length <= lessons.length, 'more than there were');
  for (const file of writeBackup(lessons, { takes }))
    must(readBackup(file).kind === 'backup', 'its own backup is damaged');
}
