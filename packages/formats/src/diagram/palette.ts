/** Colours of a keyboard picture: ink, paper and one warm tint. Meaning never hangs on hue alone: outlines, numerals, ✕ say it too. */
export interface Palette {
  readonly ink: string;
  readonly soft: string;
  readonly paper: string;
  readonly felt: string;
  readonly white: string;
  readonly black: string;
  readonly keyLine: string;
  /** Under the hand: all of a natural, and what lies within the frame of a raised key. */
  readonly tint: string;
  /** The line inside a tinted natural, which says the same without the tint. */
  readonly handLine: string;
  readonly onWhite: string;
  readonly onBlack: string;
  /** Degrees that rub, on paper. */
  readonly rubs: string;
}

/**
 * Two themes. Text keeps at least 4.5:1 on what it stands on (WCAG 2.2, 1.4.3; formula in docs/sources.md,
 * 10); a test computes it.
 */
export const PALETTES = {
  light: {
    ink: '#1c1916',
    soft: '#5f584d',
    paper: '#ffffff',
    felt: '#8a2b22',
    white: '#fffdf7',
    black: '#241f1b',
    keyLine: '#1c1916',
    tint: '#f4d596',
    handLine: '#734d00',
    onWhite: '#1c1916',
    onBlack: '#ffffff',
    rubs: '#9c3600',
  },
  dark: {
    ink: '#f3ebdc',
    soft: '#b9ae9c',
    paper: '#16130f',
    felt: '#b54a3d',
    white: '#d8cfc0',
    black: '#1c1a17',
    keyLine: '#0e0d0b',
    tint: '#f0c87a',
    handLine: '#5a3c00',
    onWhite: '#16130f',
    onBlack: '#ffffff',
    rubs: '#ffb58f',
  },
} as const satisfies Record<string, Palette>;

export type Theme = keyof typeof PALETTES;
