/**
 * Hostile inputs of seven kinds: each is made of a seed and a number, given to what reads it, and judged. An input may be refused,
 * in words for a musician; it may never throw, hang, or be half read. Those that once did are in cases.ts.
 */
import { chanceOf, type Chance } from './chance.ts';
import { judgeChart, judgeLesson } from './charts.ts';
import { BACKUPS, DOCUMENTS, JSON_SCRAPS, judgeBackup, judgeDocument } from './documents.ts';
import { START_CHARTS, textOf, type HostileInput } from './input.ts';
import { must } from './judge.ts';
import { judgeMidi, MIDIS, SHORT_MIDI } from './midi-files.ts';
import { damagedBytes, damagedText } from './mutate.ts';
import { judgeScore, packedScore, SCORES, XML_SCRAPS } from './scores.ts';
import { anyChart } from './valid-chart.ts';

export interface HostileKind {
  readonly name: string;
  readonly make: (chance: Chance) => HostileInput;
  /** Throws where the input brought about what must not be. @param chance for what else is drawn: a level, a bar, a hand */
  readonly judge: (input: HostileInput, chance: Chance) => void;
}

/** The seven kinds. */
export const HOSTILE_KINDS: readonly HostileKind[] = [
  {
    name: 'chart text',
    make: (chance) => damagedText(chance.once(2) ? chance.of(START_CHARTS) : anyChart(chance), chance),
    judge: (input, chance) => judgeChart(textOf(input), chance),
  },
  {
    name: 'whole lessons',
    make: anyChart,
    judge: (input, chance) => judgeLesson(textOf(input), chance),
  },
  {
    name: 'MusicXML',
    make: (chance) => damagedText(chance.of(SCORES()), chance, XML_SCRAPS),
    judge: judgeScore,
  },
  {
    name: 'mxl',
    make: (chance) => {
      const packed = packedScore(chance);
      return chance.once(2) ? packed : damagedBytes(packed, chance);
    },
    judge: judgeScore,
  },
  {
    name: 'MIDI',
    make: (chance) => damagedBytes(chance.once(10) ? chance.of(MIDIS()) : SHORT_MIDI, chance),
    judge: judgeMidi,
  },
  {
    name: 'lesson.json',
    make: (chance) => damagedText(chance.of(DOCUMENTS()), chance, JSON_SCRAPS),
    judge: (input, chance) => judgeDocument(textOf(input), chance),
  },
  {
    name: 'backup',
    make: (chance) => damagedText(chance.of(BACKUPS()), chance, JSON_SCRAPS),
    judge: (input) => judgeBackup(textOf(input)),
  },
];

/** What one input came to: null where all was well. */
export interface Found {
  readonly kind: string;
  readonly number: number;
  readonly input: HostileInput;
  readonly error: Error;
}

/** Longer than this for one input is a hang. */
const LONGEST_MS = 10_000;

/**
 * Judges inputs of one kind, numbered from a first.
 * @param nowMs the clock, for the time budget
 * @returns how many were judged before the budget was spent, and what misbehaved
 */
export function judgeKind(
  kind: HostileKind,
  {
    seed,
    first = 0,
    count,
    budgetMs = Infinity,
  }: { readonly seed: number; readonly first?: number; readonly count: number; readonly budgetMs?: number },
  nowMs: () => number,
): { readonly judged: number; readonly found: readonly Found[] } {
  const found: Found[] = [];
  const start = nowMs();
  let number = first;
  for (; number < first + count && nowMs() - start < budgetMs; number++) {
    const chance = chanceOf(kind.name, seed, number);
    const input = kind.make(chance);
    const before = nowMs();
    try {
      kind.judge(input, chance);
      must(nowMs() - before < LONGEST_MS, `it took ${Math.round(nowMs() - before)} ms`);
    } catch (error) {
      found.push({ kind: kind.name, number, input, error: error as Error });
    }
  }
  return { judged: number - first, found };
}
