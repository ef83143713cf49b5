/** A note in the engraver's own document (MEI), as far as its stem decides where a finger may stand. */
interface StemmedNote {
  readonly isBeamed: boolean;
  readonly stem: 'up' | 'down' | 'none';
  /** How far a stem's end is outside the staff and its notes, in the engraver's units (half a staff space). */
  readonly reachUnits: number;
}

const STEPS: Readonly<Record<string, number>> = { c: 0, d: 1, e: 2, f: 3, g: 4, a: 5, b: 6 };

/** Middle lines by clef shape: B4 of the treble, D3 of the bass, as steps above C0. */
const MIDDLE_LINES: Readonly<Record<string, number>> = { G: 4 * 7 + 6, F: 3 * 7 + 1 };

/** A stem is three and a half spaces long; the staff's edge lies two spaces from its middle. Common practice. */
const STEM_UNITS = 7;
const EDGE_UNITS = 4;

function attribute(tag: string, name: string): string | undefined {
  return new RegExp(`\\s${name.replaceAll('.', '\\.')}="([^"]*)"`, 'u').exec(tag)?.[1];
}

/** Stem of a note or chord as the engraver sets it: by the mean of its notes, down from the middle line itself. */
function stemmed(steps: readonly number[], middle: number, duration: string, isBeamed: boolean): StemmedNote {
  if (duration === '1' || duration === 'breve' || steps.length === 0) return { isBeamed, stem: 'none', reachUnits: 0 };
  const units = steps.map((step) => step - middle);
  const isUp = units.reduce((sum, each) => sum + each, 0) < 0;
  const furthest = isUp ? Math.max(...units) : -Math.min(...units);
  const reachUnits = Math.max(0, furthest + STEM_UNITS - Math.max(EDGE_UNITS, furthest + 1));
  return { isBeamed, stem: isUp ? 'up' : 'down', reachUnits };
}

/** Reads stems and beams of all notes: id → note. A chord's notes share its stem. */
function notesOf(mei: string): Map<string, StemmedNote> {
  const clefs = new Map<string, string>();
  const notes = new Map<string, StemmedNote>();
  let beamDepth = 0;
  let staff = '1';
  let staffDef = '1';
  let chord: { duration: string; steps: number[]; ids: string[] } | undefined;
  const middleOf = (): number => MIDDLE_LINES[clefs.get(staff) ?? 'G'] ?? (MIDDLE_LINES['G'] as number);
  for (const [tag, slash, name] of mei.matchAll(/<(\/?)(staffDef|clef|staff|beam|chord|note)\b[^>]*>/gu)) {
    if (name === 'staffDef') staffDef = attribute(tag, 'n') ?? staffDef;
    else if (name === 'clef') clefs.set(staffDef, attribute(tag, 'shape') ?? 'G');
    else if (name === 'staff') staff = attribute(tag, 'n') ?? staff;
    else if (name === 'beam') beamDepth += slash === '/' ? -1 : 1;
    else if (name === 'chord') {
      if (slash === '/' && chord !== undefined) {
        const note = stemmed(chord.steps, middleOf(), chord.duration, beamDepth > 0);
        for (const id of chord.ids) notes.set(id, note);
        chord = undefined;
      } else {
        chord = { duration: attribute(tag, 'dur') ?? '4', steps: [], ids: [attribute(tag, 'xml:id') ?? ''] };
      }
    } else if (slash === '') {
      const step = Number(attribute(tag, 'oct')) * 7 + (STEPS[attribute(tag, 'pname') ?? ''] ?? 0);
      const id = attribute(tag, 'xml:id') ?? '';
      if (chord !== undefined) {
        chord.steps.push(step);
        chord.ids.push(id);
      } else {
        notes.set(id, stemmed([step], middleOf(), attribute(tag, 'dur') ?? '4', beamDepth > 0));
      }
    }
  }
  return notes;
}

/** How far a digit may move without meeting what stands above it. */
const FARTHEST_LIFT_UNITS = 2;

/** Id of every fingered note or chord → where its digits stand. */
function fingeredNotes(mei: string): Map<string, string> {
  const placed = new Map<string, string>();
  for (const [tag] of mei.matchAll(/<fing\b[^>]*>/gu)) {
    placed.set((attribute(tag, 'startid') ?? '').slice(1), attribute(tag, 'place') ?? '');
  }
  return placed;
}

/** Turns the stems that would run far through their digits. */
function turnStems(mei: string, notes: Map<string, StemmedNote>): string {
  const fingers = fingeredNotes(mei);
  return mei.replaceAll(/<chord\b[^>]*>[\s\S]*?<\/chord>/gu, (chord) => {
    const ids = [...chord.matchAll(/\sxml:id="([^"]*)"/gu)].map(([, id = '']) => id);
    const place = ids.map((id) => fingers.get(id)).find((each) => each !== undefined);
    const note = notes.get(ids[0] ?? '');
    if (note === undefined || note.isBeamed || note.reachUnits <= FARTHEST_LIFT_UNITS) return chord;
    const turned =
      place === 'above' && note.stem === 'up' ? 'down' : place === 'below' && note.stem === 'down' ? 'up' : null;
    if (turned === null) return chord;
    for (const id of ids) notes.set(id, { ...note, stem: turned, reachUnits: 0 });
    return chord.replace('<chord', `<chord stem.dir="${turned}"`);
  });
}

/** The document with its digits moved. */
export interface LiftedFingering {
  readonly mei: string;
  /** The furthest any digit above a staff was moved, in the engraver's units: what stands above it needs that much more room. */
  readonly liftUnits: number;
}

/** Moves digits off the stems that still run through them. */
function liftDigits(mei: string, notes: ReadonlyMap<string, StemmedNote>): LiftedFingering {
  let liftUnits = 0;
  const lifted = mei.replaceAll(/<fing\b[^>]*>/gu, (tag) => {
    const note = notes.get((attribute(tag, 'startid') ?? '').slice(1));
    if (note === undefined || note.isBeamed || note.reachUnits === 0) return tag;
    const place = attribute(tag, 'place');
    if (place === 'below' && note.stem === 'down') return tag.replace('<fing', `<fing vo="-${note.reachUnits}vu"`);
    if (place !== 'above' || note.stem !== 'up') return tag;
    liftUnits = Math.max(liftUnits, note.reachUnits);
    return tag.replace('<fing', `<fing vo="${note.reachUnits}vu"`);
  });
  return { mei: lifted, liftUnits };
}

/**
 * Moves digits off lone stems: the engraver sets a digit above (or below) a note's head and lets an unbeamed stem that
 * points the same way run through it. Where the digit would have to move far (chords only) the stem is turned instead:
 * the engraver makes room for what it lays out itself, not for what is moved.
 * @param mei the engraver's own document
 */
export function liftFingering(mei: string): LiftedFingering {
  const notes = notesOf(mei);
  return liftDigits(turnStems(mei, notes), notes);
}
