/** The sign of something pinned: a pin seen from the side. */
export function PinSign() {
  return (
    <svg viewBox="0 0 10 14" width="9" height="13" aria-hidden="true" style={{ flex: 'none' }}>
      <circle cx="5" cy="4" r="3" fill="currentColor" />
      <path d="M5 7v6" stroke="currentColor" strokeWidth="1.4" />
    </svg>
  );
}
