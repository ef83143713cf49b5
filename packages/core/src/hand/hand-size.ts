/** How wide the hand opens: one of three sizes, or its measured span from thumb to little finger. */
export type HandSize = 'small' | 'medium' | 'large' | { readonly spanMm: number };
