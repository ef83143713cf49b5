/** A moment of playing with a free hand as the stage shows it: every thumb, the player choosing. */
import { beatsAhead, keysOfThumb, type HandFound } from '@fivespan/core';
import type { Moment, Piece } from '../../features/playing/index.ts';
import { freeTabs, namesOf, thumbsOf } from '../stage/free-content.ts';
import type { StageContent, StageTab } from '../stage/stage-content.ts';
import { words } from '../words/index.ts';
import { stageOf, type StageOptions, type StageTexts } from './stage-of-moment.ts';

const w = words.play;

/** All that a piece will show: every families there are, as what hangs and as what comes. */
export function everyFreeSet(
  { forms }: Pick<Piece, 'forms'>,
  texts: Pick<StageTexts, 'thumb'>,
): readonly (readonly StageTab[])[] {
  const sets = new Map<string, readonly StageTab[]>();
  for (const { slots } of new Set(forms)) {
    for (const { families } of slots) {
      if (families.length === 0) continue;
      const name = families.map((each) => namesOf(each, texts.thumb.printed).join()).join(' / ');
      if (sets.has(name)) continue;
      const hanging = freeTabs(families, texts.thumb, { isComing: false, place: null });
      sets.set(name, [...hanging, ...hanging.map((tab) => ({ ...tab, role: 'next' as const }))]);
    }
  }
  return [...sets.values()];
}

interface FreeOptions extends StageOptions {
  readonly found: HandFound;
  readonly everySet: readonly (readonly StageTab[])[];
}

/** What is about to come, and whether it is time to show it: a beat ahead at least, earlier where the hand has far to go. */
export function isComingShown({ families, comingFamilies, tempoBpm }: Moment, rate: number): boolean {
  if (comingFamilies === null) return false;
  const ahead = beatsAhead(thumbsOf(families), thumbsOf(comingFamilies.families), tempoBpm * rate);
  return families.length === 0 || comingFamilies.beats <= ahead;
}

export function freeStageOf(moment: Moment, options: FreeOptions): StageContent {
  const { found, everySet, texts, rate } = options;
  const content = stageOf(moment, options);
  const { families, comingFamilies, kind } = moment;
  const place = found.place;
  const coming = isComingShown(moment, rate) ? (comingFamilies?.families ?? []) : [];
  const listed = kind === 'count-in' || kind === 'rest' ? families : (comingFamilies?.families ?? []);
  const said = families.map((each) => namesOf(each, texts.thumb.said).join(', ')).join(`; ${w.orThumbs} `);
  return {
    ...content,
    thumb: null,
    next:
      content.next === null && listed.length === 0
        ? null
        : {
            chord: content.next?.chord ?? null,
            hand: null,
            thumbs: listed.map((each) => namesOf(each, texts.thumb.printed)),
            when: '',
            isWithChord: true,
          },
    keyboard: {
      hand: place === null ? [] : keysOfThumb(place),
      tabs: [
        ...freeTabs(families, texts.thumb, { isComing: false, place }),
        ...freeTabs(coming, texts.thumb, { isComing: true, place: null }),
      ],
      everyFreeSet: everySet,
      travels: content.keyboard.travels,
      label: families.length === 0 ? w.keyboardEmpty : w.freeKeyboardLabel(said),
    },
  };
}
