/** What the chart screen says. English; another language is another table of this shape. */
export const CHART_WORDS = {
  title: 'Chart',
} as const;
