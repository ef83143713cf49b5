/** What the outline needs of a key: any picture's keys have it. */
export interface OutlinedKey {
  readonly black: boolean;
  readonly x: number;
  readonly width: number;
  readonly length: number;
}

/**
 * The outline of what is seen of a key, a little inside its edges: a white key's goes round the black ones beside it, so that
 * nothing of it is over them.
 * @param keys all keys of the picture
 * @returns path data, closed
 */
export function keyOutline(key: OutlinedKey, keys: readonly OutlinedKey[], inside: number): string {
  const left = key.x + inside;
  const right = key.x + key.width - inside;
  const bottom = key.length - inside;
  const beside = key.black ? [] : keys.filter((each) => each.black && each.x < right && each.x + each.width > left);
  const middle = key.x + key.width / 2;
  const before = beside.find((each) => each.x + each.width / 2 < middle);
  const after = beside.find((each) => each.x + each.width / 2 > middle);
  const leftTop = before === undefined ? left : before.x + before.width + inside;
  const rightTop = after === undefined ? right : after.x - inside;
  const notch = Math.max(0, ...beside.map(({ length }) => length)) + inside;
  return (
    `M${leftTop} 0H${rightTop}` +
    (after === undefined ? '' : `V${notch}H${right}`) +
    `V${bottom}H${left}` +
    (before === undefined ? '' : `V${notch}H${leftTop}`) +
    'Z'
  );
}
