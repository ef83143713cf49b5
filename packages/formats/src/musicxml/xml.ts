/** An element of an XML document; strings are its text, escaped when written. */
export interface XmlElement {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string | number | undefined>>;
  readonly children: readonly (XmlElement | string)[];
}

type Child = XmlElement | string | number | undefined | false | readonly (XmlElement | undefined | false)[];

/**
 * An element; children that are undefined or false are left out, lists are joined in, undefined attributes are left out.
 * @example element('step', {}, 'B')
 */
export function element(name: string, attributes: XmlElement['attributes'], ...children: readonly Child[]): XmlElement {
  const kept: (XmlElement | string)[] = [];
  for (const child of children.flat()) {
    if (child === undefined || child === false) continue;
    kept.push(typeof child === 'number' ? String(child) : child);
  }
  return { name, attributes, children: kept };
}

/** Characters XML 1.0 has no way to write, not even escaped, and the C1 controls. Source: XML 1.0, production 2 (Char). */
const UNWRITABLE = /[\p{Cs}\uFFFE\uFFFF]|(?![\t\n\r])\p{Cc}/gu;

const ESCAPES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  '\n': '&#10;',
  '\r': '&#13;',
  '\t': '&#9;',
};

/** Text as it may stand in XML, in content and in attributes. */
function escapeXml(text: string): string {
  return text.replace(UNWRITABLE, '\uFFFD').replace(/[&<>"\n\r\t]/gu, (each) => ESCAPES[each] as string);
}

function write(node: XmlElement, indent: string, lines: string[]): void {
  let open = `${indent}<${node.name}`;
  for (const [name, value] of Object.entries(node.attributes)) {
    if (value !== undefined) open += ` ${name}="${escapeXml(String(value))}"`;
  }
  if (node.children.length === 0) {
    lines.push(`${open}/>`);
  } else if (node.children.some((child) => typeof child === 'string')) {
    const text = node.children.map((child) => (typeof child === 'string' ? escapeXml(child) : '')).join('');
    lines.push(`${open}>${text}</${node.name}>`);
  } else {
    lines.push(`${open}>`);
    for (const child of node.children) if (typeof child !== 'string') write(child, `${indent} `, lines);
    lines.push(`${indent}</${node.name}>`);
  }
}

/** The document as text, one element a line, UTF-8 declared. */
export function serialise(root: XmlElement, doctype: string): string {
  const lines = ['<?xml version="1.0" encoding="UTF-8"?>', doctype];
  write(root, '', lines);
  return `${lines.join('\n')}\n`;
}
