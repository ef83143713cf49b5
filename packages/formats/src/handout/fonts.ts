/// <reference path="./pdfkit.d.ts" />
import PDFDocument, { type ParsedFont } from 'pdfkit';
import { isSign } from '../type/index.ts';
import { unpackFont } from './unpack-font.ts';

/** Faces of a page by what they are for: serif for music, chords and titles, sans for words and fingers, signs beside both. */
export type TextRole = 'serif' | 'serif-bold' | 'serif-italic' | 'sans' | 'sans-bold';
type SignRole = 'signs' | 'signs-bold' | 'signs-black';
/** Files that have letters the first ones have not: titles and names may need them. */
type OtherScript = 'latin-ext' | 'vietnamese' | 'cyrillic' | 'greek';
type FontFile = TextRole | SignRole | `${'serif-bold' | 'sans'}-${OtherScript}`;
export type FontRole = FontFile | 'music';

const serif = (name: string): string => `@fontsource/source-serif-4/files/source-serif-4-${name}.woff`;
const sans = (name: string): string => `@fontsource/source-sans-3/files/source-sans-3-${name}.woff`;
const signs = (weight: number): string => `@fivespan/formats/fonts/signs-${weight}.otf`;

/** Where the packages keep the text fonts and we the signs; the music font comes from the engraver (`musicFont()`). */
export const HANDOUT_FONT_FILES: Readonly<Record<FontFile, string>> = {
  serif: serif('latin-400-normal'),
  'serif-bold': serif('latin-600-normal'),
  'serif-italic': serif('latin-400-italic'),
  sans: sans('latin-400-normal'),
  'sans-bold': sans('latin-600-normal'),
  signs: signs(400),
  'signs-bold': signs(600),
  'signs-black': signs(700),
  'serif-bold-latin-ext': serif('latin-ext-600-normal'),
  'serif-bold-vietnamese': serif('vietnamese-600-normal'),
  'serif-bold-cyrillic': serif('cyrillic-600-normal'),
  'serif-bold-greek': serif('greek-600-normal'),
  'sans-latin-ext': sans('latin-ext-400-normal'),
  'sans-vietnamese': sans('vietnamese-400-normal'),
  'sans-cyrillic': sans('cyrillic-400-normal'),
  'sans-greek': sans('greek-400-normal'),
};

/**
 * Parsed fonts, shared by all handouts of a run: parsing takes longer than a page. The music font is needed only where the
 * engraver sets music signs in a text, which the handout's own music never asks for.
 */
export type HandoutFonts = Readonly<Record<FontFile, ParsedFont>> & { readonly music?: ParsedFont };

/** The bytes of TTF, OTF or WOFF files by role; see HANDOUT_FONT_FILES. */
export type HandoutFontBytes = Readonly<Record<FontFile, Uint8Array>> & { readonly music?: Uint8Array };

/**
 * Parses the fonts once.
 * @throws Error where the bytes are no font.
 */
export function openHandoutFonts(files: HandoutFontBytes): HandoutFonts {
  // pdfkit carries the font parser; a document of no pages serves as its door
  const door = new PDFDocument({ autoFirstPage: false, font: null });
  const parsed = (bytes: Uint8Array): ParsedFont => door.font(unpackFont(bytes))._font.font;
  const opened = Object.keys(HANDOUT_FONT_FILES).map((role) => [role, parsed(files[role as FontFile])] as const);
  return {
    ...(Object.fromEntries(opened) as Record<FontFile, ParsedFont>),
    ...(files.music === undefined ? {} : { music: parsed(files.music) }),
  };
}

/** The sign font in the weight of a face. */
const SIGNS_BESIDE: Readonly<Record<TextRole, SignRole>> = {
  serif: 'signs',
  'serif-bold': 'signs-bold',
  'serif-italic': 'signs',
  sans: 'signs',
  'sans-bold': 'signs-bold',
};

const OTHER_SERIFS = [
  'serif-bold-latin-ext',
  'serif-bold-vietnamese',
  'serif-bold-cyrillic',
  'serif-bold-greek',
] as const;
const OTHER_SANS = ['sans-latin-ext', 'sans-vietnamese', 'sans-cyrillic', 'sans-greek'] as const;

/** The faces tried for a letter after the one asked for, first to last. */
const OTHERS: Readonly<Record<TextRole, readonly FontFile[]>> = {
  serif: [...OTHER_SANS],
  'serif-bold': [...OTHER_SERIFS],
  'serif-italic': ['serif', ...OTHER_SANS],
  sans: [...OTHER_SANS],
  'sans-bold': [...OTHER_SANS],
};

function isTextRole(role: FontRole): role is TextRole {
  return role in OTHERS;
}

/** Stands, visibly, for a character that no font has: a crossed box of the sign font. */
export const REPLACEMENT = '\uFFFD';

/** A stretch of text that one font can set. */
export interface FontRun {
  readonly role: FontRole;
  readonly text: string;
}

/** The face that has a character, wished for in another; undefined where none has it. */
function faceOf(character: string, role: FontRole, fonts: HandoutFonts): FontRole | undefined {
  if (!isTextRole(role)) return role;
  if (isSign(character)) return SIGNS_BESIDE[role];
  const codePoint = character.codePointAt(0) as number;
  return [role, ...OTHERS[role]].find((each) => fonts[each].hasGlyphForCodePoint(codePoint));
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
    const found = faceOf(character, role, fonts);
    if (found === undefined) add(isTextRole(role) ? SIGNS_BESIDE[role] : role, REPLACEMENT);
    else add(found, character);
  }
  return runs;
}

/** Text as one font and its signs can set it: what they lack is replaced. For pictures, whose texts have one font. */
export function settable(text: string, role: TextRole, fonts: HandoutFonts): string {
  return fontRuns(text, role, fonts)
    .map((run) =>
      run.role === role || run.role === SIGNS_BESIDE[role] ? run.text : REPLACEMENT.repeat([...run.text].length),
    )
    .join('');
}
