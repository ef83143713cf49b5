import { atom } from 'nanostores';

/** What the desk shows of the chosen chord: what it means, what the hand does, what is written. */
export const DESK_VIEWS = ['chord', 'hand', 'notes'] as const;
export type DeskView = (typeof DESK_VIEWS)[number];

/** The view the teacher was in last: going to another screen and back does not change it. */
export const $deskView = atom<DeskView>('chord');

/** What the view of the hand is about: one chord, all that a free hand may do there, the way through all of them, how far outside it may go, or how it is voiced. */
export const HAND_PARTS = ['here', 'free', 'way', 'curve', 'voicing'] as const;
export type HandPart = (typeof HAND_PARTS)[number];
export const $handPart = atom<HandPart>('here');

/** Whether the ladder shows how rough each of its scales sounds: few ask. */
export const $roughnessShown = atom(false);
