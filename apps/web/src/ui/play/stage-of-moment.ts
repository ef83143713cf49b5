/** A moment of playing as the stage shows it. */
import { keysOf, midi, type Midi, type Key } from '@fivespan/core';
import { isSamePlace, type HandPlace, type Moment, type Piece } from '../../features/playing/index.ts';
import { WHOLE_STRETCH } from '../keyboard/stretch.ts';
import type { StageContent, StageTab } from '../stage/stage-content.ts';
import { words } from '../words/index.ts';
import { useKeyText } from '../words/key-text.ts';
import { useNoteText } from '../words/note-names.ts';
import { spokenNote } from '../words/spoken.ts';
import { useThumbText, type ThumbText } from '../words/thumb-name.ts';
import { useMemo } from 'react';
import { lastNumber } from './bar-name.ts';

const w = words.play;

/** From here on whole bars are easier to count than beats. */
const MOST_BEATS_COUNTED = 12;

/** When the hand moves, as one counts it. */
function whenText(beats: number, beatsInBar: number): string {
  return beats <= MOST_BEATS_COUNTED ? w.inBeats(beats) : w.inBars(Math.round(beats / beatsInBar));
}

/** All keys under the hand in a piece, whatever its keys and choruses: the picture then stays as it is. */
export function travelsOf({ forms }: Pick<Piece, 'forms'>): { readonly lowest: Midi; readonly highest: Midi } {
  const keys = [...new Set(forms)].flatMap(({ slots }) =>
    slots.flatMap(({ hand }) => (hand === null ? [] : keysOf(hand.position, hand.thumbMidi))),
  );
  return keys.length === 0 ? WHOLE_STRETCH : { lowest: midi(Math.min(...keys)), highest: midi(Math.max(...keys)) };
}

export interface StageTexts {
  readonly thumb: ThumbText;
  readonly key: (key: Key) => string;
  readonly note: (hand: HandPlace) => string;
}

export interface StageOptions {
  readonly travels: StageContent['keyboard']['travels'];
  /** Of the programme's tempi. */
  readonly rate: number;
  /** What is to be read where the beats are, while nothing sounds; null while it does. */
  readonly rests: string | null;
  readonly texts: StageTexts;
}

export function stageOf(moment: Moment, { travels, rate, rests, texts }: StageOptions): StageContent {
  const { hand, next, kind, beat, beats, bar, bars, chord, key, comingChord, comingKey } = moment;
  const printed = ({ position, mark }: HandPlace): string => texts.thumb.printed(position.thumb, mark);
  const here = bars[bar];
  const isCountIn = kind === 'count-in' || kind === 'rest';
  // in a count-in the hand is where it begins already: it goes nowhere
  const isSame = next !== null && isSamePlace(hand, next.hand);
  const tabs: StageTab[] = [
    ...(hand === null ? [] : [{ midi: hand.thumbMidi, name: printed(hand), role: 'now' as const }]),
    ...(next === null || isSame
      ? []
      : [{ midi: next.hand.thumbMidi, name: printed(next.hand), role: 'next' as const }]),
  ];
  const when = next === null ? (kind === 'ending' ? '' : w.stays) : whenText(next.beats, beats);
  return {
    line: {
      place: isCountIn
        ? { before: '', large: kind === 'rest' ? w.rest : w.countIn, after: next === null ? '' : ` · ${when}` }
        : kind === 'ending' || here === undefined
          ? { before: '', large: w.ending, after: '' }
          : {
              before: w.barBefore,
              large: String(here.number),
              after: w.barAfter(lastNumber(bars)) + (here.passes > 1 ? `, ${w.time(here.pass)}` : ''),
            },
      key: texts.key(key),
      comingKey: comingKey === null ? null : texts.key(comingKey),
      tempoBpm: Math.round(moment.tempoBpm * rate),
      turn:
        moment.whoseTurn === null
          ? null
          : { said: w.whoseTurn[moment.whoseTurn], isMine: moment.whoseTurn === 'answer' },
    },
    thumb: { label: isCountIn ? w.thumbFirst : w.thumbNow, name: hand === null ? w.nowhere : printed(hand) },
    now: chord ?? '',
    beats: rests === null ? { beat, beats, label: w.beat(beat + 1, beats) } : { rests },
    next: {
      chord: comingChord?.chord ?? null,
      hand: next === null ? null : { name: printed(next.hand), keys: keysOf(next.hand.position, next.hand.thumbMidi) },
      thumbs: null,
      when,
      isWithChord: next !== null && next.beats === comingChord?.beats,
    },
    keyboard: {
      hand: hand === null ? [] : keysOf(hand.position, hand.thumbMidi),
      tabs,
      everyFreeSet: null,
      travels,
      label:
        hand === null
          ? w.keyboardEmpty
          : w.keyboardLabel(texts.thumb.said(hand.position.thumb, hand.mark), texts.note(hand)),
    },
  };
}

/** How keys, thumbs and notes are called on the stage; the same object until the choice of note names changes. */
export function useStageTexts(): StageTexts {
  const thumb = useThumbText();
  const key = useKeyText();
  const noteText = useNoteText();
  return useMemo(
    () => ({
      thumb,
      key,
      note: ({ position }) => position.notes.map((note) => spokenNote(note, noteText)).join(', '),
    }),
    [thumb, key, noteText],
  );
}
