import { changeKey, type Picture } from '@fivespan/core';
import type { Engraver } from '@fivespan/formats/engraving';
import type { FilmDrawing } from '@fivespan/formats/film';

type Engraving = Parameters<Engraver['engrave']>;

/** Something was to be drawn that nobody has engraved yet. */
class NotEngraved extends Error {
  override readonly name = 'NotEngraved';
  readonly asked: Engraving;

  constructor(asked: Engraving) {
    super('this line is not engraved yet');
    this.asked = asked;
  }
}

/**
 * Knows what another worker has engraved. The engraver itself takes more memory than all the rest of a film: it works elsewhere, before
 * the film begins, and is gone then.
 */
export class AskedEngraver {
  readonly #known = new Map<string, readonly string[]>();
  readonly #ask: (asked: Engraving) => Promise<readonly string[]>;

  constructor(ask: (asked: Engraving) => Promise<readonly string[]>) {
    this.#ask = ask;
  }

  /** Gives what is known. */
  get engraver(): Engraver {
    return {
      engrave: (...asked) => {
        const known = this.#known.get(JSON.stringify(asked));
        if (known === undefined) throw new NotEngraved(asked);
        return [...known];
      },
      close: () => undefined,
    };
  }

  /** Has all lines of some pictures engraved. @returns false where it was cancelled */
  async learn(drawing: FilmDrawing, pictures: readonly Picture[], cancelled: () => boolean): Promise<boolean> {
    const seen = new Set<string>();
    for (const picture of pictures) {
      const name = changeKey([picture.line, picture.bar]);
      if (picture.line === null || seen.has(name)) continue;
      seen.add(name);
      while (!(await this.#isKnown(drawing, picture))) if (cancelled()) return false;
    }
    return true;
  }

  /** Whether a picture's line can be drawn; where it could not, one more thing is known afterwards. */
  async #isKnown(drawing: FilmDrawing, picture: Picture): Promise<boolean> {
    try {
      for (const layer of drawing.layersOf(picture)) if (layer.id === 'line') layer.svg();
      return true;
    } catch (error) {
      if (!(error instanceof NotEngraved)) throw error;
      this.#known.set(JSON.stringify(error.asked), await this.#ask(error.asked));
      return false;
    }
  }
}
