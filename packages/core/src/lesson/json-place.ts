import type { Issue } from '../issue/index.ts';

/** What a JSON text is made of. Source: RFC 8259. */
const TOKEN =
  // oxlint-disable-next-line no-control-regex -- a control sign has no place in a JSON text
  /[\t\n\r ]*(?:([{}[\],:])|("(?:[^"\\\u0000-\u001f]|\\(?:["\\/bfnrt]|u[\da-fA-F]{4}))*")|(-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?|true|false|null))/uy;

interface Token {
  readonly text: string;
  readonly start: number;
  readonly end: number;
}

function tokenAt(text: string, at: number): Token | undefined {
  TOKEN.lastIndex = at;
  const match = TOKEN.exec(text);
  if (match === null) return undefined;
  const word = match[1] ?? match[2] ?? match[3] ?? '';
  return { text: word, start: TOKEN.lastIndex - word.length, end: TOKEN.lastIndex };
}

/** A place in a text as line and column, counted from 1, columns in characters. */
function placeAt(text: string, offset: number): Issue['place'] {
  const before = text.slice(0, offset);
  const lineStart = before.lastIndexOf('\n') + 1;
  return { line: before.split('\n').length, column: Array.from(before.slice(lineStart)).length + 1 };
}

/**
 * Where a text stops being JSON: its first sign that cannot stand where it does, its end where something is missing.
 * @example placeOfJsonFault('{"a": 1,}') // → { line: 1, column: 9 }
 */
export function placeOfJsonFault(text: string): Issue['place'] {
  const open: ('{' | '[')[] = [];
  let wants: 'value' | 'value or ]' | 'name' | 'name or }' | ':' | 'more' = 'value';
  let at = 0;
  for (;;) {
    const token = tokenAt(text, at);
    const inside = open.at(-1);
    if (token === undefined || (wants === 'more' && inside === undefined)) break;
    const sign = token.text;
    if (wants === 'more') {
      if (sign === ',') wants = inside === '{' ? 'name' : 'value';
      else if ((sign === '}' && inside === '{') || (sign === ']' && inside === '[')) open.pop();
      else break;
    } else if (wants === ':') {
      if (sign !== ':') break;
      wants = 'value';
    } else if (wants.startsWith('name')) {
      if (sign.startsWith('"')) wants = ':';
      else if (sign === '}' && wants === 'name or }') {
        open.pop();
        wants = 'more';
      } else break;
    } else if (sign === ']' && wants === 'value or ]') {
      open.pop();
      wants = 'more';
    } else if (sign === '{') {
      open.push('{');
      wants = 'name or }';
    } else if (sign === '[') {
      open.push('[');
      wants = 'value or ]';
    } else if (/^[}\],:]/u.test(sign)) break;
    else wants = 'more';
    at = token.end;
  }
  const blanks = /^[\t\n\r ]*/u.exec(text.slice(at))?.[0].length ?? 0;
  return placeAt(text, at + blanks);
}

/** The offset just after the value that begins at a token. */
function endOfValue(text: string, start: number): number {
  let depth = 0;
  let at = start;
  do {
    const token = tokenAt(text, at);
    if (token === undefined) return text.length;
    if (/^[{[]/u.test(token.text)) depth++;
    if (/^[}\]]/u.test(token.text)) depth--;
    at = token.end;
  } while (depth > 0);
  return at;
}

/** Where a member of the object or list at an offset begins; the last of a name counts, as in JSON.parse. */
function memberAt(text: string, start: number, member: string | number): number | undefined {
  let token = tokenAt(text, start);
  const isObject = token?.text === '{';
  if (!isObject && token?.text !== '[') return undefined;
  let found: number | undefined;
  for (let index = 0; token !== undefined; index++) {
    let first = tokenAt(text, token.end);
    if (first === undefined || /^[}\]]/u.test(first.text)) return found;
    let name: unknown = index;
    if (isObject) {
      name = JSON.parse(first.text) as unknown;
      first = tokenAt(text, tokenAt(text, first.end)?.end ?? text.length);
    }
    if (first === undefined) return found;
    if (name === member) found = first.start;
    const after = tokenAt(text, endOfValue(text, first.start));
    token = after?.text === ',' ? after : undefined;
  }
  return found;
}

/**
 * Where a field stands in a JSON text that can be parsed; where it is missing, what it is missing from.
 * @example placeOfField('{"a": [1, 2]}', ['a', 1]) // → { line: 1, column: 11 }
 */
export function placeOfField(text: string, path: readonly (string | number)[]): Issue['place'] {
  let at = tokenAt(text, 0)?.start ?? 0;
  for (const member of path) {
    const next = memberAt(text, at, member);
    if (next === undefined) break;
    at = next;
  }
  return placeAt(text, at);
}
