// oxlint-disable-next-line typescript/triple-slash-reference -- the engine ships no types; packages that compile this source must find ours
/// <reference path="./verovio.d.ts" />
import { liftFingering } from './fingering-height.ts';
import { SERIF_FAMILIES } from '../type/index.ts';
import { plainSvg } from './plain-svg.ts';

/** How a page is engraved. */
export interface EngravingOptions {
  /** Width of a system in millimetres, 40 to 1000. */
  readonly widthMm: number;
  /** Height of a five-line staff in millimetres, 3.6 to 9.6; 5.6 where nothing is said. */
  readonly staffHeightMm?: number;
  /** Whether systems after the first begin with their bar number; true where nothing is said. */
  readonly barNumbers?: boolean;
  /** Whether the last system too fills the width; false where nothing is said. */
  readonly fillsLastSystem?: boolean;
  /** Family list for texts, as CSS writes it. */
  readonly textFont?: string;
  /** Colour of everything drawn, as SVG writes it: `#000` where nothing is said, `currentColor` for a page with themes. */
  readonly ink?: string;
  /** Whether note elements of the MusicXML that have an id keep it, as `data-note`; false where nothing is said. */
  readonly noteIds?: boolean;
  /** Size of texts against the engraver's own; 0.9 where nothing is said, which fits the default font. */
  readonly textScale?: number;
}

/** Holds the engraving engine (about 215 MB) until it is closed. */
export interface Engraver {
  /**
   * Engraves MusicXML, best written with `purpose: 'engraving'`.
   * @returns one SVG a system, top to bottom, each cropped to its height; root width and height in millimetres.
   *   The same input gives the same text.
   * @throws TypeError where the text cannot be engraved; RangeError where an option is out of range.
   */
  engrave(musicXml: string, options: EngravingOptions): string[];
  /** Frees the engine; the engraver is of no use afterwards. */
  close(): void;
}

/** The faces the pictures name unless asked otherwise. */
export const ENGRAVING_TEXT_FONT = SERIF_FAMILIES;

/** The engine's unit is half a staff space: an eighth of the staff's height, in tenths of a millimetre. */
const UNITS_A_STAFF = 8;

/** White space around a system in units: braces, bar numbers and last symbols reach out of the staff. */
const MARGIN_UNITS = { left: 4, other: 2 };

/** White space under a chord symbol in units: the engine's own default. */
const USUAL_HARMONY_MARGIN = 1;

/** The size of texts that the engine's own room fits, and the units that symbols need for each time their size more: found by measuring. */
const USUAL_TEXT_SCALE = 0.9;
const UNITS_A_SCALE = 9;

/** Digits grow up towards symbols, whose own letters hang lower, after the engine has placed both. */
const roomForLargeTexts = (scale: number): number => Math.max(0, scale - USUAL_TEXT_SCALE) * UNITS_A_SCALE;

/** Seeds for the engine's own ids; any will do that never change. The second reading keeps the first one's ids, so its own must differ. */
const ID_SEEDS = { musicXml: 1, mei: 2 } as const;

/** Words under a staff (the thumbs) stand in one row over the system, where an eye at the keyboard finds them. */
function inOneRow(mei: string): string {
  return mei.replaceAll('<dir ', '<dir vgrp="1" ');
}

function inRange(name: string, value: number, low: number, high: number): number {
  if (!(value >= low && value <= high))
    throw new RangeError(`${name} must lie between ${low} and ${high}, not ${value}`);
  return value;
}

/**
 * Loads the engraving engine, once for many pictures. It is imported here and not before: 2.4 MB gzipped.
 * @example
 * const engraver = await createEngraver();
 * const systems = engraver.engrave(writeMusicXml(score, { purpose: 'engraving' }), { widthMm: 180 });
 * engraver.close();
 */
export async function createEngraver(): Promise<Engraver> {
  const [{ default: createVerovioModule }, { VerovioToolkit, enableLog, LOG_OFF }] = await Promise.all([
    import('verovio/wasm'),
    import('verovio/esm'),
  ]);
  const module = await createVerovioModule();
  const toolkit = new VerovioToolkit(module);
  // the engine would write its remarks on the console; its answer says what it cannot load
  enableLog(LOG_OFF, module);
  const load = (data: string, seed: number): void => {
    toolkit.resetXmlIdSeed(seed);
    if (!toolkit.loadData(data)) throw new TypeError('musicXml must be a score that can be engraved');
  };
  return {
    engrave: (musicXml, options) => {
      const widthMm = inRange('widthMm', options.widthMm, 40, 1000);
      const staffHeightMm = inRange('staffHeightMm', options.staffHeightMm ?? 5.6, 3.6, 9.6);
      const unit = Math.round((staffHeightMm * 100) / UNITS_A_STAFF) / 10;
      const scale = inRange('textScale', options.textScale ?? USUAL_TEXT_SCALE, 0.5, 2);
      toolkit.setOptions({
        adjustPageHeight: true,
        bottomMarginHarm: USUAL_HARMONY_MARGIN,
        // the first reading is for its notes alone: laying it out in systems would take as long again
        breaks: 'none',
        font: 'Leipzig',
        footer: 'none',
        header: 'none',
        justifyVertically: false,
        minLastJustification: options.fillsLastSystem === true ? 0 : 0.8,
        mnumInterval: options.barNumbers === false ? 64 : 0,
        // no system fits so low a page: each gets one of its own, cropped to its height
        pageHeight: 100,
        pageMarginBottom: Math.round(MARGIN_UNITS.other * unit),
        pageMarginLeft: Math.round(MARGIN_UNITS.left * unit),
        pageMarginRight: Math.round(MARGIN_UNITS.other * unit),
        pageMarginTop: Math.round(MARGIN_UNITS.other * unit),
        pageWidth: Math.round(widthMm * 10),
        scale: 100,
        unit,
        xmlIdSeed: ID_SEEDS.musicXml,
      });
      load(musicXml, ID_SEEDS.musicXml);
      const { mei, liftUnits } = liftFingering(toolkit.getMEI());
      // symbols make way for the digits that were moved up after the engraver had placed both
      toolkit.setOptions({
        bottomMarginHarm: USUAL_HARMONY_MARGIN + liftUnits + roomForLargeTexts(scale),
        breaks: 'auto',
      });
      load(inOneRow(mei), ID_SEEDS.mei);
      const style = {
        fontFamily: options.textFont ?? ENGRAVING_TEXT_FONT,
        scale,
        ink: options.ink ?? '#000',
        noteIds: options.noteIds ?? false,
      };
      return Array.from({ length: toolkit.getPageCount() }, (_, index) =>
        plainSvg(toolkit.renderToSVG(index + 1), style),
      );
    },
    close: () => toolkit.destroy(),
  };
}
