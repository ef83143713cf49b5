/** What the study screen says. English; another language is another table of this shape. */
export const STUDY_WORDS = {
  title: 'Study',
} as const;
