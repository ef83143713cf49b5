/**
 * The faces as an SVG names them; pages and screens have fonts by these names (docs/type.md). Signs stand first, so that no
 * text face is asked for one.
 */
export const SERIF_FAMILIES = "'Fivespan Signs', 'Source Serif 4', serif";
export const SANS_FAMILIES = "'Fivespan Signs', 'Source Sans 3', sans-serif";
/** The weight of everything that is set bold. */
export const BOLD = '600';
