import { describe, expect, it } from 'vitest';
import { analyse, NO_ANALYSIS_PINS, type AnalysedSlot } from '../analysis/index.ts';
import { readChart } from '../chart/index.ts';
import { familyIn, MINOR_PENTATONIC } from '../hand/index.ts';
import { formatNoteName } from '../theory/index.ts';
import { rubbingNotes, smootherScale } from './rubbing-notes.ts';

function slotsOf(text: string): readonly AnalysedSlot[] {
  const read = readChart(text);
  if (!read.ok) throw new RangeError(`text must be a chart: ${text}`);
  return analyse(read.value, NO_ANALYSIS_PINS).slots;
}

// common practice throughout
describe('what rubs', () => {
  const [, , tonic] = slotsOf('key: Eb major\n\n| Fm7 | Bb7 | Ebmaj7 | % |\n');
  const { chord, chordScales } = tonic!;
  const [ionian] = chordScales;
  const family = familyIn(MINOR_PENTATONIC, ionian!.notes);

  it('is the fourth of the tonic, above its third; the position on F has it, those on C and G leave it out', () => {
    const found = rubbingNotes(chord!, ionian!, family);
    expect(found.map(({ avoid }) => formatNoteName(avoid.note))).toEqual(['Ab']);
    expect(found[0]?.above).toEqual({ note: chord!.root + 4, step: 2 });
    expect(found[0]?.leftOutBy.map(formatNoteName)).toEqual(['C', 'G']);
  });

  it('is nothing raised a fifth: Lydian alters the one note', () => {
    const smoother = smootherScale(chordScales, chord!, ionian!, MINOR_PENTATONIC);
    expect(smoother?.chordScale.name).toBe('Lydian');
    expect(smoother?.changes.map(({ from, to }) => [formatNoteName(from), formatNoteName(to)])).toEqual([['Ab', 'A']]);
    expect(smoother?.family.positions.map(({ thumb }) => formatNoteName(thumb))).toEqual(['C', 'G', 'D']);
    expect(rubbingNotes(chord!, smoother!.chordScale, smoother!.family)).toEqual([]);
    expect(smootherScale(chordScales, chord!, smoother!.chordScale, MINOR_PENTATONIC)).toBeUndefined();
  });

  it('on the ii is its natural sixth, which is no half step above a chord tone', () => {
    const [second] = slotsOf('key: Eb major\n\n| Fm7 | Bb7 | Ebmaj7 | % |\n');
    const [sixth] = rubbingNotes(second!.chord!, second!.chordScales[0]!, null);
    expect(formatNoteName(sixth!.avoid.note)).toBe('D');
    expect(sixth!.above).toBeNull();
    expect(sixth!.leftOutBy).toEqual([]);
  });
});
