import {
  keysOf,
  midi,
  pitchAt,
  pitchClassOf,
  spellingsOf,
  type Midi,
  type NoteName,
  type PitchClass,
  type Position,
} from '@fivespan/core';
import type { DegreeLabel } from './degree-label.ts';
import { layOutKeyboard, type DrawnKey, type KeyboardLayout } from './keyboard-layout.ts';
import { noteText } from './note-text.ts';
import { PALETTES, type Palette, type Theme } from './palette.ts';
import { BOLD, SANS_FAMILIES, SERIF_FAMILIES, svgText } from '../type/index.ts';
import { placeTabs, tabRowsOf, TAB_HEIGHT_MM, TAB_ROW_MM, TAB_WIDTH_MM, type PlacedTab } from './thumb-tab.ts';
import { ENGLISH_DIAGRAM_WORDS, type DiagramWords } from './words.ts';

/** A stretch of keyboard with what the hand does on it. */
export interface KeyboardPicture {
  /** The stretch shown; widened to white keys, and to the keys under the hand. */
  readonly lowest: Midi;
  readonly highest: Midi;
  /** The position under the hand, and a sign behind its thumb's name where shapes are distinguished; null for a bare keyboard. */
  readonly hand: { readonly position: Position; readonly thumbMidi: Midi; readonly mark?: string } | null;
  /** Open tabs: the family's other thumbs. Those outside the stretch are left out. */
  readonly otherThumbs: readonly { readonly name: NoteName; readonly midi: Midi }[];
  /** A dashed tab: where the thumb goes next; left out where it is outside the stretch. */
  readonly next?: { readonly name: NoteName; readonly midi: Midi; readonly mark: string } | null;
  /** Degrees over a chord, written above the felt over every key of their pitch class; empty for none. */
  readonly degrees: readonly DegreeLabel[];
  /** Keys that one or two hands hold down as a chord, each with its name; none where left out. */
  readonly held?: readonly { readonly name: NoteName; readonly midi: Midi }[];
}

export interface KeyboardPictureOptions {
  readonly theme?: Theme;
  readonly words?: DiagramWords;
  /** How notes are called, on tabs and in the description; letters with ♭ and ♯ by default. At most five or so letters fit a tab. */
  readonly noteText?: (name: NoteName) => string;
  /** Room below the keys for at least this many rows of tabs, so that pictures side by side line up. */
  readonly tabRows?: number;
}

type NoteText = (name: NoteName) => string;

const MARGIN_MM = 1.5;
const FELT_MM = 3;
const WHITE_FINGER_MM = 15.5;
const BLACK_FINGER_MM = 13;
/** A name on a key; smaller where the key is narrower than it. */
const WHITE_NAME_MM = 12;
/** The outline of a thumb's tab where the hand is not: thinner than that of the thumb now. */
const OPEN_LINE_MM = 0.8;
/** A row of degrees above the felt; what rubs has its sign in a second row. */
const DEGREE_ROW_MM = 10.5;
const DEGREE_MM = 9.5;

/**
 * Advance widths in ems, semibold. Source: the hmtx tables of Source Sans 3 (600) and the sign font; used to keep degrees apart
 * and names inside their tabs.
 */
const EMS: Readonly<Record<string, number>> = {
  '♭': 0.294,
  '♯': 0.318,
  '𝄪': 0.402,
  '𝄫': 0.489,
  '′': 0.226,
  '″': 0.378,
  '‴': 0.53,
  '⁗': 0.682,
};
/** A digit of the serif's italic, which is the wider one: 0.537. */
const DIGIT_EMS = 0.54;

/** Letters of note names, in the same units and from the same table. */
// prettier-ignore
const LETTER_EMS: Readonly<Record<string, number>> = {
  A: 0.558, B: 0.597, C: 0.576, D: 0.625, E: 0.538, F: 0.51, G: 0.628, H: 0.663, L: 0.502, M: 0.745, R: 0.592, S: 0.545,
  a: 0.516, e: 0.507, i: 0.262, l: 0.271, o: 0.549, s: 0.431,
};
/** The widest of C to B and A: names of one letter are set in one size. */
const CAPITAL_EMS = 0.63;

/** The width of a name on a tab: one capital and its signs, or a name of several letters. */
function nameEms(name: string): number {
  if (!/^\p{L}{2}/u.test(name)) return CAPITAL_EMS + emsOf(name.slice(1));
  return [...name].reduce((sum, each) => sum + (LETTER_EMS[each] ?? EMS[each] ?? DIGIT_EMS), 0);
}

function emsOf(text: string): number {
  return [...text].reduce((sum, each) => sum + (EMS[each] ?? DIGIT_EMS), 0);
}

/** The size in which a name is set on a tab: smaller where it would be too wide. */
export function tabNameSizeMm(name: string): number {
  return Math.min(14.5, (TAB_WIDTH_MM - 3) / nameEms(name));
}

/** Millimetres with at most two decimals, the same text on every machine. */
function mm(value: number): string {
  return String(Math.round(value * 100) / 100);
}

function escaped(text: string): string {
  return text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');
}

interface TextStyle {
  readonly sizeMm: number;
  readonly fill: string;
  readonly weight?: 'bold';
  readonly italic?: boolean;
  readonly role: string;
  readonly midi: Midi;
}

function textAt(xMm: number, baselineMm: number, text: string, style: TextStyle): string {
  const weight = style.weight === 'bold' ? ` font-weight="${BOLD}"` : '';
  const italic = style.italic === true ? ` font-family="${SERIF_FAMILIES}" font-style="italic"` : '';
  return (
    `<text class="${style.role}" data-midi="${style.midi}" x="${mm(xMm)}" y="${mm(baselineMm)}" font-size="${mm(style.sizeMm)}"` +
    `${weight}${italic} text-anchor="middle" fill="${style.fill}">${svgText(escaped(text))}</text>`
  );
}

/** A key's outline: straight at the back, its front corners a little rounded. */
function keyPath(key: DrawnKey, inset: number): string {
  const radius = key.black ? 1.2 : 1.6;
  const x = key.xMm + inset;
  const width = key.widthMm - 2 * inset;
  const length = key.lengthMm - inset;
  return (
    `M${mm(x)} ${mm(0)}h${mm(width)}v${mm(length - radius)}a${radius} ${radius} 0 0 1 ${-radius} ${radius}` +
    `h${mm(2 * radius - width)}a${radius} ${radius} 0 0 1 ${-radius} ${-radius}z`
  );
}

/** How far the line inside a natural, and the tint within a raised key, stay from its edge. */
const INSET_MM = 1.2;

/**
 * What lies on a key under the hand: a natural is tinted, with a line inside it that says so without the tint; a raised key keeps its
 * own colour as a frame round the tint.
 */
export function underHandOn(
  key: DrawnKey,
  palette: Palette,
): { readonly fill: string; readonly d: string; readonly inner: { readonly fill: string; readonly stroke: string } } {
  return {
    fill: key.black ? palette.black : palette.tint,
    d: keyPath(key, INSET_MM),
    inner: key.black ? { fill: palette.tint, stroke: 'none' } : { fill: 'none', stroke: palette.handLine },
  };
}

function drawKey(key: DrawnKey, underHand: boolean, palette: Palette): string {
  const plain = key.black ? palette.black : palette.white;
  const { fill, d, inner } = underHandOn(key, palette);
  const colour = key.black ? 'black' : 'white';
  const outline =
    `<path class="key ${colour}" data-midi="${key.midi}" d="${keyPath(key, 0)}" fill="${underHand ? fill : plain}" ` +
    `stroke="${palette.keyLine}" stroke-width="0.7"/>`;
  const hand = underHand
    ? `<path class="under-hand" d="${d}" fill="${inner.fill}" stroke="${inner.stroke}" stroke-width="1.1"/>`
    : '';
  return outline + hand;
}

/** Where a key reaches the felt: a white key between the black ones beside it. */
function tailsOf(keys: readonly DrawnKey[]): { key: DrawnKey; left: number; right: number }[] {
  return keys.map((key, index) => {
    const [before, after] = [keys[index - 1], keys[index + 1]];
    if (key.black) return { key, left: key.xMm, right: key.xMm + key.widthMm };
    return {
      key,
      left: before?.black === true ? before.xMm + before.widthMm : key.xMm,
      right: after?.black === true ? after.xMm : key.xMm + key.widthMm,
    };
  });
}

/**
 * Degrees stand above the felt, over their keys, and never on one: a finger's digit and a degree would read as one number.
 * Sizes keep neighbours apart.
 */
function drawDegrees(layout: KeyboardLayout, labels: ReadonlyMap<number, DegreeLabel>, palette: Palette): string {
  const middles = tailsOf(layout.keys).map(({ key, left, right }) => ({ key, middle: (left + right) / 2 }));
  return middles
    .map(({ key, middle }, index) => {
      const label = labels.get(key.midi % 12);
      if (label === undefined) return '';
      const room = Math.min(
        middle - (middles[index - 1]?.middle ?? middle - 14),
        (middles[index + 1]?.middle ?? middle + 14) - middle,
      );
      const rubs = label.kind === 'rubs';
      const style = {
        sizeMm: Math.min(DEGREE_MM, (room - 0.6) / emsOf(label.text)),
        fill: rubs ? palette.rubs : label.kind === 'chord tone' ? palette.ink : palette.soft,
        midi: key.midi,
      };
      const baselineMm = -FELT_MM - 2.6;
      const number = textAt(middle, baselineMm, label.text, {
        ...style,
        role: 'degree',
        ...(label.kind === 'tension' ? { italic: true } : { weight: 'bold' }),
      });
      if (!rubs) return number;
      const sign = { ...style, sizeMm: DEGREE_MM, role: 'rubs', weight: 'bold' } as const;
      return textAt(middle, baselineMm - DEGREE_ROW_MM + 1, '✕', sign) + number;
    })
    .join('');
}

function drawFinger(key: DrawnKey, finger: number, palette: Palette): string {
  const [sizeMm, lift] = key.black ? [BLACK_FINGER_MM, 7.5] : [WHITE_FINGER_MM, 9];
  return textAt(key.centreMm, key.lengthMm - lift, String(finger), {
    sizeMm,
    fill: palette.onWhite,
    weight: 'bold',
    role: 'finger',
    midi: key.midi,
  });
}

/** A held key's name, at its front edge. */
function drawName(key: DrawnKey, name: string, palette: Palette): string {
  return textAt(key.centreMm, key.lengthMm - (key.black ? 7.5 : 9), name, {
    sizeMm: Math.min(WHITE_NAME_MM, (key.widthMm - 2 * INSET_MM) / nameEms(name)),
    fill: palette.onWhite,
    weight: 'bold',
    role: 'held-name',
    midi: key.midi,
  });
}

/** A tab hangs from the key's front edge; a black key's on a stem that comes down between the white keys. */
function drawTab(tab: PlacedTab, layout: KeyboardLayout, palette: Palette, nameOf: NoteText): string {
  const { key, kind } = tab;
  const solid = kind === 'now';
  const topMm = layout.lengthMm + 1.2 + tab.row * TAB_ROW_MM;
  const half = TAB_WIDTH_MM / 2;
  const radius = 6.5;
  const dashed = kind === 'next' ? ' stroke-dasharray="2.6 2"' : '';
  const [stemMm, lineMm] = kind === 'other' ? [OPEN_LINE_MM, OPEN_LINE_MM] : [1.7, 1.1];
  const fromMm = key.black ? key.lengthMm + 0.6 : layout.lengthMm;
  const needsStem = key.black || tab.row > 0;
  // a paper-coloured line under the stem keeps it apart from the line between two white keys
  const stem = needsStem
    ? `<path d="M${mm(key.centreMm)} ${mm(fromMm)}V${mm(topMm)}" stroke="${palette.white}" stroke-width="3.4" fill="none"/>` +
      `<path class="stem" d="M${mm(key.centreMm)} ${mm(fromMm)}V${mm(topMm)}" stroke="${palette.onWhite}" stroke-width="${stemMm}" fill="none"${dashed}/>`
    : '';
  const outline =
    `M${mm(key.centreMm - half)} ${mm(topMm)}h${TAB_WIDTH_MM}v${mm(TAB_HEIGHT_MM - radius)}a${radius} ${radius} 0 0 1 ${-radius} ${radius}` +
    `h${mm(2 * radius - TAB_WIDTH_MM)}a${radius} ${radius} 0 0 1 ${-radius} ${-radius}z`;
  const body =
    `<path class="tab ${kind}" data-midi="${key.midi}" data-centre="${mm(key.centreMm)}" d="${outline}" ` +
    `fill="${solid ? palette.ink : palette.paper}" stroke="${palette.ink}" stroke-width="${lineMm}"${dashed}/>`;
  const name = nameOf(tab.name) + tab.mark;
  return (
    stem +
    body +
    textAt(key.centreMm, topMm + 13, name, {
      sizeMm: tabNameSizeMm(name),
      fill: solid ? palette.paper : palette.ink,
      weight: 'bold',
      role: 'tab-name',
      midi: key.midi,
    })
  );
}

/** The name of an end of the stretch; white keys have one plain spelling. */
function endName(key: Midi, nameOf: NoteText): string {
  const name = spellingsOf((key % 12) as PitchClass, 0)[0] as NoteName;
  return nameOf(name) + pitchAt(name, key).octave;
}

function describe(
  picture: KeyboardPicture,
  layout: KeyboardLayout,
  keys: readonly Midi[],
  words: DiagramWords,
  nameOf: NoteText,
): { title: string; description: string } {
  const ends = words.keyboard(endName(layout.lowest, nameOf), endName(layout.highest, nameOf));
  const hand = picture.hand;
  const title = hand === null ? ends : words.thumbOn(nameOf(hand.position.thumb), hand.position.notes.map(nameOf));
  const sentences = hand === null ? [] : [ends];
  if (hand !== null) {
    const fingers = hand.position.notes.map((name, index) => ({
      finger: index + 1,
      note: nameOf(name) + pitchAt(name, keys[index] as Midi).octave,
    }));
    sentences.push(words.fingers(fingers));
  }
  const held = (picture.held ?? []).map(({ name, midi: key }) => nameOf(name) + pitchAt(name, key).octave);
  if (held.length > 0) sentences.push(words.held(held));
  const others = picture.otherThumbs.map((each) => nameOf(each.name));
  if (others.length > 0) sentences.push(words.otherThumbs([...new Set(others)]));
  if (picture.next !== undefined && picture.next !== null) {
    sentences.push(words.nextThumb(nameOf(picture.next.name) + picture.next.mark));
  }
  for (const kind of ['chord tone', 'tension', 'rubs'] as const) {
    const labels = picture.degrees.filter((each) => each.kind === kind).map((each) => each.text);
    if (labels.length > 0) sentences.push(words.degrees(kind, labels));
  }
  return { title, description: sentences.join(' ') };
}

/**
 * Draws a stretch of keyboard as an SVG document; user units are millimetres at true size. Pure and deterministic.
 * Classes and `data-midi` name the parts: `key`, `under-hand`, `finger`, `held-name`, `degree`, `rubs`, `tab now`, `tab other`, `tab next`, `stem`.
 * @throws RangeError where the thumb's key is not the position's thumb note, or the stretch leaves the keyboard.
 * @example drawKeyboard({ lowest: midi(60), highest: midi(83), hand: null, otherThumbs: [], degrees: [] }).startsWith('<svg') // → true
 */
export function drawKeyboard(picture: KeyboardPicture, options: KeyboardPictureOptions = {}): string {
  const palette = PALETTES[options.theme ?? 'light'];
  const nameOf = options.noteText ?? noteText;
  const handKeys = picture.hand === null ? [] : keysOf(picture.hand.position, picture.hand.thumbMidi);
  const heldAt = new Map((picture.held ?? []).map(({ midi: key, name }) => [key, nameOf(name)]));
  const layout = layOutKeyboard(
    midi(Math.min(picture.lowest, ...handKeys, ...heldAt.keys())),
    midi(Math.max(picture.highest, ...handKeys, ...heldAt.keys())),
  );
  const fingerAt = new Map(handKeys.map((key, index) => [key, index + 1]));
  const keyAt = new Map(layout.keys.map((key) => [key.midi, key]));

  const mark = picture.hand?.mark ?? '';
  const tabs = placeTabs(
    [
      ...(picture.hand === null
        ? []
        : [{ midi: picture.hand.thumbMidi, name: picture.hand.position.thumb, mark, kind: 'now' as const }]),
      ...picture.otherThumbs
        .filter((each) => each.midi !== picture.hand?.thumbMidi)
        .map((each) => ({ midi: each.midi, name: each.name, mark, kind: 'other' as const })),
      ...(picture.next === undefined || picture.next === null ? [] : [{ ...picture.next, kind: 'next' as const }]),
    ],
    keyAt,
  );
  const tabRows = Math.max(options.tabRows ?? 0, tabRowsOf(tabs));
  const labelOf = new Map(picture.degrees.map((label) => [label.pitchClass as number, label]));

  const draw = (black: boolean): string =>
    layout.keys
      .filter((key) => key.black === black)
      .map((key) => drawKey(key, fingerAt.has(key.midi) || heldAt.has(key.midi), palette))
      .join('');
  const marks = layout.keys
    .map((key) => {
      const finger = fingerAt.get(key.midi);
      const name = heldAt.get(key.midi);
      if (finger !== undefined) return drawFinger(key, finger, palette);
      return name === undefined ? '' : drawName(key, name, palette);
    })
    .join('');
  const shown = layout.keys.flatMap((key) => labelOf.get(key.midi % 12) ?? []);
  const above = DEGREE_ROW_MM * (shown.length === 0 ? 0 : shown.some(({ kind }) => kind === 'rubs') ? 2 : 1);
  // lower rows first: a tab above covers the stem that passes behind it
  const drawnTabs = [...tabs]
    .sort((a, b) => b.row - a.row)
    .map((tab) => drawTab(tab, layout, palette, nameOf))
    .join('');

  const { title, description } = describe(picture, layout, handKeys, options.words ?? ENGLISH_DIAGRAM_WORDS, nameOf);
  const width = layout.widthMm + 2 * MARGIN_MM;
  const below = tabRows === 0 ? 0 : 1.2 + TAB_HEIGHT_MM + (tabRows - 1) * TAB_ROW_MM;
  const top = FELT_MM + above + MARGIN_MM;
  const height = top + layout.lengthMm + below + MARGIN_MM;
  return (
    `<svg xmlns="http://www.w3.org/2000/svg" role="img" width="${mm(width)}mm" height="${mm(height)}mm" ` +
    `viewBox="${mm(-MARGIN_MM)} ${mm(-top)} ${mm(width)} ${mm(height)}" font-family="${SANS_FAMILIES}">` +
    `<title>${escaped(title)}</title><desc>${escaped(description)}</desc>` +
    `<rect class="felt" x="${mm(-0.35)}" y="${mm(-FELT_MM)}" width="${mm(layout.widthMm + 0.7)}" height="${FELT_MM}" fill="${palette.felt}"/>` +
    `${draw(false)}${draw(true)}${drawDegrees(layout, labelOf, palette)}${marks}${drawnTabs}</svg>`
  );
}

/** The thumbs of other positions as keys inside a stretch: every octave of each, for the open tabs. */
export function thumbsWithin(names: readonly NoteName[], lowest: Midi, highest: Midi): KeyboardPicture['otherThumbs'] {
  const thumbs: { name: NoteName; midi: Midi }[] = [];
  for (let value: number = lowest; value <= highest; value++) {
    const name = names.find((each) => pitchClassOf(each) === value % 12);
    if (name !== undefined) thumbs.push({ name, midi: midi(value) });
  }
  return thumbs;
}
