/**
 * The page that the command line makes films in: the workbench's own film maker without the workbench. It asks its server what to make
 * and says there how far it is, and what became of it (apps/cli/src/film/film-server.ts).
 */
import { FilmMaker, type FilmOrder, type FilmStage } from './features/film/index.ts';
import { BANK_URL } from './platform/audio/bank-file.ts';

const say = async (path: string, body: string): Promise<unknown> => await fetch(path, { method: 'POST', body });

let told = '';

function report(stage: FilmStage, done: number, total: number): void {
  const now = `${stage} ${Math.floor((done * 100) / Math.max(1, total))}`;
  if (now === told) return;
  told = now;
  say('/-/progress', JSON.stringify({ stage, done, total })).catch(() => undefined);
}

async function makeFilm(): Promise<void> {
  const answer = await fetch('/-/order');
  // elsewhere than with the command there is nothing to be made
  if (!answer.ok) return;
  // never answered: where this page is gone, its server learns of it
  fetch('/-/presence').catch(() => undefined);
  const order = (await answer.json()) as Omit<FilmOrder, 'bankUrl'>;
  const maker = new FilmMaker();
  try {
    const film = await maker.make({ ...order, bankUrl: BANK_URL }, { report });
    await say('/-/made', JSON.stringify(film));
  } catch (error) {
    await say('/-/failed', error instanceof Error ? error.message : String(error));
  }
}

void makeFilm();
