/** What the help screen says. English; another language is another table of this shape. */
export const HELP_WORDS = {
  title: 'Help',
} as const;
