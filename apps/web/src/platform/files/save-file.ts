/** How long a browser may take to fetch what it saves before its address is withdrawn. */
const KEPT_MS = 60_000;

/** Signs that a file system somewhere refuses, and what a browser would read as a folder. */
// oxlint-disable-next-line no-control-regex -- control characters are what is looked for
const REFUSED = /[\u0000-\u001f\u007f"*/:<>?\\|\u202a-\u202e\u2066-\u2069]+/gu;

/** The longest name that every file system takes, with room for an ending. */
const LONGEST_NAME = 120;

/**
 * A title as the name of a file, without its ending: letters of every script stay, signs that file systems refuse become a hyphen.
 * @example fileNameOf('A/B: "C"', 'lesson') // → 'A-B- -C-'
 * @example fileNameOf('  ', 'lesson') // → 'lesson'
 */
export function fileNameOf(title: string, otherwise: string): string {
  const name = [...title.replaceAll(REFUSED, '-').trim()].slice(0, LONGEST_NAME).join('');
  // a name of points alone is a folder; one that starts with a point is hidden
  const plain = name.replace(/^[.\s]+/u, '').replace(/[.\s]+$/u, '');
  return /[\p{L}\p{N}]/u.test(plain) ? plain : otherwise;
}

/**
 * Hands a file to the user: the browser saves it where the user has it save.
 * @param name with its ending
 * @param content bytes, or text (written as UTF-8)
 * @param type its media type
 * @example saveFile('lesson.mid', bytes, 'audio/midi')
 */
export function saveFile(name: string, content: Uint8Array | string | Blob, type: string): void {
  const blob = content instanceof Blob ? content : new Blob([content as BlobPart], { type });
  const address = URL.createObjectURL(blob);
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.style.display = 'none';
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(address), KEPT_MS);
}
