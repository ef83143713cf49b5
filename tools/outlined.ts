/** Text of our pictures as outlines, for places that have none of our fonts: a README, a note. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';

/** What is used of fontkit, which pdfkit brings. */
interface Font {
  readonly unitsPerEm: number;
  layout(text: string): {
    readonly glyphs: readonly { readonly id: number; readonly path: { toSVG(): string } }[];
    readonly positions: readonly { readonly xAdvance: number; readonly xOffset: number; readonly yOffset: number }[];
  };
}

const { resolve } = createRequire(join(import.meta.dirname, '../packages/formats/package.json'));
const fontkit = createRequire(resolve('pdfkit'))('fontkit') as { create(bytes: Buffer): Font };

const fonts = new Map<string, Font>();

function fontAt(file: string): Font {
  let font = fonts.get(file);
  if (font === undefined) fonts.set(file, (font = fontkit.create(readFileSync(resolve(file)))));
  return font;
}

/** The file of a face: the pages' own, in the weights they have. */
function fileOf({ family = '', weight = '400', style = '' }: Look): string {
  const isBold = Number(weight) >= 600;
  if (family.startsWith('Fivespan Signs') && !family.includes(',')) {
    return join(
      import.meta.dirname,
      `../packages/formats/fonts/signs-${isBold ? (weight === '700' ? 700 : 600) : 400}.otf`,
    );
  }
  if (family.includes('Serif')) {
    const cut = style === 'italic' ? '400-italic' : `${isBold ? 600 : 400}-normal`;
    return `@fontsource/source-serif-4/files/source-serif-4-latin-${cut}.woff`;
  }
  return `@fontsource/source-sans-3/files/source-sans-3-latin-${isBold ? 600 : 400}-normal.woff`;
}

interface Look {
  readonly family?: string | undefined;
  readonly weight?: string | undefined;
  readonly style?: string | undefined;
  readonly size?: string | undefined;
}

function attribute(attributes: string, name: string): string | undefined {
  return new RegExp(`(?:^|\\s)${name}="([^"]*)"`, 'u').exec(attributes)?.[1];
}

function lookOf(attributes: string, around: Look): Look {
  return {
    family: attribute(attributes, 'font-family')?.replaceAll("'", '') ?? around.family,
    weight: attribute(attributes, 'font-weight') ?? around.weight,
    style: attribute(attributes, 'font-style') ?? around.style,
    size: attribute(attributes, 'font-size') ?? around.size,
  };
}

const rounded = (value: number): string => String(Math.round(value * 1000) / 1000);

function plain(text: string): string {
  return text.replaceAll('&lt;', '<').replaceAll('&gt;', '>').replaceAll('&amp;', '&');
}

/**
 * Replaces every text of an SVG by its outlines, each glyph drawn once. For what this project draws: texts with spans in them,
 * no deeper, fonts named by attributes.
 * @example outlined(drawKeyboard(picture)).includes('<text') // → false
 */
export function outlined(svg: string): string {
  const glyphs = new Map<string, string>();
  const root = lookOf(/<svg([^>]*)>/u.exec(svg)?.[1] ?? '', {});
  const drawn = svg.replaceAll(/<text([^>]*)>(.*?)<\/text>/gsu, (_whole, attributes: string, content: string) => {
    const own = lookOf(attributes, root);
    let x = 0;
    let y = 0;
    let uses = '';
    for (const [, spanAttributes = '', spanText, text] of content.matchAll(
      /<tspan([^>]*)>([^<]*)<\/tspan>|([^<]+)/gu,
    )) {
      const look = lookOf(spanAttributes, own);
      const file = fileOf(look);
      const font = fontAt(file);
      const scale = Number(look.size) / font.unitsPerEm;
      x += Number(attribute(spanAttributes, 'dx') ?? 0);
      y += Number(attribute(spanAttributes, 'dy') ?? 0);
      const run = font.layout(plain(spanText ?? text ?? ''));
      run.glyphs.forEach((glyph, index) => {
        const { xAdvance, xOffset, yOffset } = run.positions[index] as (typeof run.positions)[number];
        const name = `g${[...fonts.keys()].indexOf(file)}-${glyph.id}`;
        const path = glyph.path.toSVG();
        if (path !== '') {
          glyphs.set(name, path);
          const at = `${rounded(x + xOffset * scale)} ${rounded(y - yOffset * scale)}`;
          uses += `<use href="#${name}" transform="translate(${at})scale(${rounded(scale * 1000)}e-3 -${rounded(scale * 1000)}e-3)"/>`;
        }
        x += xAdvance * scale;
      });
    }
    const anchor = attribute(attributes, 'text-anchor');
    const shift = anchor === 'middle' ? x / 2 : anchor === 'end' ? x : 0;
    const left = Number(attribute(attributes, 'x') ?? 0) - shift;
    const fill = attribute(attributes, 'fill');
    return `<g${fill === undefined ? '' : ` fill="${fill}"`} transform="translate(${rounded(left)} ${attribute(attributes, 'y') ?? 0})">${uses}</g>`;
  });
  const defs = [...glyphs].map(([name, path]) => `<path id="${name}" d="${path}"/>`).join('');
  return drawn.replace(/ font-family="[^"]*"/u, '').replace(/(<svg[^>]*>)/u, `$1<defs>${defs}</defs>`);
}
