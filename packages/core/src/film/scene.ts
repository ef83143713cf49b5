import type { Key } from '../theory/index.ts';

/** What a scene of a lesson's film is. */
export const SCENE_KINDS = ['title', 'idea', 'position', 'play', 'key change', 'end'] as const;
export type SceneKind = (typeof SCENE_KINDS)[number];

/** A recording that is laid under a scene. The sound itself is kept elsewhere, under its hash: a lesson only names it. */
export interface SceneVoice {
  /** The file's name, as it was chosen. */
  readonly name: string;
  /** SHA-256 of the file's bytes, in 64 hexadecimal digits. */
  readonly hash: string;
  readonly seconds: number;
  /** The key of the film that it speaks in: in another it would name wrong notes. */
  readonly key: Key;
}

/** A scene as the teacher wants it. What is null is found in the lesson. */
export interface Scene {
  readonly kind: SceneKind;
  /** What the teacher says in it, in place of the words that are computed. */
  readonly words: string | null;
  /** How long it is to be seen at least. A play scene takes what its music takes. */
  readonly seconds: number | null;
  /** The id of the chart's slot that an idea or a position is about. */
  readonly slot: string | null;
  /** The key from here on. */
  readonly key: Key | null;
  /** In a play scene: whether the right hand plays the example, or leaves its place to the student. */
  readonly isDemonstrated: boolean;
  /** What is spoken in it; null for no recording. */
  readonly voice: SceneVoice | null;
}

/** Bounds of a film: beyond them it is a slip of the pen. */
export const MOST_SCENES = 60;
export const LONGEST_SCENE_SECONDS = 600;
export const LONGEST_WORDS = 400;
export const LONGEST_VOICE_SECONDS = 300;
export const LONGEST_VOICE_NAME = 200;
/** A larger file is no voice: five minutes of stereo in 24 bits have less. */
export const LARGEST_VOICE_BYTES = 100_000_000;

/**
 * A scene of a kind with everything else found in the lesson.
 * @example sceneOf('title').words // → null
 */
export function sceneOf(kind: SceneKind, chosen: Partial<Omit<Scene, 'kind'>> = {}): Scene {
  return { kind, words: null, seconds: null, slot: null, key: null, isDemonstrated: true, voice: null, ...chosen };
}

/** The scenes of a film where nothing was chosen. Common practice: say what comes, show it, play it, let it be played. */
export const USUAL_SCENES: readonly Scene[] = [
  sceneOf('title'),
  sceneOf('idea'),
  sceneOf('position'),
  sceneOf('play'),
  sceneOf('play', { isDemonstrated: false }),
  sceneOf('end'),
];
