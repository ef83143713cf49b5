/** Moving pictures: frames drawn, encoded and written. */
export { FilmFile, type FilmCodecs, type FilmFormat } from './film-file.ts';
export { openSink, ownFile, removeOwnFile, removeOwnFiles, type FilmSink, type SinkPlace } from './film-sink.ts';
export { FrameCanvas, type PixelBox, type PlacedBitmap } from './frame-canvas.ts';
export { FrameHash } from './frame-hash.ts';
export { drawSvg, drawSvgOnto } from './svg-picture.ts';
export { hashOf, hearVoice, type HeardVoice, type VoiceFault } from './voice-sound.ts';
