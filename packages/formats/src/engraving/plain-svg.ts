import { BOLD, printedChordPieces, SANS_FAMILIES, svgChord, svgText } from '../type/index.ts';

/** Private-use signs of the music font's text face, and the characters of a text font. Source: verovio 6.3.0 output, SMuFL. */
const TEXT_SIGNS: Readonly<Record<string, string>> = {
  '\uEA64': '♭',
  '\uEA65': '♮',
  '\uEA66': '♯',
  '\uED60': '♭',
  '\uED61': '♮',
  '\uED62': '♯',
  '\uE260': '♭',
  '\uE261': '♮',
  '\uE262': '♯',
  '\uECA5': ' ♩',
  '\uECA7': ' ♪',
  '\uECB7': '.',
};

/** How text of a class looks; verovio says it in a style sheet. */
const BOLD_CLASSES: ReadonlySet<string> = new Set(['ending', 'fing', 'reh', 'tempo']);
const ITALIC_CLASSES: ReadonlySet<string> = new Set(['mNum']);

/** Names the engraver gives its music font, and the one name pages use. */
const MUSIC_FONTS: ReadonlySet<string> = new Set(['Leipzig', 'Bravura', 'Leland', 'Gootville', 'Petaluma']);

/** The music font's family name in the engraver's pictures (see musicFont). */
export const MUSIC_FONT_FAMILY = 'Leipzig';

interface Run {
  text: string;
  fontSize: string;
  fontFamily: string | undefined;
  isBold: boolean;
  isItalic: boolean;
}

function attribute(tag: string, name: string): string | undefined {
  return new RegExp(`\\s${name}="([^"]*)"`, 'u').exec(tag)?.[1];
}

/** The runs of one text element: nested spans are resolved, the white space between tags is no text. */
function runsOf(body: string, isBold: boolean, isItalic: boolean): Run[] {
  const runs: Run[] = [];
  const stack: Omit<Run, 'text'>[] = [{ fontSize: '0', fontFamily: undefined, isBold, isItalic }];
  for (const [, close, tag, empty, text] of body.matchAll(/(<\/tspan>)|(<tspan\b[^>]*?(\/?)>)|([^<]+)/gu)) {
    const top = stack.at(-1) as Omit<Run, 'text'>;
    if (close !== undefined) stack.pop();
    else if (tag !== undefined && empty !== '/') {
      const family = attribute(tag, 'font-family');
      stack.push({
        fontSize: (attribute(tag, 'font-size') ?? top.fontSize).replace('px', ''),
        fontFamily: family !== undefined && MUSIC_FONTS.has(family) ? MUSIC_FONT_FAMILY : top.fontFamily,
        isBold: attribute(tag, 'font-weight') === undefined ? top.isBold : attribute(tag, 'font-weight') === 'bold',
        isItalic: attribute(tag, 'font-style') === undefined ? top.isItalic : attribute(tag, 'font-style') === 'italic',
      });
    } else if (text !== undefined && (stack.length > 1 || text.trim() !== '') && !/^\s*\n\s*$/u.test(text)) {
      runs.push({ ...top, text });
    }
  }
  return runs;
}

/** Accidentals and beat units of the music font become the text font's own, in the size of the text beside them. */
function withTextSigns(runs: readonly Run[]): Run[] {
  const textSize = runs.find((run) => run.fontFamily === undefined)?.fontSize;
  const merged: Run[] = [];
  for (const run of runs) {
    const isTextSign = Array.from(run.text).every((each) => each in TEXT_SIGNS);
    const next: Run = isTextSign
      ? {
          ...run,
          text: Array.from(run.text, (each) => TEXT_SIGNS[each]).join(''),
          fontFamily: undefined,
          fontSize: textSize ?? run.fontSize,
        }
      : { ...run };
    const last = merged.at(-1);
    const isSameLook =
      last !== undefined &&
      last.fontSize === next.fontSize &&
      last.fontFamily === next.fontFamily &&
      last.isBold === next.isBold &&
      last.isItalic === next.isItalic;
    if (isSameLook) last.text += next.text;
    else merged.push(next);
  }
  return merged;
}

function lookOf(run: Run, scale: number): string {
  const size = Math.round(Number(run.fontSize) * (run.fontFamily === undefined ? scale : 1));
  return (
    (run.fontFamily === undefined ? '' : ` font-family="${run.fontFamily}"`) +
    ` font-size="${size}"` +
    (run.isBold ? ` font-weight="${BOLD}"` : '') +
    (run.isItalic ? ' font-style="italic"' : '')
  );
}

/** A chord's root against the engraver's size for texts: its kind is smaller than the root. Found by looking. */
const CHORD_SCALE = 1.1;

interface TextPlace {
  readonly x: string;
  readonly y: string;
  readonly anchor: string | undefined;
}

/** Names of chords over the staff are set as everywhere (chordPieces); numerals below stay as they are. */
function chordElement(place: TextPlace, runs: readonly Run[], scale: number): string | null {
  const pieces = printedChordPieces(
    runs
      .map((run) => run.text)
      .join('')
      .trim(),
    'text',
  );
  if (pieces === null) return null;
  const size = Math.round(Number(runs[0]?.fontSize) * scale * CHORD_SCALE);
  const anchor = place.anchor === undefined ? '' : ` text-anchor="${place.anchor}"`;
  return `<text x="${place.x}" y="${place.y}"${anchor} font-weight="${BOLD}" xml:space="preserve">${svgChord(pieces, size)}</text>`;
}

function textElement(place: TextPlace, runs: readonly Run[], scale: number, family: string): string {
  const anchor = place.anchor === undefined ? '' : ` text-anchor="${place.anchor}"`;
  const open = `<text x="${place.x}" y="${place.y}"${anchor}${family} xml:space="preserve"`;
  const [only] = runs;
  if (runs.length === 1 && only !== undefined) return `${open}${lookOf(only, scale)}>${svgText(only.text)}</text>`;
  return `${open}>${runs.map((run) => `<tspan${lookOf(run, scale)}>${svgText(run.text)}</tspan>`).join('')}</text>`;
}

/** How a picture's texts are set. */
export interface TextStyle {
  /** Family list for every text that is not a music sign. */
  readonly fontFamily: string;
  /** Size against the engraver's own, which reckons with the widths of Times. */
  readonly scale: number;
  /** Colour of everything drawn. */
  readonly ink: string;
  /** Whether notes keep their ids, as `data-note`. */
  readonly noteIds: boolean;
}

/** Bold letters in a box the engraver measured for its own font: a little smaller, to leave white around them. */
const BOXED_BOLD_SCALE = 0.88;

const BOX = /<rect\b[^>]*\sfill-opacity="0"[^>]*>/u;

/** Texts of one group: the class says weight and slant; a text in a box is set in its middle. */
function plainText(svg: string, style: TextStyle): string {
  return svg.replaceAll(
    /<g class="(\w+)[^>]*>\s*(<rect\b[^>]*>)?\s*((?:<text\b[^>]*?(?:\/>|>[\s\S]*?<\/text>)\s*)+)/gu,
    (_whole, name: string, box: string | undefined, texts: string) => {
      const written = [...texts.matchAll(/<text\b([^>]*?)(?:\/>|>([\s\S]*?)<\/text>)/gu)].map(
        ([, tag = '', body = '']) => {
          const runs = withTextSigns(runsOf(body, BOLD_CLASSES.has(name), ITALIC_CLASSES.has(name)));
          if (runs.length === 0) return '';
          let place: TextPlace = {
            x: attribute(tag, 'x') ?? '0',
            y: attribute(tag, 'y') ?? '0',
            anchor: attribute(tag, 'text-anchor'),
          };
          if (box !== undefined && BOX.test(box)) {
            const middle = Number(attribute(box, 'x')) + Math.round(Number(attribute(box, 'width')) / 2);
            place = { ...place, x: String(middle), anchor: 'middle' };
          }
          const isTight = box !== undefined && BOLD_CLASSES.has(name);
          const chord = name === 'harm' ? chordElement(place, runs, style.scale) : null;
          const family = name === 'fing' ? ` font-family="${SANS_FAMILIES}"` : '';
          return chord ?? textElement(place, runs, style.scale * (isTight ? BOXED_BOLD_SCALE : 1), family);
        },
      );
      return `<g class="${name}">${box ?? ''}${written.join('')}`;
    },
  );
}

/**
 * Makes the engraver's picture plain: no style sheets, no embedded fonts, no nested picture, strokes on the shapes,
 * accidentals in texts as characters of a text font, texts flat, sizes in millimetres. Such a picture prints the same
 * through a PDF writer as in a browser.
 * @param svg as verovio 6.3.0 writes it, scale 100: a tenth of a millimetre is 10 units of the viewBox
 */
export function plainSvg(svg: string, style: TextStyle): string {
  const size = /<svg\b[^>]*\swidth="(\d+)px"\s+height="(\d+)px"/u.exec(svg);
  const viewBox = /<svg class="definition-scale"[^>]*\sviewBox="([^"]*)"/u.exec(svg)?.[1];
  if (size === null || viewBox === undefined) throw new TypeError('svg must be a page as verovio 6.3.0 writes it');
  const body = svg
    .replace(/^[\s\S]*?<\/desc>/u, '')
    .replaceAll(/<style\b[^>]*>[\s\S]*?<\/style>/gu, '')
    .replace(/<svg class="definition-scale"[^>]*>/u, '<g>')
    .replace(/<\/svg>\s*<\/svg>\s*$/u, '</g>')
    .replaceAll(/<g id="(note-[^"]*)" class="note/gu, style.noteIds ? '<g data-note="$1" class="note' : '$&')
    // ids serve only glyphs; two pictures on one page would share the others
    .replaceAll(/<(g|path|tspan|text|rect)( id="(?!E[0-9A-F]{3,4}-)[^"]*")/gu, '<$1')
    .replaceAll(/<g class="[^"]*"\s*\/>\s*/gu, '');
  const stroked = plainText(body, style)
    .replaceAll(
      /<(ellipse|path|polygon|polyline|rect)\b(?=[^>]*\sstroke-width=)(?![^>]*\sstroke=)/gu,
      `<$1 stroke="${style.ink}"`,
    )
    .replaceAll('fill-opacity="0"', 'fill="none"')
    .replaceAll('currentColor', style.ink)
    .replaceAll(/>\s+</gu, '><');
  const [, width = '0', height = '0'] = size;
  return (
    '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" version="1.1"' +
    ` width="${Number(width) / 10}mm" height="${Number(height) / 10}mm" viewBox="${viewBox}"` +
    ` font-family="${style.fontFamily}" fill="${style.ink}">${stroked.trim()}</svg>\n`
  );
}
