/**
 * Version of the music engine: rises by one whenever the same chart, choices and seed would give other notes.
 * A lesson document records it, so that a user is warned before a newer engine changes their music.
 */
export const ENGINE_VERSION = 7;
