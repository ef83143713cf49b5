import { CHORD_KINDS_BY_SYMBOL, formatNoteName, pitchClass, spellingsOf } from '@fivespan/core';
import type { Chance } from './chance.ts';

const NOTES = Array.from({ length: 12 }, (_, each) => spellingsOf(pitchClass(each), 1))
  .flat()
  .map(formatNoteName);
const USUAL = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B', 'F#', 'C#'];
const USUAL_KINDS = ['m7', '7', 'maj7', 'm7b5', '7alt', '6', 'm6', 'dim7', '7(b9)', '7sus'];
const FAR_BASSES = ['B##', 'E##', 'Fbb', 'Cbb', 'A##', 'Bbb'];

/** A chord that can be read: of the usual ones, or of any kind on any root over any bass. */
function anyChord(chance: Chance): string {
  if (chance.once(20)) return 'N.C.';
  const root = chance.once(3) ? chance.of(NOTES) : chance.of(USUAL);
  const suffix = chance.once(3) ? chance.of(CHORD_KINDS_BY_SYMBOL).suffix : chance.of(USUAL_KINDS);
  if (!chance.once(4)) return root + suffix;
  return `${root}${suffix}/${chance.once(6) ? chance.of(FAR_BASSES) : chance.of(NOTES)}`;
}

function anyBar(chance: Chance, beats: number): string {
  const share = [1, 2, 3, 4].filter((count) => count <= beats && beats % count === 0);
  const cells = Array.from({ length: chance.of(share) }, () => anyChord(chance));
  return chance.once(12) && cells.length === 1 && beats > 1
    ? `${anyChord(chance)}&${anyChord(chance)}${' /'.repeat(beats - 1)}`
    : cells.join(' ');
}

function anySection(chance: Chance, beats: number): string {
  const bars = (count: number): string => Array.from({ length: count }, () => anyBar(chance, beats)).join(' | ');
  const count = 1 + chance.upTo(3);
  switch (chance.upTo(5)) {
    case 0:
      return `|: ${bars(count)} :|`;
    case 1:
      return `|: ${bars(count)} |1. ${bars(1)} :|2. ${bars(1 + chance.upTo(2))} |`;
    case 2:
      return `|: ${bars(count)} :| x${2 + chance.upTo(3)}`;
    default:
      return `| ${bars(count)} |`;
  }
}

const METERS: readonly (readonly [string, number])[] = [
  ['4/4', 4],
  ['4/4', 4],
  ['3/4', 3],
  ['6/8', 2],
  ['5/4', 5],
  ['7/8', 7],
  ['2/2', 2],
  ['12/8', 4],
  ['1/4', 1],
];

/** A chart as a musician could write it, though perhaps nobody would: some are refused, for a reason that is given. */
export function anyChart(chance: Chance): string {
  const [meter, beats] = chance.of(METERS);
  const lines = [
    ...(chance.once(3) ? [`title: ${chance.of(['Tin Kettle', 'Sıra', '夜', 'A \u001b[31m red', '👍👍'])}`] : []),
    ...(chance.once(2) ? [`key: ${chance.of(NOTES)} ${chance.of(['major', 'minor'])}`] : []),
    `meter: ${meter}`,
    ...(chance.once(2) ? [`tempo: ${20 + chance.upTo(381)}`] : []),
    ...(chance.once(3) ? ['feel: even'] : []),
    ...(chance.once(6) && beats > 1 ? ['pickup: 1'] : []),
    '',
    'A:',
    anySection(chance, beats),
    ...(chance.once(3) ? ['', 'B:', anySection(chance, beats)] : []),
    ...(chance.once(4) ? [`key: ${chance.of(USUAL)} major`, anySection(chance, beats)] : []),
  ];
  return `${lines.join('\n')}\n`;
}
