/** A rectangle in pixels. */
export interface PixelBox {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** A picture at its place in the frame. */
export interface PlacedBitmap {
  readonly key: string;
  readonly box: PixelBox;
  readonly bitmap: ImageBitmap;
}

/**
 * RGB to limited-range Y′CbCr in 256ths. Source: ITU-R BT.709-6, items 3.2 to 3.4, from memory.
 */
const LUMA = [47, 157, 16] as const;
const BLUE = [-26, -87, 112] as const;
const RED = [112, -102, -10] as const;

/**
 * The frame that is being drawn, as a canvas and as the planes an encoder takes: only what has changed is drawn and converted again, so
 * that a still picture costs nothing here.
 */
export class FrameCanvas {
  readonly width: number;
  readonly height: number;
  readonly #context: OffscreenCanvasRenderingContext2D;
  readonly #ground: string | null;
  readonly #planes: Uint8Array<ArrayBuffer>;
  #shown: readonly PlacedBitmap[] = [];
  #isFresh = true;

  /** @param ground what is where nothing is drawn; null for nothing: then the frame has a plane of its own for that */
  constructor(width: number, height: number, ground: string | null) {
    this.width = width;
    this.height = height;
    this.#ground = ground;
    const context = new OffscreenCanvas(width, height).getContext('2d', { willReadFrequently: true });
    if (context === null) throw new Error('this browser cannot draw outside of a page');
    this.#context = context;
    this.#planes = new Uint8Array((width * height * 3) / 2 + (ground === null ? width * height : 0));
  }

  /** Draws what differs from the picture before. @returns whether anything does */
  show(bitmaps: readonly PlacedBitmap[]): boolean {
    const before = new Set(this.#shown.map(nameOf));
    const after = new Set(bitmaps.map(nameOf));
    const changed = [
      ...this.#shown.filter((each) => !after.has(nameOf(each))),
      ...bitmaps.filter((each) => !before.has(nameOf(each))),
    ].map(({ box }) => this.#even(box));
    this.#shown = bitmaps;
    if (this.#isFresh) changed.push({ x: 0, y: 0, width: this.width, height: this.height });
    this.#isFresh = false;
    const boxes = joined(changed);
    for (const box of boxes) this.#draw(box);
    for (const box of boxes) this.#convert(box);
    return boxes.length > 0;
  }

  /** The frame for an encoder. */
  frame(timestampMicros: number, durationMicros: number): VideoFrame {
    return new VideoFrame(this.#planes, {
      format: this.#ground === null ? 'I420A' : 'I420',
      codedWidth: this.width,
      codedHeight: this.height,
      timestamp: timestampMicros,
      duration: durationMicros,
      colorSpace: { primaries: 'bt709', transfer: 'bt709', matrix: 'bt709', fullRange: false },
    });
  }

  /** The frame's bytes, as an encoder gets them. */
  get planes(): Uint8Array<ArrayBuffer> {
    return this.#planes;
  }

  /** The frame as a PNG. */
  async png(): Promise<Blob> {
    return await this.#context.canvas.convertToBlob({ type: 'image/png' });
  }

  /** Chroma is kept for two pixels by two. */
  #even({ x, y, width, height }: PixelBox): PixelBox {
    const left = Math.max(0, 2 * Math.floor(x / 2));
    const top = Math.max(0, 2 * Math.floor(y / 2));
    return {
      x: left,
      y: top,
      width: Math.min(this.width, 2 * Math.ceil((x + width) / 2)) - left,
      height: Math.min(this.height, 2 * Math.ceil((y + height) / 2)) - top,
    };
  }

  #draw({ x, y, width, height }: PixelBox): void {
    const context = this.#context;
    context.save();
    context.beginPath();
    context.rect(x, y, width, height);
    context.clip();
    context.clearRect(x, y, width, height);
    if (this.#ground !== null) {
      context.fillStyle = this.#ground;
      context.fillRect(x, y, width, height);
    }
    for (const { box, bitmap } of this.#shown) {
      if (overlap(box, { x, y, width, height })) context.drawImage(bitmap, box.x, box.y, box.width, box.height);
    }
    context.restore();
  }

  #convert({ x, y, width, height }: PixelBox): void {
    if (width <= 0 || height <= 0) return;
    const { data } = this.#context.getImageData(x, y, width, height);
    const planes = this.#planes;
    const stride = this.width;
    const chromaStride = stride / 2;
    const blueStart = stride * this.height;
    const redStart = blueStart + blueStart / 4;
    const alphaStart = redStart + blueStart / 4;
    const hasAlpha = this.#ground === null;
    for (let row = 0; row < height; row += 2) {
      for (let column = 0; column < width; column += 2) {
        let red = 0;
        let green = 0;
        let blue = 0;
        for (let dy = 0; dy < 2; dy++) {
          for (let dx = 0; dx < 2; dx++) {
            const from = ((row + dy) * width + column + dx) * 4;
            const r = data[from] as number;
            const g = data[from + 1] as number;
            const b = data[from + 2] as number;
            const to = (y + row + dy) * stride + x + column + dx;
            planes[to] = ((LUMA[0] * r + LUMA[1] * g + LUMA[2] * b + 128) >> 8) + 16;
            if (hasAlpha) planes[alphaStart + to] = data[from + 3] as number;
            red += r;
            green += g;
            blue += b;
          }
        }
        const to = ((y + row) / 2) * chromaStride + (x + column) / 2;
        planes[blueStart + to] = ((BLUE[0] * red + BLUE[1] * green + BLUE[2] * blue + 512) >> 10) + 128;
        planes[redStart + to] = ((RED[0] * red + RED[1] * green + RED[2] * blue + 512) >> 10) + 128;
      }
    }
  }
}

const nameOf = ({ key, box }: PlacedBitmap): string => `${box.x} ${box.y} ${key}`;

function overlap(a: PixelBox, b: PixelBox): boolean {
  return a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;
}

/** Boxes that overlap become one. */
function joined(boxes: readonly PixelBox[]): PixelBox[] {
  const found: PixelBox[] = [];
  for (let next of boxes) {
    for (;;) {
      const at = found.findIndex((each) => overlap(each, next));
      if (at < 0) break;
      const [other] = found.splice(at, 1) as [PixelBox];
      const x = Math.min(next.x, other.x);
      const y = Math.min(next.y, other.y);
      next = {
        x,
        y,
        width: Math.max(next.x + next.width, other.x + other.width) - x,
        height: Math.max(next.y + next.height, other.y + other.height) - y,
      };
    }
    found.push(next);
  }
  return found;
}
