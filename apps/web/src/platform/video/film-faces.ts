/** The faces of a film's frames, put into each picture: a picture that is drawn by itself sees no other fonts. */
import serif from '@fontsource-variable/source-serif-4/files/source-serif-4-latin-opsz-normal.woff2?url';
import serifExtended from '@fontsource-variable/source-serif-4/files/source-serif-4-latin-ext-opsz-normal.woff2?url';
import serifCyrillic from '@fontsource-variable/source-serif-4/files/source-serif-4-cyrillic-opsz-normal.woff2?url';
import serifGreek from '@fontsource-variable/source-serif-4/files/source-serif-4-greek-opsz-normal.woff2?url';
import serifItalic from '@fontsource/source-serif-4/files/source-serif-4-latin-400-italic.woff2?url';
import sans from '@fontsource-variable/source-sans-3/files/source-sans-3-latin-wght-normal.woff2?url';
import sansExtended from '@fontsource-variable/source-sans-3/files/source-sans-3-latin-ext-wght-normal.woff2?url';
import sansCyrillic from '@fontsource-variable/source-sans-3/files/source-sans-3-cyrillic-wght-normal.woff2?url';
import sansGreek from '@fontsource-variable/source-sans-3/files/source-sans-3-greek-wght-normal.woff2?url';
import signs400 from '@fivespan/formats/fonts/signs-400.woff2?url';
import signs600 from '@fivespan/formats/fonts/signs-600.woff2?url';
import signs700 from '@fivespan/formats/fonts/signs-700.woff2?url';
import { fetchBytes } from '../assets/index.ts';

interface Face {
  readonly family: string;
  readonly url: string;
  readonly weight: string;
  readonly style: 'normal' | 'italic';
  /** As CSS writes it; null for all. */
  readonly range: string | null;
  /** A letter that it has, to see whether it is there. */
  readonly letter: string;
  /** Whether a picture needs it. */
  readonly isNeeded: (svg: string) => boolean;
}

/** Letters that have a file of their own. */
interface Letters {
  readonly found: RegExp;
  readonly range: string;
  readonly letter: string;
}

const EXTENDED: Letters = {
  found: /[\u0100-\u02ff\u1e00-\u1eff]/u,
  range: 'U+0100-02FF,U+1E00-1EFF',
  letter: '\u0141',
};
const CYRILLIC: Letters = { found: /[\u0400-\u052f]/u, range: 'U+0400-052F', letter: '\u0416' };
const GREEK: Letters = { found: /[\u0370-\u03ff]/u, range: 'U+0370-03FF', letter: '\u03a9' };

const serifFace = (url: string, letters: Letters | null): Face => ({
  family: 'Source Serif 4',
  url,
  weight: '200 900',
  style: 'normal',
  range: letters?.range ?? null,
  letter: letters?.letter ?? 'H',
  isNeeded: (svg) => svg.includes('Source Serif 4') && (letters?.found.test(svg) ?? true),
});

const sansFace = (url: string, letters: Letters | null): Face => ({
  family: 'Source Sans 3',
  url,
  weight: '200 900',
  style: 'normal',
  range: letters?.range ?? null,
  letter: letters?.letter ?? 'H',
  isNeeded: (svg) => svg.includes('Source Sans 3') && (letters?.found.test(svg) ?? true),
});

const signsFace = (url: string, weight: string, isNeeded: Face['isNeeded']): Face => ({
  family: 'Fivespan Signs',
  url,
  weight,
  style: 'normal',
  range: null,
  letter: '♯',
  isNeeded,
});

/** A sign stands in a span of its own; its weight is what its text has. */
const hasSigns = (svg: string): boolean => svg.includes('"Fivespan Signs"');

const FACES: readonly Face[] = [
  serifFace(serif, null),
  serifFace(serifExtended, EXTENDED),
  serifFace(serifCyrillic, CYRILLIC),
  serifFace(serifGreek, GREEK),
  {
    family: 'Source Serif 4',
    url: serifItalic,
    weight: '400',
    style: 'italic',
    range: null,
    letter: 'H',
    isNeeded: (svg) => svg.includes('font-style="italic"'),
  },
  sansFace(sans, null),
  sansFace(sansExtended, EXTENDED),
  sansFace(sansCyrillic, CYRILLIC),
  sansFace(sansGreek, GREEK),
  signsFace(signs400, '400', hasSigns),
  signsFace(signs600, '600', (svg) => hasSigns(svg) && svg.includes('"600"')),
  signsFace(signs700, '700', (svg) => hasSigns(svg) && svg.includes('"700"')),
];

const loaded = new Map<string, Promise<string>>();

/** A file's bytes as text that a style sheet can hold. */
async function dataOf(url: string): Promise<string> {
  const bytes = await fetchBytes(new URL(url, location.href).href);
  let text = '';
  for (let at = 0; at < bytes.length; at += 0x8000) text += String.fromCharCode(...bytes.subarray(at, at + 0x8000));
  return `data:font/woff2;base64,${btoa(text)}`;
}

/** A picture that brings its faces. */
export interface FacedSvg {
  readonly svg: string;
  /** How many squares below the picture have a letter of a face each: where a square is empty, its face is not there yet. */
  readonly probes: number;
}

/** A square with a letter. */
export const PROBE_PX = 16;

const cssOf = ({ family, weight, style, range }: Face, data: string): string =>
  `@font-face{font-family:'${family}';font-weight:${weight};font-style:${style};src:url(${data}) format('woff2')` +
  `${range === null ? '' : `;unicode-range:${range}`}}`;

/**
 * A picture in a size with the faces that it needs inside it. A browser draws such a picture before its faces are there, letters left out;
 * so a row of probes stands below it, outside of what is shown.
 */
export async function withFaces(svg: string, width: number, height: number): Promise<FacedSvg> {
  const faces = FACES.filter(({ isNeeded }) => isNeeded(svg));
  const rules = await Promise.all(
    faces.map(async (face) => {
      const data = loaded.get(face.url) ?? dataOf(face.url);
      loaded.set(face.url, data);
      data.catch(() => loaded.delete(face.url));
      return cssOf(face, await data);
    }),
  );
  const probes = faces
    .map(
      ({ family, weight, style, letter }, index) =>
        `<text x="${index * PROBE_PX + 1}" y="${height + PROBE_PX - 3}" font-family="'${family}'" font-style="${style}" ` +
        `font-weight="${weight.split(' ').at(-1)}" font-size="${PROBE_PX - 4}">${letter}</text>`,
    )
    .join('');
  const inner = svg.replace(
    /^<svg\b([^>]*?) width="[^"]*" height="[^"]*"/u,
    `<svg$1 width="${width}" height="${height}"`,
  );
  const across = Math.max(width, faces.length * PROBE_PX);
  return {
    svg:
      `<svg xmlns="http://www.w3.org/2000/svg" width="${across}" height="${height + PROBE_PX}"><style>${rules.join('')}</style>` +
      `${inner}${probes}</svg>`,
    probes: faces.length,
  };
}
