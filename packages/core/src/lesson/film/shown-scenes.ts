import {
  EMPTY_PICTURE,
  type Card,
  type Cue,
  type Picture,
  type Said,
  type Scene,
  type Still,
} from '../../film/index.ts';
import { FINGERS, keysOf, thumbKeysOn, type Position } from '../../hand/index.ts';
import { leadVoicings } from '../../parts/index.ts';
import { midiOf, pitchClassOf, type Midi, type NoteName } from '../../theory/index.ts';
import type { ProgrammeEvent } from '../programme/index.ts';
import { ideaSlot, keyboardOf, type HeldSlot } from './held-slot.ts';
import { SHOWING_PIANO, shownNote, type ScenePart, type SceneSources } from './scene-part.ts';

/** How long each kind of card is read. Ours: a title is short, an end says what to do next. */
const TITLE_SECONDS = 5;
const KEY_SECONDS = 4;
const END_SECONDS = 7;

/** A rest before the first note, a note of a scale, a chord, and what is left to look at. Ours, found by looking. */
const BREATH_SECONDS = 1.2;
const NOTE_SECONDS = 0.7;
const CHORD_SECONDS = 3;
const LOOK_SECONDS = 2;

/** A scene still growing: what comes next begins where it is. */
class Growing {
  readonly stills: Still[] = [];
  readonly cues: Cue[] = [];
  readonly events: ProgrammeEvent[] = [];
  now = 0;
  #said: { readonly said: Said; readonly from: number } | null = null;

  show(picture: Picture): void {
    this.stills.push({ startSeconds: this.now, picture });
  }

  /** Says something from now on, until something else is said. */
  say(said: Said): void {
    this.#close();
    this.#said = { said, from: this.now };
  }

  wait(seconds: number): void {
    this.now += seconds;
  }

  sound(midi: number, seconds: number, velocity?: number): void {
    this.events.push(shownNote(this.now, seconds, midi, velocity));
  }

  #close(): void {
    if (this.#said === null || this.now <= this.#said.from) return;
    this.cues.push({ startSeconds: this.#said.from, endSeconds: this.now, said: this.#said.said });
  }

  /** The scene, as long as was asked for at least. */
  part(leastSeconds: number | null): ScenePart {
    this.now = Math.max(this.now, leastSeconds ?? 0);
    this.#close();
    const { stills, cues, events } = this;
    return { stills, cues, events, players: [SHOWING_PIANO], endSeconds: this.now };
  }
}

/** The teacher's own words stand in place of everything that would be said. */
function withOwnWords(part: ScenePart, { words }: Scene): ScenePart {
  if (words === null) return part;
  const said: Said = { code: 'own', text: words };
  return {
    ...part,
    cues: words.trim() === '' ? [] : [{ startSeconds: 0, endSeconds: part.endSeconds, said }],
    stills: part.stills.map(({ startSeconds, picture }) => ({
      startSeconds,
      picture: { ...picture, caption: words.trim() === '' ? null : said },
    })),
  };
}

function cardScene(scene: Scene, card: Card, said: Said, seconds: number): ScenePart {
  const growing = new Growing();
  growing.say(said);
  growing.show({ ...EMPTY_PICTURE, card });
  growing.wait(scene.seconds ?? seconds);
  const part = growing.part(null);
  // a card says it all in large letters
  return scene.words === null ? part : withOwnWords(part, scene);
}

/** The tune's name, its key and tempo. */
export function titleScene(scene: Scene, { heading }: SceneSources): ScenePart {
  return cardScene(scene, { kind: 'title', ...heading }, { code: 'title', ...heading }, TITLE_SECONDS);
}

/** The key from here on. */
export function keyScene(scene: Scene, { heading: { key } }: SceneSources): ScenePart {
  return cardScene(scene, { kind: 'key', key }, { code: 'key', key }, KEY_SECONDS);
}

export function endScene(scene: Scene, { heading: { title, key } }: SceneSources): ScenePart {
  return cardScene(scene, { kind: 'end', title }, { code: 'end', key }, END_SECONDS);
}

/** The key of a position's thumb that lies nearest to another. */
function thumbNear(position: Position, to: Midi, keyboard: ReturnType<typeof keyboardOf>): Midi | undefined {
  return thumbKeysOn(position, keyboard).toSorted((a, b) => Math.abs(a - to) - Math.abs(b - to) || a - b)[0];
}

/** Notes one above the other, from the first at middle C or above. */
function ascending(notes: readonly NoteName[]): number[] {
  let last = 59;
  return notes.map((note) => {
    last++;
    while (last % 12 !== pitchClassOf(note)) last++;
    return last;
  });
}

/** The chord's voicing with its root below. */
function chordKeys({ lesson }: SceneSources, { index, chord }: HeldSlot): number[] {
  const voicing = leadVoicings(lesson.analysis, 'rootless')[index];
  let root = 36;
  while (root % 12 !== pitchClassOf(chord.root)) root++;
  return [root, ...(voicing?.pitches ?? []).map(midiOf).filter((key) => key > root)];
}

/** A chord: how it sounds, its scale note by note, the hands that make it, what rubs in it and where that goes. */
export function ideaScene(scene: Scene, sources: SceneSources): ScenePart | undefined {
  const { lesson, lessonIndex, heading } = sources;
  const held = ideaSlot(lesson, scene.slot);
  if (held === undefined) return undefined;
  const { chord, chordScale, family, thumbMidi } = held;
  const keyboard = keyboardOf(lesson);
  const growing = new Growing();
  const bare = { lesson: lessonIndex, ...keyboard, hand: null, next: null, degrees: null };
  const now = { chord, beat: null, beats: 0 };
  const base: Picture = { ...EMPTY_PICTURE, heading, now, keyboard: bare };
  const strike = (seconds: number): void =>
    chordKeys(sources, held).forEach((key, at) => growing.sound(key, seconds, at === 0 ? 66 : 58));

  let said: Said = { code: 'idea.chord', chord };
  growing.say(said);
  growing.show({ ...base, caption: said });
  growing.wait(BREATH_SECONDS);
  strike(CHORD_SECONDS);
  growing.wait(CHORD_SECONDS + 0.4);

  said = { code: 'idea.scale', chord, chordScale };
  growing.say(said);
  const cardOf = (named: number): Card => ({ kind: 'scale', chord, chordScale, named });
  const degreesOf = (notes: readonly NoteName[]) => ({ chord, chordScale, notes });
  for (const [index, key] of ascending(chordScale.notes).entries()) {
    const notes = chordScale.notes.slice(0, index + 1);
    const shown = { ...bare, degrees: degreesOf(notes) };
    growing.show({ ...base, card: cardOf(notes.length), keyboard: shown, caption: said });
    growing.sound(key, NOTE_SECONDS * 0.95);
    growing.wait(NOTE_SECONDS);
  }
  growing.wait(LOOK_SECONDS - NOTE_SECONDS);

  const card = cardOf(chordScale.notes.length);
  const degrees = degreesOf(chordScale.notes);
  const hands = (family?.positions ?? []).flatMap((position) => {
    const thumb = thumbNear(position, thumbMidi, keyboard);
    return thumb === undefined ? [] : [{ position, thumbMidi: thumb }];
  });
  const [first] = hands;
  if (first !== undefined) {
    said = { code: 'idea.family', chord, shape: first.position.shape.name, lesson: lessonIndex, hands };
    growing.say(said);
    for (const hand of hands) {
      growing.show({ ...base, card, keyboard: { ...bare, hand: { ...hand, fingers: 5 } }, caption: said });
      keysOf(hand.position, hand.thumbMidi).forEach((key, finger) =>
        growing.events.push(shownNote(growing.now + 0.1 + finger * 0.22, 0.3, key)),
      );
      growing.wait(LOOK_SECONDS);
    }
  }

  const [rubbing] = chordScale.avoid;
  const goal = rubbing?.resolvesTo[0];
  if (rubbing !== undefined && goal !== undefined) {
    const { note } = rubbing;
    said = { code: 'idea.rubs', chord, chordScale, note, target: goal.note, semitones: goal.semitones };
    growing.say(said);
    growing.show({ ...base, card, keyboard: { ...bare, degrees: degreesOf([note]) }, caption: said });
    strike(CHORD_SECONDS + 1.6);
    const at = ascending(chordScale.notes)[chordScale.notes.indexOf(note)] ?? 65;
    growing.wait(0.3);
    growing.sound(at + 12, 2, 78);
    growing.wait(2);
    growing.show({ ...base, card, keyboard: { ...bare, degrees: degreesOf([note, goal.note]) }, caption: said });
    growing.sound(at + 12 + goal.semitones, CHORD_SECONDS, 72);
    growing.wait(CHORD_SECONDS);
  } else {
    growing.show({ ...base, card, keyboard: { ...bare, degrees }, caption: said });
    growing.wait(LOOK_SECONDS);
  }
  return withOwnWords(growing.part(scene.seconds), scene);
}

/** Fingers a third apart in a five-note hand: the chords the hand holds. */
const THIRDS = [
  [1, 3],
  [2, 4],
  [3, 5],
] as const;

/** One hand: its thumb, its fingers one by one, then two at a time. */
export function positionScene(scene: Scene, { lesson, lessonIndex, heading }: SceneSources): ScenePart | undefined {
  const held = ideaSlot(lesson, scene.slot);
  if (held === undefined) return undefined;
  const { chord, chordScale, position, thumbMidi } = held;
  const growing = new Growing();
  const hand = { position, thumbMidi };
  const keys = keysOf(position, thumbMidi);
  const pictureOf = (fingers: number, caption: Said): Picture => ({
    ...EMPTY_PICTURE,
    heading,
    card: { kind: 'hand', chord, chordScale, lesson: lessonIndex, hand, named: fingers },
    now: { chord, beat: null, beats: 0 },
    keyboard: {
      lesson: lessonIndex,
      ...keyboardOf(lesson),
      hand: { ...hand, fingers },
      next: null,
      degrees: null,
    },
    caption,
  });
  let said: Said = { code: 'position.thumb', chord, lesson: lessonIndex, hand };
  growing.say(said);
  growing.show(pictureOf(0, said));
  growing.wait(BREATH_SECONDS);
  growing.show(pictureOf(1, said));
  growing.sound(thumbMidi, 1.2);
  growing.wait(LOOK_SECONDS);
  said = { code: 'position.fingers', position };
  growing.say(said);
  for (const finger of FINGERS) {
    growing.show(pictureOf(finger, said));
    growing.sound(keys[finger - 1] as number, NOTE_SECONDS);
    growing.wait(NOTE_SECONDS);
  }
  for (const finger of [4, 3, 2, 1]) {
    growing.sound(keys[finger - 1] as number, NOTE_SECONDS / 2);
    growing.wait(NOTE_SECONDS / 2);
  }
  growing.wait(NOTE_SECONDS);
  said = { code: 'position.thirds', pairs: THIRDS };
  growing.say(said);
  growing.show(pictureOf(5, said));
  for (const pair of THIRDS) {
    for (const finger of pair) growing.sound(keys[finger - 1] as number, NOTE_SECONDS * 1.2);
    growing.wait(NOTE_SECONDS * 1.4);
  }
  growing.wait(LOOK_SECONDS / 2);
  return withOwnWords(growing.part(scene.seconds), scene);
}
