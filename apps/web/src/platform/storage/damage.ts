import type { Issue } from '@fivespan/core';

/** What is wrong with a stored record, or a lesson in a file. Words are made where it is shown. */
export type Damage =
  | { readonly kind: 'no record' }
  | { readonly kind: 'no version' }
  // a step to the newest version failed; the message is for who mends it
  | { readonly kind: 'not migrated'; readonly message: string }
  // missing, or not what belongs there; empty where it is the whole
  | { readonly kind: 'field'; readonly field: string }
  | { readonly kind: 'document'; readonly issues: readonly Issue[] };
