/** Units of an engraved picture to the millimetre (engraving: plain-svg.ts). */
const UNITS_PER_MM = 100;

/** Where a note can be pointed at: about 26 by 34 pixels round its head, which is smaller than a finger and than 24 pixels. */
const GROUND_MM = { width: 7, height: 9 };

/** A head's width in staff spaces. Source: SMuFL, noteheadBlack, from memory. */
const HEAD_SPACES = 1.18;

/**
 * Gives every note of an engraved picture an unseen ground, so that it can be pointed at beside its head too.
 * @param svg engraved with `noteIds`
 * @example withNoteGrounds(svg, 7).includes('class="hit"') // → true
 */
export function withNoteGrounds(svg: string, staffHeightMm: number): string {
  const half = (HEAD_SPACES * staffHeightMm * UNITS_PER_MM) / 4 / 2;
  const width = GROUND_MM.width * UNITS_PER_MM;
  const height = GROUND_MM.height * UNITS_PER_MM;
  return svg.replaceAll(
    /(<g data-note="[^"]*" class="note">)(<g class="notehead"><use\b[^>]*?transform="translate\((-?[\d.]+), ?(-?[\d.]+)\))/gu,
    (_whole, note: string, head: string, x: string, y: string) => {
      const left = Math.round(Number(x) + half - width / 2);
      const top = Math.round(Number(y) - height / 2);
      return `${note}<rect class="hit" x="${left}" y="${top}" width="${width}" height="${height}" fill="transparent"/>${head}`;
    },
  );
}
