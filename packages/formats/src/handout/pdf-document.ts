/// <reference path="./pdfkit.d.ts" />
import { zlibSync } from 'fflate';
import PDFDocument, { type PdfReference } from 'pdfkit';

/** Paper sizes in points. Source: ISO 216 (A4, 210 × 297 mm) and ANSI/ASME Y14.1 (letter, 8.5 × 11 in; from memory). */
export const PAPERS = { a4: [595.28, 841.89], letter: [612, 792] } as const;

export type Paper = keyof typeof PAPERS;

export const POINTS_PER_MM = 72 / 25.4;

/**
 * Stands in every file: same lesson, same bytes. pdfkit writes it and makes the file's ID from it and the title.
 * The day says nothing; viewers show some date in any case.
 */
const FIXED_DATE = new Date(Date.UTC(2000, 0, 1));

/**
 * A PDF document whose bytes are the same on every machine: streams are packed by fflate instead of the platform's
 * zlib, which packs differently from one processor or browser to the next.
 */
export class PdfDocument extends PDFDocument {
  constructor(title: string, language: string) {
    super({
      autoFirstPage: false,
      // no standard font: it would be looked up in the package's own files
      font: null,
      compress: false,
      pdfVersion: '1.7',
      lang: language,
      displayTitle: true,
      tagged: true,
      info: { Title: title, Creator: 'Fivespan', Producer: 'Fivespan', CreationDate: FIXED_DATE },
    });
  }

  override ref(data?: Record<string, unknown>): PdfReference {
    const reference = super.ref(data);
    const finalize = reference.finalize.bind(reference);
    reference.finalize = () => {
      if (reference.buffer.length > 0 && reference.data['Filter'] === undefined) {
        reference.buffer = [zlibSync(joined(reference.buffer), { level: 6 })];
        reference.data['Filter'] = 'FlateDecode';
      }
      finalize();
    };
    return reference;
  }
}

function joined(chunks: readonly Uint8Array[]): Uint8Array {
  const all = new Uint8Array(chunks.reduce((sum, chunk) => sum + chunk.length, 0));
  let at = 0;
  for (const chunk of chunks) {
    all.set(chunk, at);
    at += chunk.length;
  }
  return all;
}

/** Ends the document and collects its bytes. */
export function bytesOf(document: PdfDocument): Promise<Uint8Array> {
  return new Promise((resolve, reject) => {
    const chunks: Uint8Array[] = [];
    document.on('data', (chunk) => chunks.push(chunk));
    document.on('error', reject);
    document.on('end', () => resolve(joined(chunks)));
    document.end();
  });
}
