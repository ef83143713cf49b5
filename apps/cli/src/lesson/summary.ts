import { formatNoteName, typeset, type Lesson } from '@fivespan/core';
import { headingOf } from '../heading.ts';
import { table } from '../table.ts';

/** Rows of the route a summary shows before it points to the handout. */
const ROUTE_ROWS_SHOWN = 16;

function sizeOf(bytes: number): string {
  return bytes < 1000 ? `${bytes} B` : `${(bytes / 1000).toFixed(bytes < 10_000 ? 1 : 0)} kB`;
}

/** What was made, for a teacher: the tune, where the thumb goes, the files with their sizes, the usual cautions. */
export function summaryOf(
  title: string,
  { analysis, plan }: Lesson,
  files: readonly { readonly path: string; readonly bytes: number }[],
): string {
  const route = plan.slots.map(({ analysed, chordScale, family, position }) => [
    `  ${analysed.played.playedBar.bar.number}`,
    typeset(analysed.played.slot.chord.symbol),
    typeset(analysed.reading.numeral),
    chordScale === null ? '' : typeset(`${formatNoteName(chordScale.scale.root)} ${chordScale.name}`),
    (family?.positions ?? []).map((each) => typeset(formatNoteName(each.thumb))).join(' '),
    position === null ? '' : `thumb ${typeset(formatNoteName(position.thumb))}`,
  ]);
  const rest = route.length - ROUTE_ROWS_SHOWN;
  return [
    headingOf(title, analysis),
    '',
    table([
      ['  bar', 'chord', 'numeral', 'chord-scale', 'family', 'first choice'],
      ...route.slice(0, ROUTE_ROWS_SHOWN),
    ]),
    ...(rest > 0 ? [`  … and ${rest} more chords: see the study page`] : []),
    '',
    table(files.map(({ path, bytes }) => [`  ${path}`, sizeOf(bytes)])),
    '',
    'Rest five minutes in every half hour, stop if anything hurts and see a clinician if it comes back; keep the level moderate.',
    '',
  ].join('\n');
}
