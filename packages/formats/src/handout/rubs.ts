import {
  degreeAbove,
  familyIn,
  modulo,
  notesOfChord,
  pitchClassOf,
  stepOf,
  typeset,
  type AvoidNote,
  type Chord,
  type ChordScale,
  type Family,
  type Lesson,
  type NoteName,
  type PlannedSlot,
} from '@fivespan/core';
import { degreeLabel, noteText } from '../diagram/index.ts';
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

function sameKey(a: NoteName, b: NoteName): boolean {
  return pitchClassOf(a) === pitchClassOf(b);
}

function sentencesFor(
  avoid: AvoidNote,
  chord: Chord,
  chordScale: ChordScale,
  family: Family | null,
  words: HandoutWords,
): string[] {
  const note = noteText(avoid.note);
  const degree = degreeLabel(chord, chordScale, avoid.note).text;
  const below = notesOfChord(chord).find((tone) => modulo(pitchClassOf(avoid.note) - pitchClassOf(tone), 12) === 1);
  const sentences = [
    below === undefined
      ? words.rubs(note, degree)
      : words.rubsAbove(note, degree, stepOf(degreeAbove(chord.root, below)), noteText(below)),
  ];
  const [nearest] = avoid.resolvesTo;
  if (nearest !== undefined) sentences.push(words.resolve(note, nearest.semitones, noteText(nearest.note)));
  const positions = family?.positions ?? [];
  const without = positions.filter((each) => !each.notes.some((name) => sameKey(name, avoid.note)));
  if (without.length > 0 && without.length < positions.length) {
    sentences.push(
      words.leftOut(
        without.map((each) => noteText(each.thumb)),
        note,
      ),
    );
  }
  return sentences;
}

/** A chord-scale in which nothing rubs, with its family and what becomes of the notes that did. */
interface SmootherScale {
  readonly chordScale: ChordScale;
  readonly family: Family;
  readonly changes: readonly { readonly from: string; readonly to: string }[];
}

/**
 * The next chord-scale of the ladder that holds the chord, in which nothing rubs, and where each note that did is altered:
 * A♭ becomes A♮. Other scales may be as smooth, but a player would have to learn them, not to raise one note.
 */
function smootherScale(slot: PlannedSlot, chord: Chord, chordScale: ChordScale): SmootherScale | undefined {
  if (slot.position === null) return undefined;
  for (const other of slot.analysed.chordScales) {
    // a scale moved to sound like the chord's own root may be spelled from its enharmonic
    if (
      !sameKey(other.scale.root, chord.root) ||
      other.avoid.length > 0 ||
      other.outsideness.guideTonesLost > 0 ||
      other.missing.length > 0
    )
      continue;
    const changes = chordScale.avoid.flatMap((avoid) => {
      const step = stepOf(degreeAbove(chord.root, avoid.note));
      const to = other.notes.find((each) => stepOf(degreeAbove(other.scale.root, each)) === step);
      return to === undefined || sameKey(to, avoid.note) ? [] : [{ from: noteText(avoid.note), to: withNatural(to) }];
    });
    if (changes.length < chordScale.avoid.length) continue;
    const family = familyIn(slot.position.shape, other.notes);
    if (family.positions.length > 0) return { chordScale: other, family, changes };
  }
  return undefined;
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
    const sentences = chordScale.avoid.flatMap((avoid) => sentencesFor(avoid, chord, chordScale, family, words));
    const smoother = smootherScale(slot, chord, chordScale);
    if (smoother !== undefined) {
      sentences.push(
        words.insteadOf(
          `${noteText(smoother.chordScale.scale.root)} ${typeset(smoother.chordScale.name)}`,
          smoother.family.positions.map((each) => noteText(each.thumb)),
          smoother.changes,
        ),
      );
    }
    found.push({ chord: { ...chord, bass: null }, sentences });
  }
  return found;
}
