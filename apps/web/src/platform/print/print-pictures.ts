import './print.css';

/** A page as a picture, as large as the paper. */
export interface PrintedPicture {
  readonly canvas: HTMLCanvasElement;
  /** What is on it, for those who print to a file and read that. */
  readonly text: string;
}

/** PNG: lines and letters stay sharp. */
async function addressOf(canvas: HTMLCanvasElement): Promise<string> {
  const blob = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve, 'image/png'));
  if (blob === null) throw new Error('a page is too large for a picture');
  return URL.createObjectURL(blob);
}

/**
 * Resolves when printing is over: most browsers hold the page until their dialog is closed, some return at once and tell later, and
 * where neither is reported a touch of the page shows that nobody prints any more.
 */
function printed(): Promise<void> {
  return new Promise((resolve) => {
    const ends = ['afterprint', 'pointerdown', 'keydown'] as const;
    const end = (): void => {
      for (const each of ends) removeEventListener(each, end);
      resolve();
    };
    for (const each of ends) addEventListener(each, end);
  });
}

/**
 * Prints pages of one paper size and nothing else, through the browser's own dialog. Browsers print no PDF for a page under a
 * strict policy, so each page goes out as a picture.
 * @returns when the dialog is closed
 */
export async function printPictures(pictures: readonly PrintedPicture[], paper: 'a4' | 'letter'): Promise<void> {
  const sheet = document.createElement('div');
  sheet.className = `printed-pages printed-${paper}`;
  const addresses: string[] = [];
  try {
    for (const { canvas, text } of pictures) {
      const address = await addressOf(canvas);
      addresses.push(address);
      const image = new Image();
      image.src = address;
      image.alt = text;
      await image.decode();
      sheet.append(image);
    }
    document.body.append(sheet);
    document.body.dataset.printing = '';
    const over = printed();
    print();
    await over;
  } finally {
    delete document.body.dataset.printing;
    sheet.remove();
    addresses.forEach((address) => URL.revokeObjectURL(address));
  }
}
