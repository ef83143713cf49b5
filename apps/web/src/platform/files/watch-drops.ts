/** What is reported of files that are dragged over the page. */
export interface DropWatch {
  /** Files hover over the page, or have left it. */
  readonly hover: (isOver: boolean) => void;
  readonly drop: (files: readonly File[]) => void;
}

/**
 * Takes files that are dropped anywhere on the page from now on; without it the browser would leave the page for the file.
 * @returns ends it
 */
export function watchDrops({ hover, drop }: DropWatch): () => void {
  const end = new AbortController();
  const { signal } = end;
  // elements are entered before the one they lie in is left
  let depth = 0;
  const holdsFiles = ({ dataTransfer }: DragEvent): boolean => dataTransfer?.types.includes('Files') === true;
  const over = (to: number): void => {
    const was = depth > 0;
    depth = Math.max(0, to);
    if (was !== depth > 0) hover(depth > 0);
  };
  addEventListener('dragenter', (event) => holdsFiles(event) && over(depth + 1), { signal });
  addEventListener('dragleave', (event) => holdsFiles(event) && over(depth - 1), { signal });
  addEventListener(
    'dragover',
    (event) => {
      if (!holdsFiles(event)) return;
      event.preventDefault();
      if (event.dataTransfer !== null) event.dataTransfer.dropEffect = 'copy';
    },
    { signal },
  );
  addEventListener(
    'drop',
    (event) => {
      if (!holdsFiles(event)) return;
      event.preventDefault();
      over(0);
      drop([...(event.dataTransfer?.files ?? [])]);
    },
    { signal },
  );
  return () => end.abort();
}
