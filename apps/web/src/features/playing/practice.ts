import type { HeardPlayer } from '@fivespan/core';
import { atom } from 'nanostores';
import type { LoopBars } from './course.ts';
import type { BarPlace } from './piece.ts';

/** How loud a player is to be heard. */
export interface PlayerMix {
  readonly muted: boolean;
  readonly solo: boolean;
  /** Linear: 1 as the programme has it, 0 to 2. */
  readonly level: number;
}

/** How the programme is practised just now. Not kept with the lesson. */
export interface Practice {
  readonly start: BarPlace;
  readonly loop: LoopBars | null;
  /** Share of the programme's tempi. */
  readonly rate: number;
  readonly mix: Readonly<Record<HeardPlayer, PlayerMix>>;
}

const AS_IT_IS: PlayerMix = { muted: false, solo: false, level: 1 };

export const WHOLE_PROGRAMME: Practice = {
  start: { chorus: 0, bar: 0 },
  loop: null,
  rate: 1,
  mix: { 'right hand': AS_IT_IS, 'left hand': AS_IT_IS, bass: AS_IT_IS, drums: AS_IT_IS, metronome: AS_IT_IS },
};

export const $practice = atom<Practice>(WHOLE_PROGRAMME);

let practised: string | undefined;

/** Says which lesson is practised: with another one everything is as it is written, nothing slower and nobody silent unasked. */
export function practise(lessonId: string): void {
  if (practised !== undefined && practised !== lessonId) $practice.set(WHOLE_PROGRAMME);
  practised = lessonId;
}
