/** Whether two views say the same, all the way down. */
function sameView(a: unknown, b: unknown): boolean {
  if (Object.is(a, b)) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  const entries = Object.entries(a);
  return (
    entries.length === Object.keys(b).length &&
    entries.every(([name, value]) => sameView(value, (b as Readonly<Record<string, unknown>>)[name]))
  );
}

/** The view as it was, where it says the same: what shows it stays as it is. */
export function kept<View extends object>(before: View | undefined, now: View): View {
  return before !== undefined && sameView(before, now) ? before : now;
}
