/**
 * Tells libFLAC where its memory's beginning is (libflac.min.js.mem): it looks for a global of this name when it is loaded.
 * Called before that.
 */
export function placeFlacMemory(url: string): void {
  Object.assign(globalThis, { FLAC_SCRIPT_LOCATION: { 'libflac.min.js.mem': url } });
}
