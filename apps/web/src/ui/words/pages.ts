/** What the pages screen says. English; another language is another table of this shape. */
export const PAGES_WORDS = {
  title: 'Pages',
} as const;
