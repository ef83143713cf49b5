/** Frames of sound a second in every film. */
export const FILM_SAMPLE_RATE = 48_000;
