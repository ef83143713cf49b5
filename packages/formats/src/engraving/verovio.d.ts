/** The part of verovio's ES module that the engraver uses. Source: verovio 6.3.0, dist/verovio.mjs. */
declare module 'verovio/wasm' {
  export interface VerovioModule {
    readonly cwrap: unknown;
  }
  const createVerovioModule: () => Promise<VerovioModule>;
  export default createVerovioModule;
}

declare module 'verovio/esm' {
  import type { VerovioModule } from 'verovio/wasm';

  export const LOG_OFF: 0;
  export function enableLog(level: number, module: VerovioModule): void;
  export class VerovioToolkit {
    constructor(module: VerovioModule);
    destroy(): void;
    setOptions(options: Readonly<Record<string, string | number | boolean>>): void;
    resetXmlIdSeed(seed: number): void;
    loadData(data: string): boolean | number;
    getMEI(options?: Readonly<Record<string, string | number | boolean>>): string;
    getPageCount(): number;
    renderToSVG(page: number): string;
  }
}
