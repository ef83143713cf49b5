/// <reference path="./pdfkit.d.ts" />
import PDFDocument, { type ParsedFont } from 'pdfkit';

/** Fonts of a handout by what they are for: serif for music and chords, sans for words. */
export type FontRole =
  'serif' | 'serif-bold' | 'engraved' | 'engraved-bold' | 'sans' | 'sans-bold' | 'sans-italic' | 'music';

/** Where the package dejavu-fonts-ttf keeps the text fonts; the music font comes from the engraver (`musicFont()`). */
export const HANDOUT_FONT_FILES: Readonly<Record<Exclude<FontRole, 'music'>, string>> = {
  serif: 'dejavu-fonts-ttf/ttf/DejaVuSerif.ttf',
  'serif-bold': 'dejavu-fonts-ttf/ttf/DejaVuSerif-Bold.ttf',
  engraved: 'dejavu-fonts-ttf/ttf/DejaVuSerifCondensed.ttf',
  'engraved-bold': 'dejavu-fonts-ttf/ttf/DejaVuSerifCondensed-Bold.ttf',
  sans: 'dejavu-fonts-ttf/ttf/DejaVuSans.ttf',
  'sans-bold': 'dejavu-fonts-ttf/ttf/DejaVuSans-Bold.ttf',
  'sans-italic': 'dejavu-fonts-ttf/ttf/DejaVuSans-Oblique.ttf',
};

/**
 * Parsed fonts, shared by all handouts of a run: parsing takes longer than a page. The music font is needed only where the
 * engraver sets music signs in a text, which the handout's own music never asks for.
 */
export type HandoutFonts = Readonly<Record<Exclude<FontRole, 'music'>, ParsedFont>> & { readonly music?: ParsedFont };

/** The bytes of TTF or WOFF files by role; see HANDOUT_FONT_FILES. */
export type HandoutFontBytes = Readonly<Record<Exclude<FontRole, 'music'>, Uint8Array>> & {
  readonly music?: Uint8Array;
};

/**
 * Parses the fonts once.
 * @throws Error where the bytes are no font.
 */
export function openHandoutFonts(files: HandoutFontBytes): HandoutFonts {
  // pdfkit carries the font parser; a document of no pages serves as its door
  const door = new PDFDocument({ autoFirstPage: false, font: null });
  const parsed = (bytes: Uint8Array): ParsedFont => door.font(bytes)._font.font;
  const open = (role: Exclude<FontRole, 'music'>): ParsedFont => parsed(files[role]);
  return {
    serif: open('serif'),
    'serif-bold': open('serif-bold'),
    engraved: open('engraved'),
    'engraved-bold': open('engraved-bold'),
    sans: open('sans'),
    'sans-bold': open('sans-bold'),
    'sans-italic': open('sans-italic'),
    ...(files.music === undefined ? {} : { music: parsed(files.music) }),
  };
}

/** The roles tried for a character, first to last. */
const FALLBACKS: Readonly<Record<FontRole, readonly FontRole[]>> = {
  serif: ['serif', 'sans'],
  'serif-bold': ['serif-bold', 'sans-bold', 'sans'],
  engraved: ['engraved', 'sans'],
  'engraved-bold': ['engraved-bold', 'sans-bold', 'sans'],
  sans: ['sans', 'serif'],
  'sans-bold': ['sans-bold', 'sans', 'serif'],
  'sans-italic': ['sans-italic', 'sans', 'serif'],
  music: ['music'],
};

/** Stands, visibly, for a character that no font has. */
export const REPLACEMENT = '\uFFFD';

/** A stretch of text that one font can set. */
export interface FontRun {
  readonly role: FontRole;
  readonly text: string;
}

/**
 * Splits text into stretches each set in the first font that has its characters. What no font has becomes U+FFFD, so
 * that a reader sees something is missing; control characters become spaces and invisible formatting is dropped.
 */
export function fontRuns(text: string, role: FontRole, fonts: HandoutFonts): FontRun[] {
  const runs: { role: FontRole; text: string }[] = [];
  const add = (each: FontRole, character: string): void => {
    const last = runs.at(-1);
    if (last?.role === each) last.text += character;
    else runs.push({ role: each, text: character });
  };
  for (const character of text.normalize('NFC').replaceAll(/\s/gu, ' ')) {
    if (/\p{Default_Ignorable_Code_Point}/u.test(character)) continue;
    if (/\p{Cc}/u.test(character)) {
      add(runs.at(-1)?.role ?? role, ' ');
      continue;
    }
    const codePoint = character.codePointAt(0) as number;
    const found = FALLBACKS[role].find((each) => fonts[each]?.hasGlyphForCodePoint(codePoint) === true);
    if (found === undefined) add(role === 'music' ? 'sans' : role, REPLACEMENT);
    else add(found, character);
  }
  return runs;
}

/** Text as one font can set it: what it lacks is replaced. For pictures, whose texts have one font. */
export function settable(text: string, role: FontRole, fonts: HandoutFonts): string {
  return fontRuns(text, role, fonts)
    .map((run) => (run.role === role ? run.text : REPLACEMENT.repeat([...run.text].length)))
    .join('');
}
