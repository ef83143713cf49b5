import { useMemo } from 'react';
import { $found, $piece, $practice, type Moment } from '../../features/playing/index.ts';
import { $settings } from '../../features/settings/index.ts';
import type { StageContent } from '../stage/stage-content.ts';
import { useStore } from '../use-store.ts';
import { everyFreeSet, freeStageOf } from './free-stage.ts';
import { stageOf, travelsOf, useStageTexts } from './stage-of-moment.ts';

const NOWHERE = { forms: [] };

/**
 * A moment as the stage shows it, one way or for a free hand.
 * @param rests what is to be read where the beats are, while nothing sounds; null while it does
 */
export function useStageContent(moment: Moment, rests: string | null): StageContent {
  const piece = useStore($piece);
  const found = useStore($found);
  const { way } = useStore($settings);
  const { rate } = useStore($practice);
  const texts = useStageTexts();
  const travels = useMemo(() => travelsOf(piece ?? NOWHERE), [piece]);
  const everySet = useMemo(() => everyFreeSet(piece ?? NOWHERE, texts), [piece, texts]);
  const options = { travels, rate, rests, texts };
  const isFree = way === 'free hand' && everySet.length > 0;
  return isFree ? freeStageOf(moment, { ...options, found, everySet }) : stageOf(moment, options);
}
