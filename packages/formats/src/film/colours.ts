import { PALETTES, type Theme } from '../diagram/index.ts';

/** Colours of a film's frames: the workbench's ground with the keyboard pictures' keys. */
export interface FilmColours {
  readonly paper: string;
  readonly ink: string;
  readonly soft: string;
  readonly faint: string;
  readonly felt: string;
  readonly white: string;
  readonly black: string;
  readonly lip: string;
  readonly keyLine: string;
  readonly tint: string;
  /** Inside a tinted natural, which says the same without the tint. */
  readonly handLine: string;
  readonly onTint: string;
  readonly rubs: string;
}

/** Contrasts are those of the workbench's tokens (apps/web/src/ui/look/tokens.css), where a test holds them. */
export const FILM_COLOURS: Readonly<Record<Theme, FilmColours>> = {
  light: {
    paper: '#faf6ec',
    ink: PALETTES.light.ink,
    soft: PALETTES.light.soft,
    faint: '#857c6e',
    felt: PALETTES.light.felt,
    white: PALETTES.light.white,
    black: PALETTES.light.black,
    lip: '#e9e1d0',
    keyLine: PALETTES.light.keyLine,
    tint: PALETTES.light.tint,
    handLine: PALETTES.light.handLine,
    onTint: PALETTES.light.onWhite,
    rubs: PALETTES.light.rubs,
  },
  dark: {
    paper: PALETTES.dark.paper,
    ink: PALETTES.dark.ink,
    soft: PALETTES.dark.soft,
    faint: '#8d8374',
    felt: PALETTES.dark.felt,
    white: PALETTES.dark.white,
    black: PALETTES.dark.black,
    lip: '#a89e8d',
    keyLine: PALETTES.dark.keyLine,
    tint: PALETTES.dark.tint,
    handLine: PALETTES.dark.handLine,
    onTint: PALETTES.dark.onWhite,
    rubs: PALETTES.dark.rubs,
  },
};
