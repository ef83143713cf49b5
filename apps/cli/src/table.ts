/** Lines of cells in columns that line up; trailing blanks are left out. A column is as wide as its widest cell. */
export function table(rows: readonly (readonly string[])[]): string {
  const widths = rows.reduce<number[]>(
    (widest, row) => row.map((cell, index) => Math.max(widest[index] ?? 0, cell.length)),
    [],
  );
  return rows
    .map((row) =>
      row
        .map((cell, index) => cell.padEnd(widths[index] as number))
        .join('  ')
        .trimEnd(),
    )
    .join('\n');
}
