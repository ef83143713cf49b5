import type { Node } from './xml-node.ts';

/** An element whose places in the text are known, so that text can be put in beside it. */
export interface PlacedNode extends Node {
  readonly children: PlacedNode[];
  /** Just after its opening tag. */
  readonly openEnd: number;
  /** Just after its closing tag; the same as `openEnd` where the tag closes itself. */
  end: number;
}

/** Where a fingering goes: a place in the text, and what stands before and after the fingering itself. */
export interface FingerPlace {
  readonly at: number;
  readonly before: string;
  readonly after: string;
}

/** Children of a note that stand after its notations. Source: musicxml.xsd 4.0, complexType note. */
const AFTER_NOTATIONS: ReadonlySet<string> = new Set(['lyric', 'play', 'listen']);

/** Longer white space is no indentation. */
const LONGEST_INDENT = 80;

function closesItself(node: PlacedNode): boolean {
  return node.openEnd === node.end;
}

/** The line break and indentation before an element's first child; empty where it has none. */
function indentIn(xml: string, parent: PlacedNode): string {
  const space = /^\s*/u.exec(xml.slice(parent.openEnd, parent.openEnd + LONGEST_INDENT))?.[0] ?? '';
  return space.length === LONGEST_INDENT ? '' : space;
}

/** After the last of its children that `test` takes, else right after the opening tag. */
function afterLast(parent: PlacedNode, test: (child: PlacedNode) => boolean): number {
  return parent.children.findLast(test)?.end ?? parent.openEnd;
}

/**
 * Where a note takes a fingering: into the technical marks it has, else into its notations, else with notations of its
 * own, in the order the schema asks. Nothing of the note is changed.
 * Source: musicxml.xsd 4.0, complexTypes note, notations, technical.
 */
export function fingerPlace(xml: string, note: PlacedNode): FingerPlace {
  const isShown = (node: PlacedNode): boolean => node.attributes['print-object'] !== 'no';
  const notations = note.children.filter((each) => each.name === 'notations' && !closesItself(each) && isShown(each));
  for (const each of notations) {
    const technical = each.children.find((mark) => mark.name === 'technical' && !closesItself(mark));
    if (technical !== undefined) {
      return { at: afterLast(technical, () => true), before: indentIn(xml, technical), after: '' };
    }
  }
  const [first] = notations;
  if (first !== undefined) {
    const at = afterLast(first, () => true);
    return { at, before: `${indentIn(xml, first)}<technical>`, after: '</technical>' };
  }
  return {
    at: afterLast(note, (child) => !AFTER_NOTATIONS.has(child.name)),
    before: `${indentIn(xml, note)}<notations><technical>`,
    after: '</technical></notations>',
  };
}
