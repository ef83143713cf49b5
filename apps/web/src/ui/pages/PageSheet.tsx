import { useEffect, useRef, useState } from 'react';
import { type PageWords, type PdfPage, watchNear, watchWidth } from '../../features/handing-out/pages-shown.ts';
import { words } from '../words/index.ts';
import styles from './Preview.module.css';

/** One page as it will be printed, with its words for those who hear it. Drawn when it comes near. */
export function PageSheet({
  page,
  number,
  pages,
  zoom,
}: {
  readonly page: PdfPage;
  readonly number: number;
  readonly pages: number;
  readonly zoom: number;
}) {
  const sheet = useRef<HTMLDivElement>(null);
  const canvas = useRef<HTMLCanvasElement>(null);
  const [isNear, setNear] = useState(false);
  const [widthPx, setWidthPx] = useState(0);
  const [read, setRead] = useState<readonly PageWords[]>([]);

  useEffect(() => {
    const element = sheet.current;
    if (element === null) return undefined;
    const ends = [watchNear(element, setNear), watchWidth(element, setWidthPx)];
    return () => ends.forEach((end) => end());
  }, []);

  useEffect(() => {
    let isOver = false;
    page.read().then(
      (found) => {
        if (!isOver) setRead(found);
      },
      () => {
        // the pages were closed meanwhile
      },
    );
    return () => {
      isOver = true;
    };
  }, [page]);

  useEffect(() => {
    if (!isNear || widthPx === 0 || canvas.current === null) return undefined;
    const stop = new AbortController();
    page.draw(canvas.current, widthPx, stop.signal).catch(() => {
      // drawn anew with another width, or closed
    });
    return () => stop.abort();
  }, [page, isNear, widthPx]);

  return (
    <li className={styles.page} style={{ width: `${zoom * 100}%` }}>
      <div
        ref={sheet}
        className={styles.sheet}
        style={{ aspectRatio: `${page.widthPt} / ${page.heightPt}` }}
        data-page={number}
      >
        <canvas ref={canvas} role="img" aria-label={words.pages.drawn(number, pages)} />
      </div>
      <div className="unseen">
        {read.map((each, index) => (
          <PageWord key={index} {...each} />
        ))}
      </div>
      <p className={styles.number} aria-hidden="true">
        {words.pages.pageOf(number, pages)}
      </p>
    </li>
  );
}

/** Headings of a page stand below those of the screen. */
function PageWord({ kind, text }: PageWords) {
  if (kind === 'title') return <h3>{text}</h3>;
  return kind === 'heading' ? <h4>{text}</h4> : <p>{text}</p>;
}
