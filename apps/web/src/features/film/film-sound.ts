import type { Film } from '@fivespan/core';
import { openBank } from '@fivespan/sound/bank';
import { soundFileSteps, VoiceOver, type LaidVoice } from '@fivespan/sound/encode';
import { NoteStore } from '@fivespan/sound/engine';
import { fetchBytes } from '../../platform/assets/index.ts';
import { FILM_SAMPLE_RATE } from './film-rate.ts';

/** Rendered notes that are kept while a film is made. */
const STORE_BYTES = 40_000_000;
/** A film of speech and music as it goes out. Source: EBU R 128 s2 (streaming, –14 to –16 wished for), from memory; the middle. */
const FILM_LUFS = -15;
/** True peaks lie above samples, and encoders add to them: the demo’s film had –0.7 dBTP at –3. */
const CEILING_DB = -4.5;
/** A film longer than this is mixed twice rather than kept. */
const KEPT_SECONDS = 40;

type SoundSteps = Generator<{ readonly done: number; readonly total: number }, unknown, undefined>;

/** A film's sound as it is asked for, piece by piece: measured first, then evened. */
export class FilmSound {
  readonly #steps: SoundSteps;
  readonly #parts: Uint8Array[];
  #isOver = false;
  /** How far measuring and mixing are, of both. */
  progress = { done: 0, total: 1 };

  private constructor(steps: SoundSteps, parts: Uint8Array[]) {
    this.#steps = steps;
    this.#parts = parts;
  }

  static async begin({ sound, endSeconds }: Film, bankUrl: string, voices: readonly LaidVoice[]): Promise<FilmSound> {
    const bank = await openBank(await fetchBytes(bankUrl), 'web');
    if (!bank.ok) throw new Error(bank.issues[0]?.code ?? 'sound.bank-unreadable');
    const store = new NoteStore(bank.value, FILM_SAMPLE_RATE, STORE_BYTES);
    const parts: Uint8Array[] = [];
    const under = new VoiceOver(FILM_SAMPLE_RATE, voices);
    const steps = await soundFileSteps(
      store,
      sound,
      { kind: 'samples' },
      { title: '', chapters: [] },
      { tailSeconds: Math.max(0, endSeconds - sound.endSeconds) },
      { inMemorySeconds: KEPT_SECONDS, onPart: (part) => void parts.push(part) },
      { lufs: FILM_LUFS, ceilingDb: CEILING_DB, givesBack: true, under },
    );
    return new FilmSound(steps, parts);
  }

  /** Works for a moment. @returns whether anything is left to do */
  step(): boolean {
    if (this.#isOver) return false;
    const next = this.#steps.next();
    if (next.done === true) this.#isOver = true;
    else this.progress = next.value;
    return !this.#isOver;
  }

  /** Whether it has been measured: sound comes from then on. */
  get isMeasured(): boolean {
    return this.#isOver || this.progress.done * 2 >= this.progress.total || this.#parts.length > 0;
  }

  /** What has come since the last time, left and right in turn. */
  taken(): Float32Array<ArrayBuffer>[] {
    return this.#parts
      .splice(0)
      .map((part) => new Float32Array(part.buffer as ArrayBuffer, part.byteOffset, part.byteLength / 4));
  }
}
