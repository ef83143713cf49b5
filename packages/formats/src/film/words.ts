import type { HandPlace, Key, Lesson, NoteName, Said, SceneKind } from '@fivespan/core';
import { typeset } from '@fivespan/core';
import { chordLine, degreeLabel, noteText, placeMarks, type PlaceMark } from '../diagram/index.ts';

const SCENE_WORDS: Readonly<Record<SceneKind, string>> = {
  title: 'Title',
  idea: 'The idea',
  position: 'One hand',
  play: 'Played',
  'key change': 'Another key',
  end: 'End',
};

function listed(items: readonly string[]): string {
  return items.length < 2 ? (items[0] ?? '') : `${items.slice(0, -1).join(', ')} and ${items.at(-1)}`;
}

const notes = (names: readonly NoteName[]): string => names.map(noteText).join(' ');

const keyText = (key: Key): string => `${noteText(key.tonic)} ${key.mode}`;

const STEP_WORDS: Readonly<Record<number, string>> = { 1: 'a half step', 2: 'a whole step' };

/** A name that may begin a sentence: 'minor pentatonic' stays, a shape without one is its steps. */
const shapeText = (name: string): string =>
  /^[\d-]+$/u.test(name) ? 'One shape' : `${name[0]?.toUpperCase() ?? ''}${name.slice(1)}`;

/** A thumb as its tab names it, its shape and octave told apart. */
type ThumbName = (lesson: number, hand: HandPlace) => string;

function thumbNames(lessons: readonly Lesson[]): ThumbName {
  const marks = new Map<number, PlaceMark>();
  return (index, { position, thumbMidi }) => {
    const lesson = lessons[index];
    if (lesson === undefined) throw new RangeError(`lesson must be one of the film's ${lessons.length}, not ${index}`);
    const markOf = marks.get(index) ?? placeMarks(lesson);
    marks.set(index, markOf);
    return noteText(position.thumb) + markOf(position, thumbMidi);
  };
}

function saidText(said: Said, thumb: ThumbName): string {
  switch (said.code) {
    case 'own':
      return said.text;
    case 'title':
      return `${said.title}, in ${keyText(said.key)}.`;
    case 'idea.chord':
      return `Listen to ${chordLine(said.chord)}.`;
    case 'idea.scale':
      return `Over ${chordLine(said.chord)}: ${noteText(said.chordScale.scale.root)} ${typeset(said.chordScale.name)}.`;
    case 'idea.family': {
      const names = said.hands.map((hand) => thumb(said.lesson, hand));
      return names.length === 1
        ? `${shapeText(said.shape)}: one hand, thumb on ${listed(names)}.`
        : `${shapeText(said.shape)}, ${names.length} hands: thumb on ${listed(names)}.`;
    }
    case 'idea.rubs':
      return (
        `${noteText(said.note)} rubs: let it ${said.semitones < 0 ? 'fall' : 'rise'} ` +
        `${STEP_WORDS[Math.abs(said.semitones)] ?? 'a step'} to ${noteText(said.target)}.`
      );
    case 'position.thumb':
      return `${chordLine(said.chord)}: thumb on ${thumb(said.lesson, said.hand)}.`;
    case 'position.fingers':
      return `Five fingers: ${notes(said.position.notes)}.`;
    case 'position.thirds':
      return `Two at a time: ${listed(said.pairs.map(([low, high]) => `${low} with ${high}`))}.`;
    case 'play.listen':
      return `Listen: ♩ = ${said.tempoBpm}.`;
    case 'play.turn':
      return 'Your turn: the right hand is yours.';
    case 'play.thumb': {
      const degrees = said.hand.position.notes.map((note) => degreeLabel(said.chord, said.chordScale, note).text);
      return `Thumb on ${thumb(said.lesson, said.hand)}: the ${listed(degrees)} of the chord.`;
    }
    case 'play.thumbs':
      return (
        `${listed(said.chords.map(chordLine))}: thumb on ` +
        `${said.hands.map((hand) => thumb(said.lesson, hand)).join(', then ')}.`
      );
    case 'play.chord':
      return chordLine(said.chord);
    case 'play.ending':
      return '';
    case 'key':
      return `Now in ${keyText(said.key)}.`;
    case 'end':
      return 'Now you, slowly. Rest when a hand tires, and keep the level moderate.';
  }
}

/** Every word of a film. A translation is another table of this type; sentences are made whole. */
export interface FilmWords {
  readonly language: string;
  readonly said: (said: Said) => string;
  /** As it stands in a caption file, where no picture says which chord it is. */
  readonly caption: (said: Said) => string;
  readonly scene: (kind: SceneKind, isDemonstrated: boolean, key: Key) => string;
  readonly key: (key: Key) => string;
  readonly tempo: (bpm: number) => string;
  readonly scale: (said: Extract<Said, { code: 'idea.scale' }>['chordScale']) => string;
  readonly hand: ThumbName;
  readonly thumb: ThumbName;
  readonly end: string;
  readonly care: string;
  /** Beside a description's chapters. */
  readonly keys: (keys: readonly Key[]) => string;
  /** A tune and who plays it. */
  readonly played: (title: string, player: string) => string;
}

/**
 * The words of a film in English.
 * @param lessons the film's: what they call their thumbs
 */
export function englishFilmWords(lessons: readonly Lesson[]): FilmWords {
  const thumb = thumbNames(lessons);
  return {
    language: 'en',
    said: (said) => saidText(said, thumb),
    caption: (said) =>
      said.code === 'play.thumb' ? `${chordLine(said.chord)}. ${saidText(said, thumb)}` : saidText(said, thumb),
    scene: (kind, isDemonstrated, key) =>
      kind === 'play'
        ? `${isDemonstrated ? 'Played' : 'Your turn'}, ${keyText(key)}`
        : kind === 'key change'
          ? keyText(key)
          : SCENE_WORDS[kind],
    key: keyText,
    tempo: (bpm) => `♩ = ${bpm}`,
    scale: ({ scale, name }) => `${noteText(scale.root)} ${typeset(name)}`,
    hand: (lesson, hand) => `${shapeText(hand.position.shape.name)}, thumb on ${thumb(lesson, hand)}`,
    thumb,
    end: 'Now you, slowly.',
    care: 'Rest five minutes in every half hour; stop if anything hurts. Keep the level moderate.',
    played: (title, player) => `${title}, played by ${player}`,
    keys: (keys) => `${keys.length === 1 ? 'Key' : 'Keys'}: ${listed(keys.map(keyText))}`,
  };
}
