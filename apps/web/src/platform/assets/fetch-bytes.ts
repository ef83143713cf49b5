/** Thrown where one of our own files cannot be had: the machine is offline and never had it. */
export class AssetMissing extends Error {
  override readonly name = 'AssetMissing';
}

/**
 * The bytes of one of our own files.
 * @param url as an import with `?url` gives it
 * @throws AssetMissing where it cannot be had
 */
export async function fetchBytes(url: string): Promise<Uint8Array> {
  let answer: Response;
  try {
    answer = await fetch(url);
  } catch (error) {
    throw new AssetMissing(`cannot be fetched: ${url}`, { cause: error });
  }
  if (!answer.ok) throw new AssetMissing(`cannot be fetched (${answer.status}): ${url}`);
  return new Uint8Array(await answer.arrayBuffer());
}
