export const WEIGHTS: Readonly<Record<'400' | '600' | '700', number>>;
export const SIGNS: readonly string[];
export function signFont(weight: number): Promise<{ otf: Uint8Array; woff2: Uint8Array }>;
