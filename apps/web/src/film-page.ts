/** The page that the command line makes films in: the workbench's own film maker without the workbench. */
import { FilmMaker, type FilmOrder, type FilmStage, type MadeFilm } from './features/film/index.ts';
import { BANK_URL } from './platform/audio/bank-file.ts';

/** What the command line calls. It learns how far the film is by a function that it put into the page. */
declare global {
  // oxlint-disable-next-line no-var -- a global of the page
  var fivespanFilm: (order: Omit<FilmOrder, 'bankUrl'>) => Promise<MadeFilm>;
  // oxlint-disable-next-line no-var -- a global of the page
  var fivespanFilmProgress: ((stage: FilmStage, done: number, total: number) => void) | undefined;
}

const maker = new FilmMaker();
let told = '';

globalThis.fivespanFilm = async (order) =>
  await maker.make(
    { ...order, bankUrl: BANK_URL },
    {
      report: (stage, done, total) => {
        const now = `${stage} ${Math.floor((done * 100) / Math.max(1, total))}`;
        if (now === told) return;
        told = now;
        globalThis.fivespanFilmProgress?.(stage, done, total);
      },
    },
  );
document.body.dataset['ready'] = '';
