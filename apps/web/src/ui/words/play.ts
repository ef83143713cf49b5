/** What the play screen says. English; another language is another table of this shape. */
export const PLAY_WORDS = {
  title: 'Play',
} as const;
