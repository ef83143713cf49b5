/** How loud it is: moderate at first, softer where a lesson is made for a small hand, which may be a child's. */
import { spanMmOf, type HandSize } from '@fivespan/core';
import { computed } from 'nanostores';
import { $open } from '../open-lesson/index.ts';
import { $settings } from '../settings/index.ts';

/** The small hand of the lesson's choices (core, hand-size.ts), and whatever is measured to be no wider. */
const SMALL_SPAN_MM = spanMmOf('small');

/** A child's ears are nearer, and time at the instrument adds up: about 4 dB less. Our own; no medical figure. */
const GENTLER = 0.6;

function isGentle(hand: HandSize | undefined): boolean {
  return hand !== undefined && spanMmOf(hand) <= SMALL_SPAN_MM;
}

/** Whether the open lesson is played softer than the settings say. */
export const $isGentle = computed($open, (open) => isGentle(open?.choices.hand));

/** Linear, 0 to 1. */
export const $soundLevel = computed(
  [$settings, $isGentle],
  ({ soundLevel }, gentle) => soundLevel * (gentle ? GENTLER : 1),
);
