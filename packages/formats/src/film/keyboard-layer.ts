import { keysOf, type HandPlace, type KeyboardShown, type PressedKey } from '@fivespan/core';
import { degreeLabel, layOutKeyboard, type DegreeLabel, type DrawnKey } from '../diagram/index.ts';
import type { FilmColours } from './colours.ts';
import { lineEms, px, textLine } from './film-text.ts';
import type { Box, FilmLayout } from './layout.ts';
import type { FilmWords } from './words.ts';

/** Black keys against white ones, as they look from the bench. */
const BLACK_SHARE = 0.63;
const FELT = 8;
const LIP = 9;
/** A tab is never wider than it is by two octaves of keys, nor narrower than a name with its signs on a telephone: `E♭′`. */
const WIDEST_TAB = 84;
const NARROWEST_TAB = 72;

interface PlacedKey {
  readonly key: DrawnKey;
  readonly x: number;
  readonly width: number;
  readonly centre: number;
}

/** The keys of a stretch where they stand in the frame. */
function placedKeys(
  lowest: KeyboardShown['lowest'],
  highest: KeyboardShown['highest'],
  { keyboard: box }: FilmLayout,
): PlacedKey[] {
  const keys = layOutKeyboard(lowest, highest);
  const scale = box.width / keys.widthMm;
  return keys.keys.map((key) => ({
    key,
    x: box.x + key.xMm * scale,
    width: key.widthMm * scale,
    centre: box.x + key.centreMm * scale,
  }));
}

/** How large a finger's numeral is on its key, and where it stands. */
function numeralAt({ key, width }: PlacedKey, box: Box): { readonly size: number; readonly baseline: number } {
  const size = Math.min(key.black ? 44 : 54, width * 1.25);
  const length = box.height * (key.black ? BLACK_SHARE : 1);
  return { size, baseline: box.y + length - (key.black ? 14 : LIP + 14) };
}

/** A key that is down, as a picture of its own. */
export interface PressedPicture {
  readonly shown: unknown;
  readonly box: Box;
  readonly draw: () => string;
}

/** What a pressed key's sign keeps free at the key's edges, and how thick an open one is. */
const PRESSED_ROOM = 3;
const OPEN_STROKE = 5;

/**
 * Signs on the keys that are down: round for the right hand, square for the left, filled where the note belongs to the chord's scale,
 * open where it does not; a finger's numeral stays to be read in it.
 */
export function pressedPictures(
  { lowest, highest, hand, pressed }: KeyboardShown,
  layout: FilmLayout,
  colours: FilmColours,
): PressedPicture[] {
  if (pressed === undefined || pressed.length === 0) return [];
  const placed = placedKeys(lowest, highest, layout);
  const fingers = hand === null ? [] : keysOf(hand.position, hand.thumbMidi).slice(0, hand.fingers);
  return pressed.flatMap((each) => {
    const at = placed.find(({ key }) => key.midi === each.midi);
    if (at === undefined) return [];
    const finger = fingers.indexOf(each.midi) + 1;
    return [pressedPicture(at, each, finger, layout, colours)];
  });
}

function pressedPicture(
  at: PlacedKey,
  { hand, isInside }: PressedKey,
  finger: number,
  { keyboard }: FilmLayout,
  colours: FilmColours,
): PressedPicture {
  const { size, baseline } = numeralAt(at, keyboard);
  const half = Math.min(at.width / 2 - PRESSED_ROOM, at.key.black ? 30 : 36);
  // numerals of this face are 0.64 of their size high
  const middle = baseline - size * 0.32;
  const box = { x: at.centre - half - 1, y: middle - half - 1, width: 2 * half + 2, height: 2 * half + 2 };
  const isUnder = finger > 0;
  const onDark = at.key.black && !isUnder;
  const [mark, back] = onDark ? [colours.white, colours.black] : [colours.ink, isUnder ? colours.tint : colours.white];
  const draw = (): string => {
    const inset = isInside ? 0 : OPEN_STROKE / 2;
    const paint = isInside ? `fill="${mark}"` : `fill="${back}" stroke="${mark}" stroke-width="${OPEN_STROKE}"`;
    const shape =
      hand === 'right'
        ? `<circle class="pressed" data-midi="${at.key.midi}" cx="${px(at.centre)}" cy="${px(middle)}" r="${px(half - inset)}" ${paint}/>`
        : `<rect class="pressed" data-midi="${at.key.midi}" x="${px(at.centre - half + inset)}" y="${px(middle - half + inset)}" ` +
          `width="${px(2 * (half - inset))}" height="${px(2 * (half - inset))}" ${paint}/>`;
    const numeral = isUnder
      ? textLine(at.centre, baseline, String(finger), {
          size: Math.min(size, half * 1.7),
          fill: isInside ? back : mark,
          isBold: true,
          anchor: 'middle',
          role: 'finger',
        })
      : '';
    return shape + numeral;
  };
  return { shown: [at.key.midi, px(at.centre), hand, isInside, finger], box, draw };
}

interface Tab {
  readonly at: PlacedKey;
  readonly x: number;
  readonly name: string;
  readonly isNow: boolean;
}

/** Tabs that would cover each other move apart, like notes a second apart: the one that is coming gives way. */
function apart(now: PlacedKey | undefined, next: PlacedKey | undefined, width: number, least: number, most: number) {
  if (now === undefined || next === undefined) return { now: now?.centre, next: next?.centre };
  const gap = next.centre - now.centre;
  const need = width + 8;
  if (Math.abs(gap) >= need) return { now: now.centre, next: next.centre };
  const right = now.centre + need;
  const goesRight = gap >= 0 ? right + width / 2 <= most : now.centre - need - width / 2 < least;
  return { now: now.centre, next: goesRight ? right : now.centre - need };
}

function drawTab(
  { at, x, name, isNow }: Tab,
  width: number,
  top: number,
  height: number,
  colours: FilmColours,
): string {
  const half = width / 2;
  const radius = Math.min(width, height) * 0.36;
  const outline =
    `M${px(x - half)} ${px(top)}h${px(width)}v${px(height - radius)}a${px(radius)} ${px(radius)} 0 0 1 ${px(-radius)} ${px(radius)}` +
    `h${px(2 * radius - width)}a${px(radius)} ${px(radius)} 0 0 1 ${px(-radius)} ${px(-radius)}z`;
  const dashes = isNow ? '' : ' stroke-dasharray="8 6"';
  const size = Math.min(height * 0.72, (width - 10) / lineEms(name));
  const stem = at.key.black
    ? `<path class="stem" d="M${px(at.centre)} ${px(top - 4)}L${px(x)} ${px(top + 2)}" stroke="${colours.ink}" stroke-width="4"${dashes}/>`
    : '';
  return (
    stem +
    `<path class="tab ${isNow ? 'now' : 'next'}" data-midi="${at.key.midi}" d="${outline}" ` +
    `fill="${isNow ? colours.ink : colours.paper}" stroke="${colours.ink}" stroke-width="3"${dashes}/>` +
    textLine(x, top + height * 0.7, name, {
      size,
      fill: isNow ? colours.paper : colours.ink,
      isBold: true,
      anchor: 'middle',
      role: 'tab-name',
    })
  );
}

/** How much room degrees take above the felt. */
const DEGREE_SIZE = 34;

/** Where a key meets the felt: a white one between its black neighbours. */
function middleAtFelt({ key, x, width, centre }: PlacedKey, placed: readonly PlacedKey[]): number {
  if (key.black) return centre;
  const black = placed.filter((each) => each.key.black);
  const left = Math.max(x, ...black.filter((each) => each.x < x).map((each) => each.x + each.width));
  const right = Math.min(x + width, ...black.filter((each) => each.x > x).map((each) => each.x));
  return (left + right) / 2;
}

/** Degrees above the felt: chord tones bold, tensions slanted, what rubs with its ✕. */
function drawDegree(at: PlacedKey, x: number, label: DegreeLabel, y: number, colours: FilmColours): string {
  const rubs = label.kind === 'rubs';
  const size = Math.min(DEGREE_SIZE, (at.width * (at.key.black ? 1.5 : 1)) / lineEms(label.text));
  const style = { size, fill: rubs ? colours.rubs : colours.ink, anchor: 'middle', role: 'degree' } as const;
  const number = textLine(
    x,
    y - 10,
    label.text,
    label.kind === 'tension' ? { ...style, face: 'serif', isItalic: true } : { ...style, isBold: true },
  );
  const sign = textLine(x, y - 10 - DEGREE_SIZE * 0.9, '✕', {
    ...style,
    size: DEGREE_SIZE * 0.8,
    isBold: true,
    role: 'rubs',
  });
  return rubs ? number + sign : number;
}

/**
 * The keyboard's stretch with the hand, its fingers, the thumb's tab now and the one that comes.
 * @param words name the thumbs
 */
export function drawKeyboardLayer(
  { lesson, lowest, highest, hand, next, degrees }: KeyboardShown,
  layout: FilmLayout,
  colours: FilmColours,
  words: FilmWords,
): string {
  const { keyboard: box, tabHeight } = layout;
  const placed = placedKeys(lowest, highest, layout);
  const at = (midi: number): PlacedKey | undefined => placed.find(({ key }) => key.midi === midi);
  const lengthOf = ({ key }: PlacedKey): number => box.height * (key.black ? BLACK_SHARE : 1);
  const handKeys = hand === null ? [] : keysOf(hand.position, hand.thumbMidi).slice(0, hand.fingers);
  const underHand = new Set<number>(handKeys);
  const { y } = box;

  const drawKey = (each: PlacedKey): string => {
    const { key, x, width } = each;
    const isUnder = underHand.has(key.midi);
    const length = lengthOf(each);
    if (!key.black) {
      const inner = isUnder
        ? `<path d="M${px(x + 4)} ${px(y)}v${px(length - 5)}h${px(width - 8)}v${px(5 - length)}" fill="none" stroke="${colours.handLine}" stroke-width="2"/>`
        : '';
      const lip = `<rect x="${px(x)}" y="${px(y + length - LIP)}" width="${px(width)}" height="${LIP}" fill="${isUnder ? colours.tint : colours.lip}"/>`;
      const face = `<rect class="key${isUnder ? ' under-hand' : ''}" data-midi="${key.midi}" x="${px(x)}" y="${px(y)}" width="${px(width)}" height="${px(length)}" fill="${isUnder ? colours.tint : colours.white}"/>`;
      const lines = `<path d="M${px(x)} ${px(y + length - LIP)}h${px(width)}" stroke="${colours.keyLine}" stroke-width="1.5"/><rect x="${px(x)}" y="${px(y)}" width="${px(width)}" height="${px(length)}" fill="none" stroke="${colours.keyLine}" stroke-width="2"/>`;
      return face + lip + lines + inner;
    }
    const inner = isUnder
      ? ''
      : `<path d="M${px(x + 4)} ${px(y)}v${px(length - 10)}h${px(width - 8)}v${px(10 - length)}" fill="none" stroke="${colours.soft}" stroke-width="1.5"/>`;
    return (
      `<path class="key black${isUnder ? ' under-hand' : ''}" data-midi="${key.midi}" d="M${px(x)} ${px(y)}h${px(width)}v${px(length - 4)}a4 4 0 0 1 -4 4h${px(8 - width)}a4 4 0 0 1 -4 -4z" ` +
      `fill="${isUnder ? colours.tint : colours.black}" stroke="${colours.keyLine}" stroke-width="${isUnder ? 4 : 2}"/>${inner}`
    );
  };
  const fingers = handKeys
    .map((key, index) => {
      const place = at(key);
      if (place === undefined) return '';
      const { size, baseline } = numeralAt(place, box);
      return textLine(place.centre, baseline, String(index + 1), {
        size,
        fill: colours.onTint,
        isBold: true,
        anchor: 'middle',
        role: 'finger',
      });
    })
    .join('');

  const nowKey = hand === null || hand.fingers === 0 ? undefined : at(hand.thumbMidi);
  const comingKey = hand?.fingers === 0 ? at(hand.thumbMidi) : next === null ? undefined : at(next.thumbMidi);
  const coming = hand?.fingers === 0 ? hand : next;
  const white = placed.find(({ key }) => !key.black)?.width ?? WIDEST_TAB;
  const width = Math.min(WIDEST_TAB, Math.max(NARROWEST_TAB, white * 0.96));
  const { safe } = layout;
  const centres = apart(nowKey, comingKey, width, safe.x, safe.x + safe.width);
  const nameOf = (each: HandPlace): string => words.thumb(lesson, each);
  const tabs: Tab[] = [];
  if (comingKey !== undefined && coming !== null && centres.next !== undefined) {
    tabs.push({ at: comingKey, x: centres.next, name: nameOf(coming), isNow: false });
  }
  if (nowKey !== undefined && hand !== null && centres.now !== undefined) {
    tabs.push({ at: nowKey, x: centres.now, name: nameOf(hand), isNow: true });
  }
  const top = y + box.height + 3;
  const labels = new Map(
    (degrees?.notes ?? []).map((note) => {
      const label = degreeLabel(degrees!.chord, degrees!.chordScale, note);
      return [label.pitchClass as number, label] as const;
    }),
  );
  const ends =
    layout.sheet === null
      ? ''
      : `<rect x="${px(box.x)}" y="${px(y)}" width="${px(box.width)}" height="${px(box.height)}" fill="none" stroke="${colours.keyLine}" stroke-width="3"/>`;
  return (
    placed
      .filter(({ key }) => !key.black)
      .map(drawKey)
      .join('') +
    placed
      .filter(({ key }) => key.black)
      .map(drawKey)
      .join('') +
    ends +
    `<rect class="felt" x="${px(box.x)}" y="${px(y - FELT)}" width="${px(box.width)}" height="${FELT}" fill="${colours.felt}"/>` +
    placed
      .map((each) => {
        const label = labels.get(each.key.midi % 12);
        return label === undefined ? '' : drawDegree(each, middleAtFelt(each, placed), label, y - FELT, colours);
      })
      .join('') +
    fingers +
    tabs.map((tab) => drawTab(tab, width, top, tabHeight, colours)).join('')
  );
}
