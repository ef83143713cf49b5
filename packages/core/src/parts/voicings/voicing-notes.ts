import type { Analysis } from '../../analysis/index.ts';
import type { Plan } from '../../plan/index.ts';
import { formatNoteName, midiOf, type Pitch } from '../../theory/index.ts';
import { degreeOver } from '../chorus/key-place.ts';
import type { PartNote } from '../note.ts';
import { reasonOfHeld } from '../own/own-reason.ts';
import { leadVoicings, motionBetween, type Voicing } from './lead-voicings.ts';
import { coloursOf } from './voicing-form.ts';
import type { UpperTriad, VoicingFormName, VoicingKind } from './voicing-kind.ts';
import { pinnedKeysOf, type VoicingPin } from './voicing-pin.ts';

/** A note of a voicing on paper: it lasts as long as its chord. */
export interface VoicingNote extends PartNote {
  readonly form: VoicingFormName;
  readonly triad: UpperTriad | null;
}

/** What voicings are written from. */
export interface VoicingSources {
  readonly analysis: Analysis;
  readonly plan: Plan;
  readonly kind: VoicingKind;
  readonly pins: readonly VoicingPin[];
}

/** Kinds that leave the right hand free, unless a pin needs it. */
const ONE_HAND: ReadonlySet<VoicingKind> = new Set(['guide tones', 'shells', 'rootless', 'quartal']);

/**
 * The voicings of a lesson: one for every slot with a chord, led with the least motion there is over the whole form; pinned ones
 * stay. The colours are those of the chord-scale in use where it keeps the chord's guide tones.
 * @example voicingsOf({ analysis, plan, kind: 'rootless', pins: [] })[0]?.form // → 'B'
 */
export function voicingsOf({ analysis, plan, kind, pins }: VoicingSources): readonly (Voicing | undefined)[] {
  return leadVoicings(analysis, kind, {
    scales: plan.slots.map(({ chordScale }) => chordScale),
    pins: pinnedKeysOf(analysis, pins),
    first: 'motion',
  });
}

/** How far all voices move over the form, in half steps, and how far at the widest change. */
export function motionOf(voicings: readonly (Voicing | undefined)[]): {
  readonly total: number;
  readonly most: number;
} {
  const led = voicings.filter((each) => each !== undefined);
  const moves = led.slice(1).map(({ keys }, index) => motionBetween((led[index] as Voicing).keys, keys));
  return { total: moves.reduce((sum, each) => sum + each, 0), most: Math.max(0, ...moves) };
}

/** The voice a note comes from: the same one where both voicings have as many, else the nearest. */
function comesFrom(before: Voicing, place: number, { keys }: Voicing): Pitch {
  if (before.keys.length === keys.length) return before.pitches[place] as Pitch;
  const key = keys[place] as number;
  return before.pitches.reduce((nearest, each) =>
    Math.abs(midiOf(each) - key) < Math.abs(midiOf(nearest) - key) ? each : nearest,
  );
}

/**
 * One hand's notes of the voicings, each with what it is and the way its voice came.
 * @param hand the right one has none but in voicings for two
 */
export function voicingNotes(sources: VoicingSources, hand: 'left' | 'right'): VoicingNote[] {
  if (hand === 'right' && ONE_HAND.has(sources.kind) && sources.pins.length === 0) return [];
  const { analysis } = sources;
  const scales = sources.plan.slots.map(({ chordScale }) => chordScale);
  let before: Voicing | null = null;
  return voicingsOf(sources).flatMap((voicing): VoicingNote[] => {
    const slot = voicing === undefined ? undefined : analysis.slots[voicing.slotIndex];
    if (voicing === undefined || slot?.chord == null) return [];
    const { chord, played } = slot;
    const last = before;
    before = voicing;
    return voicing.pitches.flatMap((pitch, place): VoicingNote[] => {
      if (place < voicing.left !== (hand === 'left')) return [];
      const isOwn = voicing.form === 'own';
      const args = { degree: degreeOver(chord, pitch.name), chord: chord.symbol, note: formatNoteName(pitch.name) };
      const from = last === null ? null : comesFrom(last, place, voicing);
      const moved = from === null ? 0 : midiOf(pitch) - midiOf(from);
      const why = isOwn
        ? reasonOfHeld(chord, coloursOf(slot, chord, scales[voicing.slotIndex] ?? null) ?? null, pitch.name)
        : from === null
          ? { code: 'voicing.first', args }
          : moved === 0
            ? { code: 'voicing.stays', args }
            : { code: 'voicing.moves', args: { ...args, from: formatNoteName(from.name), semitones: String(moved) } };
      return [
        {
          startTicks: played.startTicks,
          durationTicks: played.endTicks - played.startTicks,
          pitch,
          slotIndex: voicing.slotIndex,
          form: voicing.form,
          triad: voicing.triad,
          why,
          ...(isOwn ? { own: true } : {}),
        },
      ];
    });
  });
}
