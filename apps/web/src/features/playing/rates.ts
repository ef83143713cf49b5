/** Notes are rendered long enough for this share of the programme's tempo, and played at most this much faster. */
export const SLOWEST_RATE = 0.5;
export const FASTEST_RATE = 1.5;
