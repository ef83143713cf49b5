/** Shows PDF pages as they will be printed: pdf.js draws them on canvases, with a worker of its own. */
import {
  getDocument,
  GlobalWorkerOptions,
  type PDFDocumentProxy,
  type PDFPageProxy,
} from 'pdfjs-dist/legacy/build/pdf.mjs';
import PdfWorker from 'pdfjs-dist/legacy/build/pdf.worker.mjs?worker';
import { pageWords, type PageWords } from './page-words.ts';

/** One page of an open PDF. */
export interface PdfPage {
  readonly widthPt: number;
  readonly heightPt: number;
  /**
   * Draws the page as wide as told, in pixels of the screen.
   * @returns when it is drawn; rejects with the signal's reason when it was stopped
   */
  draw(canvas: HTMLCanvasElement, widthPx: number, signal: AbortSignal): Promise<void>;
  /** The page as a picture of its own, as wide as told. */
  picture(widthPx: number, signal: AbortSignal): Promise<HTMLCanvasElement>;
  /** What is on the page, in reading order, for those who hear it. */
  read(): Promise<readonly PageWords[]>;
}

/** An open PDF; it holds memory in a worker until it is closed. */
export interface OpenPdf {
  readonly pages: readonly PdfPage[];
  close(): void;
}

/** More pixels than this a canvas may not have in some browsers (from memory: 16.7 million in Safari on tablets). */
const MOST_CANVAS_PIXELS = 16_000_000;

function pageOf(page: PDFPageProxy): PdfPage {
  const { width, height } = page.getViewport({ scale: 1 });
  const draw: PdfPage['draw'] = async (canvas, widthPx, signal) => {
    signal.throwIfAborted();
    const scale = Math.min(widthPx / width, Math.sqrt(MOST_CANVAS_PIXELS / (width * height)));
    const viewport = page.getViewport({ scale });
    canvas.width = Math.round(viewport.width);
    canvas.height = Math.round(viewport.height);
    const task = page.render({ canvas, viewport });
    const stop = (): void => task.cancel();
    signal.addEventListener('abort', stop, { once: true });
    try {
      await task.promise;
    } catch (error) {
      signal.throwIfAborted();
      throw error;
    } finally {
      signal.removeEventListener('abort', stop);
    }
  };
  return {
    widthPt: width,
    heightPt: height,
    draw,
    picture: async (widthPx, signal) => {
      const canvas = document.createElement('canvas');
      await draw(canvas, widthPx, signal);
      return canvas;
    },
    read: () => pageWords(page),
  };
}

/**
 * Opens a PDF that we made ourselves.
 * @param bytes are left as they are
 * @throws Error where it is no PDF
 */
export async function openPdf(bytes: Uint8Array): Promise<OpenPdf> {
  GlobalWorkerOptions.workerPort ??= new PdfWorker();
  const task = getDocument({
    data: bytes.slice(),
    // the content policy forbids running text as script
    isEvalSupported: false,
    enableXfa: false,
    // every font is in the file
    disableFontFace: false,
    useSystemFonts: false,
  });
  let opened: PDFDocumentProxy;
  try {
    opened = await task.promise;
  } catch (error) {
    await task.destroy();
    throw error;
  }
  const pages = await Promise.all(
    Array.from({ length: opened.numPages }, async (_, index) => pageOf(await opened.getPage(index + 1))),
  );
  return { pages, close: () => void task.destroy() };
}

/** Ends the worker: nothing is shown any more. */
export function closePdfView(): void {
  GlobalWorkerOptions.workerPort?.terminate();
  GlobalWorkerOptions.workerPort = null;
}
