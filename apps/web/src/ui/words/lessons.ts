/** What the lessons screen says. English; another language is another table of this shape. */
export const LESSONS_WORDS = {
  title: 'Lessons',
} as const;
