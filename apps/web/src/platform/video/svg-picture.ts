import { PROBE_PX, withFaces } from './film-faces.ts';

/** How long a face inside a picture may take: it is in memory already. */
const MOST_WAITS = 400;
const WAIT_MS = 5;

function canvasOf(width: number, height: number): OffscreenCanvasRenderingContext2D {
  const context = new OffscreenCanvas(width, height).getContext('2d', { willReadFrequently: true });
  if (context === null) throw new Error('this browser cannot draw outside of a page');
  return context;
}

/** Whether every probe below a picture has its letter. */
function hasFaces(image: HTMLImageElement, height: number, probes: number): boolean {
  if (probes === 0) return true;
  const context = canvasOf(probes * PROBE_PX, PROBE_PX);
  context.drawImage(image, 0, height, probes * PROBE_PX, PROBE_PX, 0, 0, probes * PROBE_PX, PROBE_PX);
  return Array.from({ length: probes }, (_, index) => index).every((index) =>
    context.getImageData(index * PROBE_PX, 0, PROBE_PX, PROBE_PX).data.some((value) => value > 0),
  );
}

async function loadedImage(svg: string, width: number, height: number): Promise<HTMLImageElement> {
  const faced = await withFaces(svg, width, height);
  const address = URL.createObjectURL(new Blob([faced.svg], { type: 'image/svg+xml' }));
  try {
    const image = new Image();
    image.src = address;
    await image.decode();
    // drawing is what makes the browser look for the faces, and it says to nobody when they have come
    for (let waits = 0; !hasFaces(image, height, faced.probes); waits++) {
      if (waits === MOST_WAITS) throw new Error('the faces of a picture did not come');
      await new Promise((resolve) => setTimeout(resolve, WAIT_MS));
    }
    return image;
  } finally {
    URL.revokeObjectURL(address);
  }
}

/**
 * Each drawn picture leaves a document of about 2 MB behind (measured: 36 of them were 72 MB) until the browser collects it, which it does
 * late. One that may be asked (the command's, by `--expose-gc`) is asked after so many.
 */
const COLLECTED_AFTER = 8;
let drawn = 0;

function collectSometimes(): void {
  drawn++;
  if (drawn % COLLECTED_AFTER === 0) (globalThis as { readonly gc?: () => void }).gc?.();
}

/** Draws an SVG document in a size, its letters in our own faces. Only a page can; a worker asks its page for it. */
export async function drawSvg(svg: string, width: number, height: number): Promise<ImageBitmap> {
  const image = await loadedImage(svg, width, height);
  const context = canvasOf(width, height);
  context.drawImage(image, 0, 0, width, height, 0, 0, width, height);
  collectSometimes();
  return context.canvas.transferToImageBitmap();
}

/** Draws an SVG document onto a canvas of the page, as large as the canvas is. */
export async function drawSvgOnto(canvas: HTMLCanvasElement, svg: string): Promise<void> {
  const { width, height } = canvas;
  const image = await loadedImage(svg, width, height);
  const context = canvas.getContext('2d');
  context?.clearRect(0, 0, width, height);
  context?.drawImage(image, 0, 0, width, height, 0, 0, width, height);
}
