import type { PDFPageProxy } from 'pdfjs-dist/legacy/build/pdf.mjs';

/** Something that is read out: a heading, a paragraph, or what a figure shows. */
export interface PageWords {
  readonly kind: 'title' | 'heading' | 'paragraph' | 'figure';
  readonly text: string;
}

/** The tags our own pages have (PDF 1.7, 14.8.4). Others are read as paragraphs. */
const KINDS: Readonly<Record<string, PageWords['kind']>> = { H1: 'title', H2: 'heading', Figure: 'figure' };

/** A tagged page's structure, as pdf.js gives it. */
interface StructureNode {
  readonly role?: string;
  /** What is read in place of what is drawn. */
  readonly alt?: string;
  readonly type?: string;
  readonly id?: string;
  readonly children?: readonly StructureNode[];
}

/** What a tagged page says, in reading order. */
export async function pageWords(page: PDFPageProxy): Promise<readonly PageWords[]> {
  const [tree, { items }] = await Promise.all([
    page.getStructTree() as Promise<StructureNode | null>,
    page.getTextContent({ includeMarkedContent: true }),
  ]);
  const texts = new Map<string, string>();
  const open: (string | undefined)[] = [];
  for (const item of items) {
    if ('str' in item) {
      const id = open.findLast((each) => each !== undefined);
      if (id !== undefined) texts.set(id, `${texts.get(id) ?? ''}${item.str}${item.hasEOL ? ' ' : ''}`);
    } else if (item.type.startsWith('begin')) {
      open.push(item.id);
    } else {
      open.pop();
    }
  }
  const textOf = (node: StructureNode): string =>
    node.alt ?? (node.id === undefined ? (node.children ?? []).map(textOf).join(' ') : (texts.get(node.id) ?? ''));
  const found: PageWords[] = [];
  const visit = (node: StructureNode): void => {
    const isGroup = node.role === undefined || node.role === 'Root' || node.role === 'Document';
    if (isGroup) {
      node.children?.forEach(visit);
      return;
    }
    const text = textOf(node).replaceAll(/\s+/gu, ' ').trim();
    if (text !== '') found.push({ kind: KINDS[node.role ?? ''] ?? 'paragraph', text });
  };
  if (tree !== null) visit(tree);
  return found;
}
