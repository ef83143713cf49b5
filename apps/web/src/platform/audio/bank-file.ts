import bankUrl from '../../../../../packages/sound/dist/web.sf3?url';

/** Where the bank is among the application's own files. An absolute address: a worker reads it too. */
export const BANK_URL: string = new URL(bankUrl, globalThis.location?.href ?? 'file:').href;

/** Reads the bank. @throws Error where it cannot be had: offline, and not kept yet */
export async function fetchBank(url: string): Promise<Uint8Array> {
  const answer = await fetch(url);
  if (!answer.ok) throw new Error(`the sound bank could not be read (${answer.status})`);
  return new Uint8Array(await answer.arrayBuffer());
}
