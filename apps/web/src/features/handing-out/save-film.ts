import { folderOfKey, folderOfTitle, type FrameRate, type Key } from '@fivespan/core';
import type { FilmHeight, FilmLook } from '@fivespan/formats/film';
import { BANK_URL } from '../../platform/audio/bank-file.ts';
import { newId, nowMs } from '../../platform/clock/index.ts';
import { ownFile, removeOwnFile, removeOwnFiles } from '../../platform/video/index.ts';
import { runJob } from '../../platform/workers/index.ts';
import { $voices, FilmMaker, showVoices, takeSource, type FilmSource, type Following } from '../film/index.ts';
import { order } from './orders.ts';
import type { PrintedLesson } from './printed-lesson.ts';
import type { ZipEntry } from './zip-job.ts';

/** How a film is wanted. */
export interface FilmWish {
  readonly look: FilmLook;
  readonly height: FilmHeight;
  readonly fps: FrameRate;
  /** Whether only what is played is filmed. */
  readonly playOnly: boolean;
}

/** Media types. Source: IANA's register. */
const TYPES = { mp4: 'video/mp4', webm: 'video/webm', zip: 'application/zip' } as const;

/** Films of this page in the browser's own folder. */
const OWN_FILES = 'fivespan-film-';
/** A file is fetched by the browser after it was handed over: it stays so long. */
const KEPT_MS = 120_000;
/** Before this share is done, what is left cannot be said. */
const LEAST_SHARE = 0.05;

/** What a film of a lesson in a key is made of. */
export function filmSource({ chart, choices }: PrintedLesson, key: Key, playOnly: boolean): FilmSource {
  const here = $voices.get() ?? new Set<string>();
  const hashes = new Set((choices.film ?? []).flatMap(({ voice }) => (voice === null ? [] : [voice.hash])));
  const voices = [...hashes].filter((hash) => here.has(hash)).map((hash) => ({ hash, url: null }));
  // keys and the programme's rows are no part of it, its tempo is
  return { chart, choices: { ...choices, keys: [] }, key, bars: null, playOnly, take: null, voices };
}

const nameOf = ({ chart }: Pick<PrintedLesson, 'chart'>, key: Key): string =>
  `${folderOfTitle(chart.title)}-${folderOfKey(key)}`;

async function saveFilm(
  sourceOf: () => FilmSource,
  key: Key,
  name: string,
  { look, height, fps }: FilmWish,
): Promise<void> {
  await order({ kind: 'film', key }, async ({ report, signal }) => {
    const format = look.ground === 'clear' ? 'webm' : 'mp4';
    const own = `${OWN_FILES}${newId()}`;
    const maker = new FilmMaker();
    let begunMs = 0;
    try {
      await showVoices();
      await removeOwnFiles(OWN_FILES);
      await maker.make(
        {
          ...sourceOf(),
          look,
          height,
          fps,
          format,
          sink: { kind: 'own file', name: own },
          bankUrl: BANK_URL,
          isHashed: false,
        },
        {
          signal,
          report: (stage, done, total) => {
            if (stage !== 'filming') return;
            if (begunMs === 0) begunMs = nowMs();
            const share = done / total;
            const spent = (nowMs() - begunMs) / 1000;
            report(done, total, share < LEAST_SHARE ? undefined : Math.ceil((spent * (1 - share)) / share));
          },
        },
      );
      const bytes = await ownFile(own);
      setTimeout(() => void removeOwnFile(own), KEPT_MS);
      return { name: `${name}.${format}`, bytes, type: TYPES[format] };
    } catch (error) {
      maker.close();
      await removeOwnFile(own);
      throw error;
    } finally {
      maker.close();
    }
  });
}

/** Makes and saves a lesson's film in each of some keys, one after the other. One that was stopped does not stop the others. */
export async function saveFilms(lesson: PrintedLesson, keys: readonly Key[], wish: FilmWish): Promise<void> {
  for (const key of keys) await saveFilm(() => filmSource(lesson, key, wish.playOnly), key, nameOf(lesson, key), wish);
}

/** Makes and saves the film of a performance. */
export async function saveTakeFilm(following: Following, wish: FilmWish): Promise<void> {
  const { take } = following;
  await saveFilm(() => takeSource(following), take.key, `${nameOf(take, take.key)}-take`, wish);
}

/** Saves what stands beside a film: captions, description and the sheet to speak from. */
export function saveFilmTexts(source: FilmSource, key: Key, { look }: FilmWish): Promise<void> {
  return order({ kind: 'film texts', key }, async ({ signal }) => {
    const maker = new FilmMaker();
    try {
      const asked = { source, look, seconds: 0 };
      const { captionsVtt, captionsSrt, description, cueSheet } = await maker.still(asked, { signal });
      const stem = nameOf(source, key);
      const entries: ZipEntry[] = Object.entries({
        '.vtt': captionsVtt,
        '.srt': captionsSrt,
        '.txt': description,
        '-cues.txt': cueSheet,
      }).map(([ending, text]) => ({ path: stem + ending, bytes: new TextEncoder().encode(text) }));
      const bytes = await runJob<readonly ZipEntry[], Uint8Array>('zip', entries, { urgency: 'soon', signal });
      return { name: `${stem}-captions.zip`, bytes, type: TYPES.zip };
    } finally {
      maker.close();
    }
  });
}
