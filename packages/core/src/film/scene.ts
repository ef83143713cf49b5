import type { Key } from '../theory/index.ts';

/** What a scene of a lesson's film is. */
export const SCENE_KINDS = ['title', 'idea', 'position', 'play', 'key change', 'end'] as const;
export type SceneKind = (typeof SCENE_KINDS)[number];

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
}

/** Bounds of a film: beyond them it is a slip of the pen. */
export const MOST_SCENES = 60;
export const LONGEST_SCENE_SECONDS = 600;
export const LONGEST_WORDS = 400;

/**
 * A scene of a kind with everything else found in the lesson.
 * @example sceneOf('title').words // → null
 */
export function sceneOf(kind: SceneKind, chosen: Partial<Omit<Scene, 'kind'>> = {}): Scene {
  return { kind, words: null, seconds: null, slot: null, key: null, isDemonstrated: true, ...chosen };
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
