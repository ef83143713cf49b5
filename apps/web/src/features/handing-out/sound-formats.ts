import flacMemory from 'libflacjs/dist/libflac.min.js.mem?url';
import mp3Program from 'wasm-media-encoders/wasm/mp3?url';
import type { SoundFormat } from '@fivespan/sound/encode';
import { fetchBytes, placeFlacMemory } from '../../platform/assets/index.ts';

/** The kinds of sound that are encoded here. */
export type EncodedKind = 'mp3' | 'wav' | 'flac';

/**
 * How a kind of file is written: as the command line does (apps/cli), so that both give the same bytes from the same bank. What
 * the encoder needs besides is fetched now.
 */
export async function soundFormat(kind: EncodedKind): Promise<SoundFormat> {
  switch (kind) {
    case 'mp3':
      return { kind, bitrate: 192, program: await fetchBytes(mp3Program) };
    case 'flac':
      placeFlacMemory(flacMemory);
      return { kind, bits: 16 };
    case 'wav':
      return { kind, bits: 16 };
  }
}
