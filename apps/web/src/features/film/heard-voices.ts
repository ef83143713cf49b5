import { LONGEST_VOICE_SECONDS, type Film } from '@fivespan/core';
import type { LaidVoice } from '@fivespan/sound/encode';
import type { FetchedVoice, FilmSource, VoicePlace } from './film-order.ts';
import { FILM_SAMPLE_RATE } from './film-rate.ts';

/** A film has no more of a voice: it is in memory while the film is made. */
const MOST_SPOKEN_SECONDS = 600;

const WORDS: Readonly<Record<Exclude<FetchedVoice, { ok: true }>['fault'], string>> = {
  'too large': 'is too large for a voice: record it shorter, or save it as MP3',
  'too long': `is longer than ${LONGEST_VOICE_SECONDS / 60} minutes: part it between scenes`,
  unreadable: 'is no recording that this browser can read: take WAV, MP3, FLAC or M4A',
  silent: 'is silent from its beginning to its end',
  gone: 'is not here any more',
};

/** A film's voices as they sound, and the film's source with the lengths they have. */
interface HeardVoices {
  readonly source: FilmSource;
  /** The voices where the film has them. */
  readonly laidIn: (film: Film) => LaidVoice[];
}

const lengthOf = (samples: Float32Array): number => Math.round((samples.length / FILM_SAMPLE_RATE) * 1000) / 1000;

/**
 * Decodes the voices of a film's scenes. One that has gone meanwhile is not at hand.
 * @throws Error in a musician's words where one cannot be laid under anything
 */
export async function heardVoices(
  source: FilmSource,
  { hear }: { readonly hear: (voice: VoicePlace) => Promise<FetchedVoice> },
): Promise<HeardVoices> {
  const scenes = source.choices.film;
  const wanted = source.voices.filter(({ hash }) => scenes?.some(({ voice }) => voice?.hash === hash));
  const sounds = new Map<string, Float32Array>();
  if (scenes === null || wanted.length === 0 || source.take !== null)
    return { source: { ...source, voices: [] }, laidIn: () => [] };
  for (const place of wanted) {
    const heard = await hear(place);
    if (heard.ok) sounds.set(place.hash, heard.samples);
    else if (heard.fault !== 'gone') {
      const name = scenes.find(({ voice }) => voice?.hash === place.hash)?.voice?.name ?? '';
      throw new Error(`‘${name}’ ${WORDS[heard.fault]}`);
    }
  }
  const spoken = [...sounds.values()].reduce((sum, samples) => sum + lengthOf(samples), 0);
  if (spoken > MOST_SPOKEN_SECONDS)
    throw new Error(`a film takes ${MOST_SPOKEN_SECONDS / 60} minutes of voice at most, not ${Math.ceil(spoken / 60)}`);
  // a scene is as long as what is heard of its voice, whatever the lesson says
  const film = scenes.map((scene) => {
    const samples = scene.voice === null ? undefined : sounds.get(scene.voice.hash);
    return scene.voice === null || samples === undefined
      ? scene
      : { ...scene, voice: { ...scene.voice, seconds: lengthOf(samples) } };
  });
  return {
    source: { ...source, choices: { ...source.choices, film }, voices: wanted.filter(({ hash }) => sounds.has(hash)) },
    laidIn: ({ voices }) =>
      voices.flatMap(({ hash, startSeconds }) => {
        const samples = sounds.get(hash);
        return samples === undefined ? [] : [{ startSeconds, samples }];
      }),
  };
}
