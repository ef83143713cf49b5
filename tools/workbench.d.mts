export function ensureWorkbench(root: string, outDir?: string): Promise<string>;
export function serveWorkbench(
  root: string,
  options: { readonly outDir: string; readonly port?: number },
): Promise<{ readonly url: string; readonly port: number; readonly close: () => Promise<void> }>;
