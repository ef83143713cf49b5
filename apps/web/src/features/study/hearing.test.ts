import { keysOf, pitchClassOf, referenceVoicing } from '@fivespan/core';
import { describe, expect, it } from 'vitest';
import { positionHeard, resolutionHeard, scaleHeard, stretchHeard } from './hearing.ts';
import { lessonOf, TWICE } from './invented-study.ts';

const lesson = lessonOf(TWICE);
const tonic = lesson.plan.slots[2]!;
const chord = tonic.analysed.chord!;

describe('what is heard', () => {
  const melody = (notes: ReturnType<typeof scaleHeard>): number[] => {
    const under: readonly number[] = referenceVoicing(chord);
    return notes.filter((note) => note.startSeconds > 0 && !under.includes(note.midi + 0.5)).map(({ midi }) => midi);
  };

  it('of a chord-scale is each of its notes rising, root to root, over the chord', () => {
    const scale = tonic.analysed.chordScales[0]!;
    const notes = scaleHeard(chord, scale);
    const held = notes.filter(({ startSeconds }) => startSeconds === 0).map(({ midi }) => midi);
    expect(held).toEqual([...referenceVoicing(chord)]);
    const up = melody(notes);
    expect(up.map((key) => key % 12)).toEqual([...scale.notes.map(pitchClassOf), pitchClassOf(scale.scale.root)]);
    expect(up).toEqual([...up].sort((a, b) => a - b));
  });

  it('of a position is its keys, thumb to little finger and back', () => {
    const keys = keysOf(tonic.position!, tonic.thumbMidi!);
    expect(melody(positionHeard(chord, tonic.position!, tonic.thumbMidi!))).toEqual([
      ...keys,
      ...keys.toReversed().slice(1),
    ]);
  });

  it('of an avoid note is the note, then where it goes', () => {
    // common practice: the 4 of a major seventh chord falls to its 3
    const [fourth] = tonic.analysed.chordScales[0]!.avoid;
    expect(melody(resolutionHeard(chord, fourth!))).toEqual([65, 64]);
  });

  it('of a slot is what bass and chorus play in it, from its start', () => {
    const { played } = tonic.analysed;
    const notes = stretchHeard(lesson, played.startTicks, played.endTicks);
    const bass = lesson.bass.filter(({ slotIndex }) => slotIndex === played.index);
    expect(notes.filter(({ instrument }) => instrument === 'acoustic bass')).toHaveLength(bass.length);
    // a bar of four beats at 120 to the minute
    for (const { startSeconds } of notes) expect(startSeconds >= 0 && startSeconds < 2).toBe(true);
    expect(notes[0]?.startSeconds).toBeLessThan(0.05);
  });
});
