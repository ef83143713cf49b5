/** Why a file could not be made, as far as a user can do something about it. */
export type OrderFault =
  // one of our own files could not be fetched: the machine is offline
  | { readonly kind: 'offline' }
  | { readonly kind: 'memory' }
  // what this browser may keep on the disk is full
  | { readonly kind: 'disk' }
  | { readonly kind: 'other'; readonly message: string };

/** What a failed job says, sorted. Browsers have their own words; a worker passes on only those. */
export function faultOf(error: unknown): OrderFault {
  const message = error instanceof Error ? error.message : String(error);
  if (/cannot be fetched|failed to fetch|dynamically imported|import.*failed|module script/iu.test(message))
    return { kind: 'offline' };
  if (/quota|disk is full/iu.test(message)) return { kind: 'disk' };
  if (/out of memory|allocation failed|array buffer allocation|invalid (array|typed array) length/iu.test(message))
    return { kind: 'memory' };
  return { kind: 'other', message };
}
