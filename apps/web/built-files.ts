import type { Plugin } from 'vite';

/** Where the page finds what there is to keep. */
const LIST = 'files.json';

/**
 * Lists the built files with their sizes in bytes, so that a page can keep all of them for offline use and say how far it is,
 * and puts the licences beside them.
 * @param licences file name → text
 */
export function builtFiles(licences: Readonly<Record<string, string>>): Plugin {
  return {
    name: 'fivespan-built-files',
    apply: 'build',
    generateBundle: {
      order: 'post',
      handler(_options, bundle) {
        for (const [fileName, source] of Object.entries(licences)) this.emitFile({ type: 'asset', fileName, source });
        const files = Object.values(bundle)
          .map((each) => ({
            path: each.fileName,
            bytes: Buffer.byteLength(each.type === 'chunk' ? each.code : each.source),
          }))
          .filter(({ path }) => path.startsWith('assets/') && !path.endsWith('.map'))
          .sort((a, b) => (a.path < b.path ? -1 : 1));
        this.emitFile({ type: 'asset', fileName: LIST, source: JSON.stringify(files) });
      },
    },
  };
}
