import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { basename } from 'node:path';
import type { Plugin } from 'vite';

const MARK = '\0separate:';

/**
 * Ships modules as the files their packages have, unchanged and each for itself, so that anyone can put another build in their
 * place: what the LGPL asks for (see NOTICE). They are loaded by address when they are first asked for.
 * @param modules specifiers of modules whose default export is a function, by the name their file gets
 */
export function separateFiles(modules: Readonly<Record<string, string>>): Plugin {
  const { resolve } = createRequire(import.meta.url);
  return {
    name: 'fivespan-separate-files',
    apply: 'build',
    enforce: 'pre',
    resolveId: (source) => (Object.values(modules).includes(source) ? MARK + source : undefined),
    load(id) {
      if (!id.startsWith(MARK)) return undefined;
      const source = id.slice(MARK.length);
      const name = Object.keys(modules).find((each) => modules[each] === source) ?? basename(source);
      const reference = this.emitFile({ type: 'asset', name, source: readFileSync(resolve(source)) });
      return (
        `const file = import.meta.ROLLUP_FILE_URL_${reference};\n` +
        'export default async (...given) => (await import(/* @vite-ignore */ file)).default(...given);\n'
      );
    },
  };
}
