/**
 * Lets the user choose files. Nothing is read yet: sizes are looked at first.
 * @param accept endings and media types, as the attribute of that name has them: '.xml,.mxl'
 * @returns none where the user chose none
 */
export function openFiles(accept: string, { several = false } = {}): Promise<readonly File[]> {
  return new Promise((resolve) => {
    const input = document.createElement('input');
    input.type = 'file';
    input.accept = accept;
    input.multiple = several;
    input.style.display = 'none';
    const end = (files: readonly File[]): void => {
      input.remove();
      resolve(files);
    };
    input.addEventListener('change', () => end([...(input.files ?? [])]));
    input.addEventListener('cancel', () => end([]));
    document.body.append(input);
    input.click();
  });
}
