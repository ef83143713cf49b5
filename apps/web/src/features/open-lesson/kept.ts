import {
  readAround,
  readLessonDocument,
  slotsKept,
  writeLessonDocument,
  type Chart,
  type ChartSoFar,
  type Choices,
  type LessonDocument,
  type SlotId,
} from '@fivespan/core';

/** What is kept of a lesson, as it is shown. */
export interface Kept {
  readonly chartText: string;
  readonly choices: Choices;
  /** The last chart that could be read: the one whose slots the pins name. */
  readonly pinned: Chart | null;
}

let lastRead: { readonly text: string; readonly reading: ChartSoFar } | undefined;

/** What a text reads as; asked again for the same text, it is not read again: what is kept and what is shown are of one reading. */
export function readingOf(text: string): ChartSoFar {
  if (lastRead?.text !== text) lastRead = { text, reading: readAround(text) };
  return lastRead.reading;
}

export function keptOf({ chartText, choices }: LessonDocument): Kept {
  return { chartText, choices, pinned: readingOf(chartText).chart };
}

/** A document's text as it is kept, with what reading it said. */
export function readKept(document: string): { readonly kept: Kept; readonly engine: number } | undefined {
  const read = readLessonDocument(document);
  return read.ok ? { kept: keptOf(read.value), engine: read.value.engine } : undefined;
}

export function documentOf({ chartText, choices }: Kept, engine: number): string {
  return writeLessonDocument({ chartText, choices, engine });
}

/** The pins of a chart carried over to its edited text: each follows its slot, those of slots that are gone fall away. */
function pinsCarried(pins: Choices['pins'], before: Chart, after: Chart): Choices['pins'] {
  // nothing to carry, and nothing to compare for it
  if ([pins.analysis, pins.plan, pins.parts].every((stage) => Object.values(stage).every((list) => list.length === 0)))
    return pins;
  const now = slotsKept(before, after);
  const carried = <Pin extends { readonly slot: string }>(list: readonly Pin[]): Pin[] =>
    list.flatMap((pin) => {
      const slot = now.get(pin.slot as SlotId);
      return slot === undefined ? [] : [{ ...pin, slot }];
    });
  return {
    analysis: { regions: carried(pins.analysis.regions), numerals: carried(pins.analysis.numerals) },
    plan: {
      chordScales: carried(pins.plan.chordScales),
      positions: carried(pins.plan.positions),
      secondScales: carried(pins.plan.secondScales),
    },
    parts: {
      voicings: carried(pins.parts.voicings),
      notes: carried(pins.parts.notes),
      motives: pins.parts.motives,
    },
  };
}

/** What is kept, with another text: the pins go with their slots. */
export function withText({ choices, pinned }: Kept, chartText: string): Kept {
  const after = readingOf(chartText).chart;
  if (after === null) return { chartText, choices, pinned };
  if (pinned === null) return { chartText, choices, pinned: after };
  return { chartText, choices: { ...choices, pins: pinsCarried(choices.pins, pinned, after) }, pinned: after };
}
