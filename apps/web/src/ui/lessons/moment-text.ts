const moments = new Intl.DateTimeFormat(undefined, { dateStyle: 'medium', timeStyle: 'short' });

/** A moment as the user's system writes it. @param milliseconds since 1970 */
export function momentText(milliseconds: number): string {
  return moments.format(milliseconds);
}
