import {
  chartForInstrument,
  PART_ENDINGS,
  partFileName,
  type Lesson,
  type PartFileName,
  type PartReader,
} from '@fivespan/core';
import { writePart, type Paper } from '../handout/index.ts';
import { writeLeadSheet } from '../musicxml/index.ts';
import type { Press } from './pack-file.ts';

/**
 * A part for one member of the band: a page to read from, and the same as a lead sheet for a notation program, which knows
 * from it what sounds.
 * @param lesson in the key that sounds
 * @example const [page, leadSheet] = await makePartFiles('Bb', lesson, 'a4', openPress);
 */
export async function makePartFiles(
  reader: PartReader,
  lesson: Lesson,
  paper: Paper,
  openPress: () => Promise<Press>,
): Promise<readonly { readonly name: PartFileName; readonly bytes: Uint8Array }[]> {
  return await Promise.all(
    PART_ENDINGS.map(async (ending) => ({
      name: partFileName(reader, ending),
      bytes: await makePartFile(reader, ending, lesson, paper, openPress),
    })),
  );
}

/** One of a part's files (see makePartFiles). */
export async function makePartFile(
  reader: PartReader,
  ending: (typeof PART_ENDINGS)[number],
  lesson: Lesson,
  paper: Paper,
  openPress: () => Promise<Press>,
): Promise<Uint8Array> {
  const concertKey = lesson.analysis.key;
  // the key found is written too, so that the part has a signature and is spelled in it
  const concert = { ...lesson.chart, key: lesson.chart.key ?? concertKey };
  const instrument = reader === 'bass-clef' ? null : reader;
  const chart = instrument === null ? concert : chartForInstrument(concert, instrument);
  if (ending === 'pdf') return await writePart(lesson, { instrument, chart }, { paper, ...(await openPress()) });
  const clef = reader === 'bass-clef' ? 'bass' : 'treble';
  return new TextEncoder().encode(writeLeadSheet(chart, { clef, concertKey: concert.key }));
}
