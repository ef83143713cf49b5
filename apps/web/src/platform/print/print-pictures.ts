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
    // holds until the dialog is closed, where the browser does not print later by itself
    print();
  } finally {
    delete document.body.dataset.printing;
    sheet.remove();
    addresses.forEach((address) => URL.revokeObjectURL(address));
  }
}
