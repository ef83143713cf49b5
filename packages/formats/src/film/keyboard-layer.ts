import { keysOf, type KeyboardShown, type Lesson } from '@fivespan/core';
import {
  degreeLabel,
  layOutKeyboard,
  noteText,
  placeMarks,
  type DegreeLabel,
  type DrawnKey,
} from '../diagram/index.ts';
import type { FilmColours } from './colours.ts';
import { lineEms, px, textLine } from './film-text.ts';
import type { FilmLayout } from './layout.ts';

/** Black keys against white ones, as they look from the bench. */
const BLACK_SHARE = 0.63;
const FELT = 8;
const LIP = 9;
/** A tab is never wider than it is by two octaves of keys, nor narrower than its letter. */
const WIDEST_TAB = 84;
const NARROWEST_TAB = 44;

interface PlacedKey {
  readonly key: DrawnKey;
  readonly x: number;
  readonly width: number;
  readonly centre: number;
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

/** Degrees above the felt: chord tones bold, tensions slanted, what rubs with its ✕. */
function drawDegree(at: PlacedKey, label: DegreeLabel, y: number, colours: FilmColours): string {
  const rubs = label.kind === 'rubs';
  const size = Math.min(DEGREE_SIZE, (at.width * (at.key.black ? 1.5 : 1)) / lineEms(label.text));
  const style = { size, fill: rubs ? colours.rubs : colours.ink, anchor: 'middle', role: 'degree' } as const;
  const number = textLine(
    at.centre,
    y - 10,
    label.text,
    label.kind === 'tension' ? { ...style, face: 'serif', isItalic: true } : { ...style, isBold: true },
  );
  const sign = textLine(at.centre, y - 10 - DEGREE_SIZE * 0.9, '✕', {
    ...style,
    size: DEGREE_SIZE * 0.8,
    isBold: true,
    role: 'rubs',
  });
  return rubs ? number + sign : number;
}

/**
 * The keyboard's stretch with the hand, its fingers, the thumb's tab now and the one that comes.
 * @param lesson whose thumbs are marked
 */
export function drawKeyboardLayer(
  { lowest, highest, hand, next, degrees }: KeyboardShown,
  lesson: Lesson,
  layout: FilmLayout,
  colours: FilmColours,
): string {
  const { keyboard: box, tabHeight } = layout;
  const keys = layOutKeyboard(lowest, highest);
  const scale = box.width / keys.widthMm;
  const placed: PlacedKey[] = keys.keys.map((key) => ({
    key,
    x: box.x + key.xMm * scale,
    width: key.widthMm * scale,
    centre: box.x + key.centreMm * scale,
  }));
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
      const lip = `<rect x="${px(x)}" y="${px(y + length - LIP)}" width="${px(width)}" height="${LIP}" fill="${isUnder ? colours.tint : colours.lip}"/>`;
      const face = `<rect class="key${isUnder ? ' under-hand' : ''}" data-midi="${key.midi}" x="${px(x)}" y="${px(y)}" width="${px(width)}" height="${px(length)}" fill="${isUnder ? colours.tint : colours.white}"/>`;
      const lines = `<path d="M${px(x)} ${px(y + length - LIP)}h${px(width)}" stroke="${colours.keyLine}" stroke-width="1.5"/><rect x="${px(x)}" y="${px(y)}" width="${px(width)}" height="${px(length)}" fill="none" stroke="${colours.keyLine}" stroke-width="2"/>`;
      return face + lip + lines;
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
      const size = Math.min(place.key.black ? 44 : 54, place.width * 1.25);
      const baseline = y + lengthOf(place) - (place.key.black ? 14 : LIP + 14);
      return textLine(place.centre, baseline, String(index + 1), {
        size,
        fill: colours.onTint,
        isBold: true,
        anchor: 'middle',
        role: 'finger',
      });
    })
    .join('');

  const marks = placeMarks(lesson);
  const nowKey = hand === null || hand.fingers === 0 ? undefined : at(hand.thumbMidi);
  const comingKey = hand?.fingers === 0 ? at(hand.thumbMidi) : next === null ? undefined : at(next.thumbMidi);
  const coming = hand?.fingers === 0 ? hand : next;
  const white = placed.find(({ key }) => !key.black)?.width ?? WIDEST_TAB;
  const width = Math.min(WIDEST_TAB, Math.max(NARROWEST_TAB, white * 0.96));
  const { safe } = layout;
  const centres = apart(nowKey, comingKey, width, safe.x, safe.x + safe.width);
  const nameOf = ({ position, thumbMidi }: NonNullable<typeof next>): string =>
    noteText(position.thumb) + marks(position, thumbMidi);
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
        return label === undefined ? '' : drawDegree(each, label, y - FELT, colours);
      })
      .join('') +
    fingers +
    tabs.map((tab) => drawTab(tab, width, top, tabHeight, colours)).join('')
  );
}
