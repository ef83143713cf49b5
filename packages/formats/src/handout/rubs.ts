import {
  rubbingNotes,
  smootherScale,
  typeset,
  type Chord,
  type ChordScale,
  type Lesson,
  type NoteName,
  type RubbingNote,
} from '@fivespan/core';
import { chordLine, degreeLabel, noteText } from '../diagram/index.ts';
import type { HandoutWords } from './words.ts';

/** What is said about the notes that rub over one chord. */
export interface RubbingChord {
  readonly chord: Chord;
  readonly sentences: readonly string[];
}

/** A note as text, with ♮ where a reader expects it altered. */
function withNatural(note: NoteName): string {
  const text = noteText(note);
  return text.length === 1 ? `${text}♮` : text;
}

function sentencesFor(
  { avoid, above, leftOutBy }: RubbingNote,
  chord: Chord,
  chordScale: ChordScale,
  words: HandoutWords,
): string[] {
  const note = noteText(avoid.note);
  const degree = degreeLabel(chord, chordScale, avoid.note).text;
  const sentences = [
    above === null ? words.rubs(note, degree) : words.rubsAbove(note, degree, above.step, noteText(above.note)),
  ];
  const [nearest] = avoid.resolvesTo;
  if (nearest !== undefined) sentences.push(words.resolve(note, nearest.semitones, noteText(nearest.note)));
  if (leftOutBy.length > 0) sentences.push(words.leftOut(leftOutBy.map(noteText), note));
  return sentences;
}

/** What rubs over each chord of the lesson, each chord with its chord-scale once, in the order they are met. */
export function rubbingChords(lesson: Lesson, words: HandoutWords): RubbingChord[] {
  const seen = new Set<string>();
  const found: RubbingChord[] = [];
  for (const slot of lesson.plan.slots) {
    const { chordScale, family } = slot;
    const { chord } = slot.analysed;
    if (chord === null || chordScale === null || chordScale.avoid.length === 0) continue;
    // the bass under a chord does not change what rubs
    const key = `${chord.root} ${chord.suffix} ${chordScale.id} ${family?.shape.id ?? ''}`;
    if (seen.has(key)) continue;
    seen.add(key);
    const sentences = rubbingNotes(chord, chordScale, family).flatMap((each) =>
      sentencesFor(each, chord, chordScale, words),
    );
    const smoother =
      slot.position === null
        ? undefined
        : smootherScale(slot.analysed.chordScales, chord, chordScale, slot.position.shape);
    if (smoother !== undefined) {
      sentences.push(
        words.insteadOf(
          `${noteText(smoother.chordScale.scale.root)} ${typeset(smoother.chordScale.name)}`,
          smoother.family.positions.map((each) => noteText(each.thumb)),
          smoother.changes.map(({ from, to }) => ({ from: noteText(from), to: withNatural(to) })),
        ),
      );
    }
    found.push({ chord: { ...chord, bass: null }, sentences });
  }
  return found;
}

/** Chords of which the same is said, each saying once, where it is first met. */
export function sayingTheSame(
  rubbing: readonly RubbingChord[],
): { readonly chords: readonly Chord[]; readonly sentences: readonly string[] }[] {
  const bySentences = new Map<string, { readonly chords: Chord[]; readonly sentences: readonly string[] }>();
  for (const { chord, sentences } of rubbing) {
    const said = sentences.join('\n');
    const entry = bySentences.get(said);
    if (entry === undefined) bySentences.set(said, { chords: [chord], sentences });
    // the same chord with another scale of which no more is to be said
    else if (!entry.chords.some((each) => chordLine(each) === chordLine(chord))) entry.chords.push(chord);
  }
  return [...bySentences.values()];
}
