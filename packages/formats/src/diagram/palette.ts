/** Colours of a keyboard picture: ink, paper and one warm tint. Meaning never hangs on hue alone: outlines, numerals, ✕ say it too. */
export interface Palette {
  readonly ink: string;
  readonly soft: string;
  readonly paper: string;
  readonly felt: string;
  readonly white: string;
  readonly black: string;
  readonly keyLine: string;
  readonly handWhite: string;
  readonly handBlack: string;
  readonly handLine: string;
  readonly onWhite: string;
  readonly softOnWhite: string;
  readonly onBlack: string;
  readonly softOnBlack: string;
  readonly rubsOnWhite: string;
  readonly rubsOnBlack: string;
}

/**
 * Two themes. Text keeps at least 4.5:1 on what it stands on (WCAG 2.2, 1.4.3; formula in docs/sources.md,
 * 10); a test computes it.
 */
export const PALETTES = {
  light: {
    ink: '#1d1b19',
    soft: '#6b655c',
    paper: '#ffffff',
    felt: '#7b2d26',
    white: '#fffdf8',
    black: '#2b2825',
    keyLine: '#1d1b19',
    handWhite: '#f3d9a4',
    handBlack: '#734d00',
    handLine: '#734d00',
    onWhite: '#1d1b19',
    softOnWhite: '#625c53',
    onBlack: '#ffffff',
    softOnBlack: '#efe6d8',
    rubsOnWhite: '#9c3600',
    rubsOnBlack: '#ffcfb3',
  },
  dark: {
    ink: '#f4ede1',
    soft: '#b3aa9c',
    paper: '#191714',
    felt: '#a8493f',
    white: '#d8cfc0',
    black: '#1c1a17',
    keyLine: '#0e0d0b',
    handWhite: '#f0c87a',
    handBlack: '#734d00',
    handLine: '#5a3c00',
    onWhite: '#191714',
    softOnWhite: '#4d473e',
    onBlack: '#ffffff',
    softOnBlack: '#efe6d8',
    rubsOnWhite: '#7a2a00',
    rubsOnBlack: '#ffcfb3',
  },
} as const satisfies Record<string, Palette>;

export type Theme = keyof typeof PALETTES;
