/** The sign of something to be heard, beside its word. */
export function SoundSign() {
  return (
    <svg viewBox="0 0 20 20" width="18" height="18" aria-hidden="true" style={{ flex: 'none', verticalAlign: '-4px' }}>
      <path d="M3 7.5v5h3l4 3.5V4L6 7.5z" fill="currentColor" />
      <path
        d="M13 7a4.2 4.2 0 0 1 0 6M15.3 4.8a7.4 7.4 0 0 1 0 10.4"
        fill="none"
        stroke="currentColor"
        strokeWidth="1.5"
      />
    </svg>
  );
}
