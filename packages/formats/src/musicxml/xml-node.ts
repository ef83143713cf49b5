import { cutText } from '@fivespan/core';

/** Longest name or title kept; the rest is no name. */
const LONGEST_NAME = 200;

/** An element of a measure, whole. */
export interface Node {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: Node[];
  text: string;
}

/** The first child of a name. */
export function child(node: Node | undefined, name: string): Node | undefined {
  return node?.children.find((each) => each.name === name);
}

/** The text of the first child of a name, without space around it; empty where there is none. */
export function textOf(node: Node | undefined, name: string): string {
  return child(node, name)?.text.trim() ?? '';
}

/** A number the file gives, or the fallback where it gives none that makes sense. */
export function numberOf(text: string | undefined, fallback: number): number {
  const value = Number((text ?? '').trim() === '' ? Number.NaN : text);
  return Number.isFinite(value) && Math.abs(value) < 1e9 ? value : fallback;
}

/** Names in one line, no longer than a name is. */
export function cleanName(text: string): string {
  return cutText(text.replaceAll(/[\p{Cc}\s]+/gu, ' ').trim(), LONGEST_NAME);
}
