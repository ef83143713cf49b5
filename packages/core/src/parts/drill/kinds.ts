import { avoidResolved } from './avoid-resolved.ts';
import { callAndAnswer } from './call-and-answer.ts';
import type { DrillKind, DrillKindId } from './drill-kind.ts';
import { familyOrder } from './family-order.ts';
import { fingerPatterns } from './finger-patterns.ts';
import { guideTones } from './guide-tones.ts';
import { handIndependence } from './hand-independence.ts';
import { inThirds } from './in-thirds.ts';
import { motiveEverywhere } from './motive-everywhere.ts';
import { outsideAndBack } from './outside-and-back.ts';
import { sameLine } from './same-line.ts';
import { thumbsFirst } from './thumbs-first.ts';

/** The table of drills. A new kind is a row here, its words (words.ts) and a file. */
export const DRILLS: { readonly [Id in DrillKindId]: DrillKind } = {
  'finger-patterns': fingerPatterns,
  family: familyOrder,
  thumbs: thumbsFirst,
  'in-thirds': inThirds,
  'avoid-notes': avoidResolved,
  'outside-and-back': outsideAndBack,
  motive: motiveEverywhere,
  'hand-independence': handIndependence,
  'guide-tones': guideTones,
  'call-and-answer': callAndAnswer,
  'same-line': sameLine,
};
