declare module 'wawoff2' {
  /** WOFF2 to TrueType. */
  export function decompress(bytes: Uint8Array): Promise<Uint8Array>;
}
