import type { Analysis } from '../../analysis/index.ts';
import type { Plan } from '../../plan/index.ts';
import { formatNoteName, midi, midiOf, pitchAt, pitchClassOf, type Midi } from '../../theory/index.ts';
import { approachesTo } from '../approach-note.ts';
import { BASS_KEYS } from '../bass-line.ts';
import { degreeOver } from '../chorus/key-place.ts';
import type { BassNote, BassRange } from '../note.ts';
import { joinLine } from './join-line.ts';
import type { NotePin } from './note-pin.ts';
import { ownStretches, type NamedOwnNote } from './own-stretch.ts';

/** What a note of a bass line is, by its degree. */
const BY_DEGREE: Readonly<Record<string, BassNote['function']>> = {
  1: 'root',
  3: 'third',
  b3: 'third',
  5: 'fifth',
  b5: 'fifth',
  '#5': 'fifth',
  7: 'seventh',
  b7: 'seventh',
  bb7: 'seventh',
  6: 'seventh',
};

function functionOf({ slots }: Analysis, { name, slotIndex, why }: NamedOwnNote): BassNote['function'] {
  const chord = slots[slotIndex]?.chord ?? null;
  if (chord === null) return 'scale';
  if (chord.bass !== null && pitchClassOf(chord.bass) === pitchClassOf(name)) return 'bass';
  return BY_DEGREE[degreeOver(chord, name)] ?? (why.code === 'own.approach' ? 'approach' : 'scale');
}

/** The nearest key of a sound to another, within a range; the lower of two. */
function nearest(sound: number, to: Midi, range: BassRange): Midi | undefined {
  const { lowest, highest } = BASS_KEYS[range];
  let best: Midi | undefined;
  for (let key = lowest; key <= highest; key++) {
    if (key % 12 === sound && (best === undefined || Math.abs(key - to) < Math.abs(best - to))) best = midi(key);
  }
  return best;
}

/**
 * The composed note before the teacher's first one leads into it, where it led elsewhere or would be struck twice: the commonest way
 * in that is neither the note before nor the other third of its chord.
 */
function leadingInto(
  { slots }: Analysis,
  note: BassNote,
  before: BassNote | undefined,
  goal: BassNote,
  range: BassRange,
): BassNote {
  const [here, there] = [slots[note.slotIndex], slots[goal.slotIndex]];
  const from = midiOf(note.pitch);
  const to = midiOf(goal.pitch);
  const leads = note.function !== 'approach' || [1, 2].includes(Math.abs(to - from));
  const begins = here?.played.startTicks === note.startTicks;
  if (here?.chord == null || there === undefined || begins || (leads && from !== to)) return note;
  const { chord } = here;
  const ways = approachesTo(goal.pitch.name, there.reading.key, here.chordScales[0]?.notes ?? [], chord);
  for (const { name, kind, needsClimb, leadsTo } of ways) {
    const key = nearest(pitchClassOf(name), to, range);
    if (key === undefined || needsClimb || !leadsTo(key, to)) continue;
    if (before !== undefined && midiOf(before.pitch) === key) continue;
    const why = { code: 'bass.approach', args: { note: formatNoteName(name), chord: chord.symbol, by: kind } };
    return { ...note, pitch: pitchAt(name, key), function: 'approach', why };
  }
  return note;
}

/**
 * A bass line with the teacher's own notes in it: exactly those over the chords where a pin fits, the composed ones elsewhere; the
 * composed note before them leads into the first.
 */
export function withOwnBass(
  { analysis, plan }: { readonly analysis: Analysis; readonly plan: Plan },
  composed: readonly BassNote[],
  pins: readonly NotePin[],
  range: BassRange,
): readonly BassNote[] {
  const stretches = ownStretches(plan, 'bass', pins);
  if (stretches.length === 0) return composed;
  const { composed: kept, own } = joinLine(plan, 'bass', composed, stretches);
  const written = own.flat().map((note): BassNote => ({
    startTicks: note.startTicks,
    durationTicks: note.durationTicks,
    pitch: pitchAt(note.name, note.key),
    slotIndex: note.slotIndex,
    function: functionOf(analysis, note),
    why: note.why,
    own: true,
  }));
  const line = [...kept, ...written].sort((a, b) => a.startTicks - b.startTicks);
  return line.map((note, index) => {
    const next = line[index + 1];
    const isSeam = note.own !== true && next?.own === true && next.startTicks === note.startTicks + note.durationTicks;
    return isSeam ? leadingInto(analysis, note, line[index - 1], next, range) : note;
  });
}
