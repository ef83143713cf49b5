/** Takes whose remarks propose each kind of step, in a backup: played by the lesson's own hands with one fault each. */
import {
  DEFAULT_CHOICES,
  ENGINE_VERSION,
  makeLesson,
  pitchClassOf,
  readChart,
  writeLessonDocument,
  writeTake,
} from '@fivespan/core';
import { writeBackup } from '../../apps/web/src/features/backup/backup-document.ts';

const CHART_TEXT =
  'title: Quick Walk\nkey: F major\ntempo: 160\n\nA:\n| Gm7 | C7 | Fmaj7 | D7 |\n| Gm7 | C7 | Fmaj7 | % |\n| Cm7 | F7 | Bbmaj7 | % |\n| Gm7 | C7 | Fmaj7 | D7 |\n';
const chart = readChart(CHART_TEXT);
if (!chart.ok) throw new TypeError('the chart must be right');
const lesson = makeLesson(chart.value, DEFAULT_CHOICES);
const document = writeLessonDocument({ chartText: CHART_TEXT, choices: DEFAULT_CHOICES, engine: ENGINE_VERSION });

interface Struck {
  readonly startSeconds: number;
  readonly midi: number;
}
type Fault = (note: Struck, hand: 'right' | 'left', index: number) => Struck;

/** Root or fifth of the chord a note is played over, near it: no third and no seventh. */
function plain({ startSeconds, midi }: Struck): Struck {
  const ticks = startSeconds * 160 * 16;
  const slot = lesson.plan.slots.findLast(({ analysed }) => analysed.played.startTicks <= ticks + 200);
  const root = slot?.analysed.chord == null ? 0 : pitchClassOf(slot.analysed.chord.root);
  const above = (midi - root + 120) % 12;
  return { startSeconds, midi: midi - above + (above >= 4 ? 7 : 0) };
}

const FAULTS: Readonly<Record<'late' | 'alone' | 'drill', Fault>> = {
  late: (note) => ({ ...note, startSeconds: note.startSeconds + 0.075 }),
  alone: (note, hand, index) =>
    hand === 'right'
      ? note
      : { ...note, startSeconds: note.startSeconds + [0.05, -0.05, 0.02, -0.06, 0.06][index % 5]! },
  drill: (note, hand) => (hand === 'left' ? note : plain(note)),
};

/** A take as core writes it. */
export function takeWith(id: keyof typeof FAULTS): string {
  const barOneMicros = 3_000_000;
  const notes = (['right', 'left'] as const).flatMap((hand, channel) => {
    const part = lesson.performance.parts.find(({ player }) => player === `${hand} hand`);
    return (part?.notes ?? []).map((note, index) => {
      const { startSeconds, midi } = FAULTS[id](note, hand, index);
      return {
        startMicros: barOneMicros + Math.round(startSeconds * 1e6),
        durationMicros: Math.round(note.durationSeconds * 1e6),
        key: midi,
        velocity: 60 + ((index * 7) % 30),
        channel,
      };
    });
  });
  return writeTake({
    engine: ENGINE_VERSION,
    lesson: 'quick-walk',
    edition: 0,
    document,
    programme: { tempoBpm: 160, key: 'F major', countInBars: 2, isToClick: true },
    barOneMicros,
    delayMs: 0,
    notes: notes.toSorted((a, b) => a.startMicros - b.startMicros),
    pedals: [],
  });
}

/** A backup of the lesson with a take for each step. */
export function backupWithTakes(): string {
  const takes = (['late', 'alone', 'drill'] as const).map((id, at) => ({
    id,
    lessonId: 'quick-walk',
    title: 'Quick Walk',
    key: 'F major',
    tempoBpm: 160,
    at: 1000 + at,
    state: 'kept' as const,
    isOffered: false,
    remarks: [],
    take: takeWith(id),
  }));
  const own = { id: 'quick-walk', title: 'Quick Walk', createdAt: 1, changedAt: 2, document };
  return writeBackup([own], { takes })[0] ?? '';
}
