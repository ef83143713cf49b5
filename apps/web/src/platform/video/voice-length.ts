import { ADTS, BlobSource, FLAC, Input, MP3, MP4, OGG, QTFF, WAVE } from 'mediabunny';

/**
 * How long a recording lasts, by what is in the file: nothing of it is decoded yet.
 * @returns undefined where it is no recording of a kind that is known
 */
export async function recordingSeconds(bytes: Blob): Promise<number | undefined> {
  const input = new Input({ formats: [WAVE, MP3, FLAC, MP4, QTFF, ADTS, OGG], source: new BlobSource(bytes) });
  try {
    return await (await input.getPrimaryAudioTrack())?.computeDuration();
  } catch {
    return undefined;
  } finally {
    input.dispose();
  }
}
