import type { Score, ScoreStaff } from '@fivespan/core';
import { BOLD, SANS_FAMILIES, svgText } from '../type/index.ts';
import { writeMusicXml } from '../musicxml/index.ts';
import type { Block } from './block.ts';
import { INK, textRun, type Canvas } from './canvas.ts';
import { settable } from './fonts.ts';
import type { Printing } from './printing.ts';
import { POINTS_PER_MM } from './pdf-document.ts';

/** What of the score is engraved, and how large. */
export interface MusicChoice {
  readonly parts: readonly ScoreStaff['role'][];
  readonly numerals: boolean;
  readonly fingers: boolean;
  readonly thumbs: boolean;
  /** A sign for each of the score's thumbs, see tabMarksOf; empty for none. */
  readonly tabMarks: readonly string[];
  readonly staffHeightMm: number;
}

/** Engraved systems as blocks; a system is never split. Empty where the score has no notes for these parts. */
export function musicBlocks(
  { canvas, engraver, frame, words }: Printing,
  score: Score,
  title: string,
  choice: MusicChoice,
): Block[] {
  const hasNotes = score.staves.some((staff) => choice.parts.includes(staff.role) && staff.notes.length > 0);
  if (!hasNotes) return [];
  const musicXml = writeMusicXml(withSettableNames(score, canvas), {
    parts: choice.parts,
    chords: true,
    numerals: choice.numerals,
    fingers: choice.fingers,
    thumbs: choice.thumbs,
    purpose: 'engraving',
  });
  const systems = engraver.engrave(musicXml, {
    widthMm: frame.widthPt / POINTS_PER_MM,
    staffHeightMm: choice.staffHeightMm,
  });
  const room = frame.bottomPt - frame.topPt - 40;
  const marks = choice.tabMarks[Symbol.iterator]();
  return systems.map((svg, index) => {
    const { widthMm, heightMm } = sizeOf(svg);
    // a system higher than a page is unheard of; should one come, it is made smaller rather than cut
    const scale = Math.min(1, room / (heightMm * POINTS_PER_MM));
    const tabbed = withFittingBoxes(withThumbTabs(svg, marks), canvas);
    const widthPt = widthMm * POINTS_PER_MM * scale;
    const heightPt = heightMm * POINTS_PER_MM * scale;
    return {
      heightPt,
      gapPt: index === 0 ? 2 : 5,
      keepWithNext: false,
      draw: (target, topPt) =>
        target.tagged(
          'Figure',
          () => target.svg(tabbed, frame.leftPt, topPt, widthPt, heightPt),
          words.notation(title, index + 1, systems.length),
        ),
    };
  });
}

/** From the picture's edge to a box, in the engraver's units: a tenth of a millimetre is ten. */
const BOX_MARGIN = 40;

/** Characters a name over a system may have: its box is set about the bar line, and a longer one would leave the page. */
const MOST_CHARACTERS = 10;

function shortened(name: string): string {
  const characters = [...name];
  return characters.length <= MOST_CHARACTERS ? name : `${characters.slice(0, MOST_CHARACTERS - 1).join('')}…`;
}

/** Section names as the engraver's text font can set them; the handout's head has the title. */
function withSettableNames(score: Score, canvas: Canvas): Score {
  const bars = score.bars.map((bar) =>
    bar.section === null ? bar : { ...bar, section: shortened(settable(bar.section, 'serif-bold', canvas.fonts)) },
  );
  return { ...score, bars };
}

/** A text's characters, without the spans of its signs. */
function plain(text: string): string {
  return text.replaceAll(/<[^>]*>/gu, '');
}

/**
 * Turns the engraver's boxed names into thumb tabs: solid, square above and round below, as on the keyboard pictures.
 * The engraver has no such sign; a box is what MusicXML can say.
 */
function withThumbTabs(svg: string, marks: Iterator<string>): string {
  return svg.replaceAll(
    /<g class="dir"><rect[^>]*? x="(-?\d+)" y="(-?\d+)" height="(\d+)" width="(\d+)" ?\/><text x="(\d+)"[^>]*?font-size="(\d+)"[^>]*>(.*?)<\/text>/gu,
    (_whole, ...found: string[]) => {
      const [x = 0, y = 0, height = 0, width = 0, middle = 0, size = 0] = found.slice(0, 6).map(Number);
      const radius = Math.round(Math.min(width, height) * 0.36);
      const outline =
        `M${x} ${y}h${width}v${height - radius}a${radius} ${radius} 0 0 1 ${-radius} ${radius}` +
        `h${2 * radius - width}a${radius} ${radius} 0 0 1 ${-radius} ${-radius}z`;
      const mark = marks.next();
      const name = plain(found[6] ?? '') + (mark.done === true ? '' : mark.value);
      const sizeSans = Math.round(size * ([...name].length > 2 ? 0.9 : 1.05));
      const baseline = Math.round(y + height * 0.5 + sizeSans * 0.36);
      return (
        `<g class="dir"><path d="${outline}" fill="${INK}"/>` +
        `<text x="${middle}" y="${baseline}" text-anchor="middle" font-family="${SANS_FAMILIES}" font-weight="${BOLD}" ` +
        `font-size="${sizeSans}" fill="#ffffff">${svgText(name)}</text>`
      );
    },
  );
}

/** Boxes about section names as wide as the names are in our font; the engraver reckons with another. */
function withFittingBoxes(svg: string, canvas: Canvas): string {
  return svg.replaceAll(
    /<g class="reh"><rect([^>]*?) x="-?\d+" y="(-?\d+)" height="(\d+)" width="\d+" ?\/><text x="(\d+)"([^>]*?font-size="(\d+)"[^>]*)>(.*?)<\/text>/gu,
    (_whole, look: string, y: string, height: string, middle: string, style: string, size: string, name: string) => {
      const text = plain(name).replaceAll('&lt;', '<').replaceAll('&gt;', '>').replaceAll('&amp;', '&');
      const width = Math.round(canvas.widthOf(textRun(text, 'serif-bold', Number(size))) + Number(size) * 0.6);
      const left = Math.max(BOX_MARGIN, Number(middle) - Math.round(width / 2));
      return (
        `<g class="reh"><rect${look} x="${left}" y="${y}" height="${height}" width="${width}"/>` +
        `<text x="${left + Math.round(width / 2)}"${style}>${name}</text>`
      );
    },
  );
}

function sizeOf(svg: string): { widthMm: number; heightMm: number } {
  const size = /<svg\b[^>]*\swidth="([\d.]+)mm"[^>]*\sheight="([\d.]+)mm"/u.exec(svg);
  if (size === null) throw new TypeError('svg must state its width and height in millimetres');
  return { widthMm: Number(size[1]), heightMm: Number(size[2]) };
}
