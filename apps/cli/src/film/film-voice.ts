import { createHash } from 'node:crypto';
import { readFile, stat } from 'node:fs/promises';
import { basename } from 'node:path';
import {
  chosenScenes,
  LARGEST_VOICE_BYTES,
  LONGEST_VOICE_NAME,
  makeLesson,
  type Chart,
  type Choices,
  type Key,
  type LeftOutVoice,
} from '@fivespan/core';
import { UsageError, type Call } from '../command.ts';
import { reasonOf } from '../fault.ts';
import { textOf } from '../options.ts';

/** A recording that the film is made with. */
export interface VoiceFile {
  readonly hash: string;
  readonly path: string;
}

const WHAT_VOICE_TAKES =
  '--voice takes a scene, counted from 1, and the recording that is laid under it: 2=idea.wav, several behind commas';

/** `2=idea.wav,4=play.mp3`: a comma parts where another scene's number follows. */
function namedVoices(text: string): { readonly scene: number; readonly path: string }[] {
  return text.split(/,(?=\s*\d+=)/u).map((each) => {
    const [, scene, path] = /^\s*(\d{1,3})=(.+)$/su.exec(each) ?? [];
    if (scene === undefined || path === undefined) throw new UsageError(`${WHAT_VOICE_TAKES}; not '${each}'`);
    return { scene: Number(scene), path };
  });
}

async function hashOfFile(path: string): Promise<string> {
  const about = await stat(path).catch((error: unknown) => {
    throw new UsageError(`--voice names '${path}', which cannot be read (${reasonOf(error)})`);
  });
  if (!about.isFile()) throw new UsageError(`--voice names '${path}', which is no file`);
  if (about.size > LARGEST_VOICE_BYTES) {
    throw new UsageError(`'${path}' is too large for a voice: ${LARGEST_VOICE_BYTES / 1e6} MB at most`);
  }
  return createHash('sha256')
    .update(await readFile(path))
    .digest('hex');
}

/**
 * The recordings that `--voice` lays under scenes, and the choices with them.
 * @param key the film's
 */
export async function filmVoices(
  call: Call,
  chart: Chart,
  choices: Choices,
  key: Key,
): Promise<{ readonly choices: Choices; readonly voices: readonly VoiceFile[] }> {
  const text = textOf(call, 'voice');
  if (text === undefined) return { choices, voices: [] };
  if (call.options['agreed'] !== true) {
    throw new UsageError(
      'a film lets hear what somebody said. Ask them first: “May I use your voice?” Then say --agreed (for your own voice too)',
    );
  }
  const named = namedVoices(text);
  const film = [...chosenScenes(makeLesson(chart, choices, key), chart, choices)];
  const voices: VoiceFile[] = [];
  for (const { scene, path } of named) {
    const own = film[scene - 1];
    if (own === undefined) {
      throw new UsageError(`--voice takes scenes from 1 to ${film.length}, not ${scene}: ${listOf(film)}`);
    }
    if (named.filter((each) => each.scene === scene).length > 1) {
      throw new UsageError(`--voice names scene ${scene} twice: a scene has one voice`);
    }
    const hash = await hashOfFile(path);
    // how long it is says whoever hears it
    film[scene - 1] = { ...own, voice: { name: basename(path).slice(0, LONGEST_VOICE_NAME), hash, seconds: 0, key } };
    voices.push({ hash, path });
  }
  return { choices: { ...choices, film }, voices };
}

const listOf = (scenes: readonly { readonly kind: string }[]): string =>
  scenes.map(({ kind }, index) => `${index + 1} ${kind}`).join(', ');

/** What is said of voices that a film was made without. */
export function leftOutText(leftOut: readonly LeftOutVoice[]): string {
  return leftOut
    .map(({ scene, name, why }) =>
      why === 'missing'
        ? `Scene ${scene + 1} was made without its voice: '${name}' is not in the lesson's file. Lay it there again: --voice ${scene + 1}=FILE\n`
        : `Scene ${scene + 1} was made without its voice: '${name}' speaks of another key.\n`,
    )
    .join('');
}
