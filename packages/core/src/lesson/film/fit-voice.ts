import type { Cue, Scene, Still } from '../../film/index.ts';
import type { ScenePart } from './scene-part.ts';

/**
 * What is shown of an idea or a hand is played faster or slower, so that it ends with what is spoken, but only so much: beyond that nobody
 * could follow, or everybody would wait. Ours, found by looking.
 */
const SLOWEST = 2;
const FASTEST = 0.6;
/** A card is seen for so long at least. */
const SHORTEST_CARD_SECONDS = 1.5;

/** How everything of a scene is stretched for it to take a time. A chorus takes what its music takes. */
function stretchOf({ kind }: Scene, has: number, wanted: number): number {
  return kind === 'idea' || kind === 'position' ? Math.min(SLOWEST, Math.max(FASTEST, wanted / has)) : 1;
}

/** A scene's natural length where nothing is spoken: a card has none. */
function leastOf({ kind }: Scene, part: ScenePart): number {
  return kind === 'play' || kind === 'idea' || kind === 'position' ? part.endSeconds : SHORTEST_CARD_SECONDS;
}

/**
 * A scene that takes the length of what is spoken in it. What is shown goes slower or faster within bounds, a card stays for as long, a
 * chorus stays as long as its music; where that is shorter than the voice, the last picture is held.
 * @param part the scene as long as it is by itself
 */
export function fitVoice(part: ScenePart, scene: Scene): ScenePart {
  if (scene.voice === null) return part;
  const wanted = Math.max(scene.voice.seconds, scene.seconds ?? 0);
  const by = stretchOf(scene, part.endSeconds, wanted);
  const endSeconds = Math.max(wanted, leastOf(scene, part) * by);
  const last = part.cues.at(-1);
  const cueOf = (cue: Cue): Cue => ({
    ...cue,
    startSeconds: Math.min(endSeconds, cue.startSeconds * by),
    // in a chorus the last chord's words go with the last chord
    endSeconds: cue === last && scene.kind !== 'play' ? endSeconds : Math.min(endSeconds, cue.endSeconds * by),
  });
  const stillOf = (still: Still): Still => ({ ...still, startSeconds: still.startSeconds * by });
  return {
    ...part,
    cues: part.cues.map(cueOf),
    stills: part.stills.map(stillOf),
    events: part.events.map((event) => ({
      ...event,
      startSeconds: event.startSeconds * by,
      durationSeconds: event.durationSeconds * by,
    })),
    endSeconds,
  };
}
