/** The part of pdfkit 0.20 that the handout uses; the package ships no types. */
declare module 'pdfkit' {
  /** A parsed font of fontkit, as pdfkit holds it. */
  interface ParsedFont {
    readonly unitsPerEm: number;
    hasGlyphForCodePoint(codePoint: number): boolean;
    layout(text: string): unknown;
  }

  interface PdfReference {
    buffer: Uint8Array[];
    data: Record<string, unknown>;
    finalize(): void;
  }

  interface PageOptions {
    size: [number, number];
    margin: number;
  }

  interface PathStyle {
    readonly space?: number;
  }

  type Structure = { add(child: Structure | (() => void)): Structure; end(): void };

  interface OutlineItem {
    addItem(title: string): OutlineItem;
  }

  class PDFDocument {
    readonly outline: OutlineItem;
    struct(type: string, options?: { readonly alt?: string; readonly actual?: string }): Structure;
    addStructure(structure: Structure): this;
    constructor(options: Record<string, unknown>);
    readonly page: { readonly width: number; readonly height: number };
    readonly _font: { readonly font: ParsedFont };
    ref(data?: Record<string, unknown>): PdfReference;
    on(event: 'data', listener: (chunk: Uint8Array) => void): this;
    on(event: 'end', listener: () => void): this;
    on(event: 'error', listener: (error: Error) => void): this;
    end(): void;
    addPage(options: PageOptions): this;
    registerFont(name: string, source: Uint8Array | ParsedFont): this;
    font(source: string | Uint8Array | ParsedFont): this;
    fontSize(size: number): this;
    widthOfString(text: string): number;
    text(text: string, x: number, y: number, options: Record<string, unknown>): this;
    save(): this;
    restore(): this;
    translate(x: number, y: number): this;
    rotate(degrees: number, options: { readonly origin: readonly [number, number] }): this;
    moveTo(x: number, y: number): this;
    lineTo(x: number, y: number): this;
    bezierCurveTo(x1: number, y1: number, x2: number, y2: number, x: number, y: number): this;
    path(data: string): this;
    circle(x: number, y: number, radius: number): this;
    ellipse(x: number, y: number, radiusX: number, radiusY: number): this;
    rect(x: number, y: number, width: number, height: number): this;
    lineWidth(width: number): this;
    dash(length: number, style: PathStyle): this;
    undash(): this;
    fill(colour: string): this;
    fillColor(colour: string): this;
    strokeColor(colour: string): this;
    stroke(colour?: string): this;
    fillAndStroke(fill: string, stroke: string): this;
    markContent(tag: string, options?: Record<string, unknown>): this;
    endMarkedContent(): this;
  }

  export default PDFDocument;
  export type { OutlineItem, ParsedFont, PdfReference, Structure };
}

declare module 'svg-to-pdfkit' {
  import type PDFDocument from 'pdfkit';

  interface SvgToPdfOptions {
    readonly width: number;
    readonly height: number;
    readonly assumePt?: boolean;
    readonly preserveAspectRatio?: string;
    readonly fontCallback?: (family: string, bold: boolean, italic: boolean) => string;
    readonly warningCallback?: (warning: string) => void;
  }

  export default function svgToPdf(
    document: PDFDocument,
    svg: string,
    x: number,
    y: number,
    options: SvgToPdfOptions,
  ): void;
}
