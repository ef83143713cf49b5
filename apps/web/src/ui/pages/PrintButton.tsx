import { useEffect, useRef, useState } from 'react';
import { $preview, printPages } from '../../features/handing-out/index.ts';
import { useStore } from '../use-store.ts';
import { words } from '../words/index.ts';

type Printing = { readonly done: number; readonly total: number } | 'failed' | null;

/** Prints the pages that are shown. */
export function PrintButton() {
  const preview = useStore($preview);
  const [printing, setPrinting] = useState<Printing>(null);
  const stop = useRef<AbortController | null>(null);
  useEffect(() => () => stop.current?.abort(), []);
  const shown = preview?.state === 'ready' ? preview.shown : null;
  const print = async (): Promise<void> => {
    if (shown === null) return;
    const own = (stop.current = new AbortController());
    try {
      await printPages(shown, (done, total) => setPrinting({ done, total }), own.signal);
      setPrinting(null);
    } catch {
      setPrinting(own.signal.aborted ? null : 'failed');
    }
  };
  const isBusy = printing !== null && printing !== 'failed';
  return (
    <>
      {isBusy ? (
        <button onClick={() => stop.current?.abort()}>{words.pages.stopPrinting}</button>
      ) : (
        <button disabled={shown === null} onClick={() => void print()}>
          {words.pages.print}
        </button>
      )}
      <span role="status" className="soft">
        {isBusy
          ? words.pages.printing(printing.done + 1, printing.total)
          : printing === null
            ? ''
            : words.pages.cannotPrint}
      </span>
    </>
  );
}
