import type { ReactNode } from 'react';
import styles from './Drawn.module.css';

/** Bars without a chord in them; a rest; staff lines that break off. */
const PICTURES = {
  bars: (
    <>
      <path d="M2 6V58M62 6V58M122 6V58M182 6V58M242 6V58" />
      <path d="M17 42L30 22M77 42L90 22M137 42L150 22M197 42L210 22" strokeDasharray="4 4" />
    </>
  ),
  rest: (
    <>
      <path d="M2 12H242M2 22H242M2 32H242M2 42H242M2 52H242" strokeWidth="1" />
      <path d="M108 22.5H136V31H108Z" fill="currentColor" stroke="none" />
    </>
  ),
  broken: (
    <>
      <path d="M2 12H96M2 22H104M2 32H92M2 42H100M2 52H98" strokeWidth="1" />
      <path d="M150 12H242M142 22H242M154 32H242M146 42H242M148 52H242" strokeWidth="1" />
      <path d="M116 22L130 42M130 22L116 42" />
    </>
  ),
} satisfies Record<string, ReactNode>;

/** What a screen shows where it has nothing else to show: a small drawing and what can be done. */
export function Drawn({
  picture,
  children,
}: {
  readonly picture: keyof typeof PICTURES;
  readonly children: ReactNode;
}) {
  return (
    <div className={styles.drawn}>
      <svg viewBox="0 0 244 64" width="244" height="64" aria-hidden="true" fill="none" stroke="currentColor">
        {PICTURES[picture]}
      </svg>
      {children}
    </div>
  );
}
