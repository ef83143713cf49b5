import type { ReactNode } from 'react';
import styles from './StatePicture.module.css';

/** What a place can be in beside being itself; `two` is there twice: here, and as another tab or another version has it. */
export type PlaceState = 'opening' | 'nothing' | 'stopped' | 'offline' | 'not kept' | 'closed' | 'two';

const PAGE = 'M22.5 6.5h75v52h-75z';
const BARS = 'M32.5 20v14M52.5 20v14M72.5 20v14M87.5 20v14';

/** One drawing for each state: a page of music, and what has become of it. Dashes are coming. */
const DRAWN: Readonly<Record<PlaceState, ReactNode>> = {
  opening: (
    <>
      <path className={styles.coming} d={PAGE} />
      <path className={styles.line} d="M32.5 20v14" />
      <path className={styles.coming} d="M52.5 20v14M72.5 20v14M87.5 20v14" />
    </>
  ),
  nothing: (
    <>
      <path className={styles.sheet} d={PAGE} />
      <path className={styles.line} d={BARS} />
      <path
        className={styles.coming}
        d="M36 46h12v5a4 4 0 0 1-4 4h-4a4 4 0 0 1-4-4zM56 46h12v5a4 4 0 0 1-4 4h-4a4 4 0 0 1-4-4z"
      />
    </>
  ),
  stopped: (
    <>
      <path className={styles.sheet} d="M22.5 6.5h32l-6 13 8 12-9 13 5 14h-30z" />
      <path className={styles.sheet} d="M69.5 6.5h28v52h-28l-5-14 9-13-8-12z" />
      <path className={styles.line} d="M32.5 20v14M87.5 20v14" />
    </>
  ),
  offline: (
    <>
      <path className={styles.sheet} d={PAGE} />
      <path className={styles.line} d={BARS} />
      <path className={styles.line} d="M0 46.5h44M48 42v9M44 40v13M120 46.5h-44M76 40v13" />
    </>
  ),
  'not kept': (
    <>
      <path className={styles.coming} d="M34.5 2.5h51v42h-51z" />
      <path className={styles.line} d="M44.5 14v12M60.5 14v12M75.5 14v12" />
      <path className={styles.shelf} d="M10 58h100" />
    </>
  ),
  two: (
    <>
      <path className={styles.sheet} d="M10.5 4.5h58v42h-58z" />
      <path className={styles.sheet} d="M51.5 17.5h58v42h-58z" />
      <path className={styles.line} d="M20.5 14v12M36.5 14v12M61.5 27v12M77.5 27v12M93.5 27v12" />
    </>
  ),
  closed: (
    <>
      <path className={styles.sheet} d="M14.5 44.5h91v14h-91z" />
      <path className={styles.line} d="M27.5 45v13M40.5 45v13M53.5 45v13M66.5 45v13M79.5 45v13M92.5 45v13" />
      <path className={styles.lid} d="M10.5 18.5h99v22h-99z" />
      <path className={styles.line} d="M55 33.5h10" />
    </>
  ),
};

/** A state as a small picture; what it says is in the words beside it. */
export function StatePicture({ state }: { readonly state: PlaceState }) {
  return (
    <svg className={styles.picture} viewBox="0 0 120 64" aria-hidden="true" data-state={state}>
      {DRAWN[state]}
    </svg>
  );
}

/** What is to be said of a state, beside its picture. */
export function StateNote({
  state,
  role,
  children,
}: {
  readonly state: PlaceState;
  readonly role?: 'alert' | 'status';
  readonly children: ReactNode;
}) {
  return (
    <div className={styles.note} role={role}>
      <StatePicture state={state} />
      <div className={styles.words}>{children}</div>
    </div>
  );
}
