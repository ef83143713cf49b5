/** The checks that run nothing of ours, the longest first. */
import { join } from 'node:path';

/**
 * @param {string} root the repository
 * @param {readonly string[]} [formatted] the files whose format is looked at; all unless given
 */
export function staticChecks(root, formatted = ['.']) {
  const bin = (name) => join(root, 'node_modules', '.bin', name);
  return [
    ...(formatted.length === 0
      ? []
      : [['format', bin('oxfmt'), '--list-different', '--no-error-on-unmatched-pattern', ...formatted]]),
    ['lint', bin('oxlint'), '-c', 'oxlint.config.mjs', '--type-aware', '--deny-warnings'],
    ['dead code', bin('knip'), '--no-progress'],
    ['types: core', bin('tsc'), '-p', 'packages/core'],
    ['types: formats', bin('tsc'), '-p', 'packages/formats'],
    ['types: sound', bin('tsc'), '-p', 'packages/sound'],
    ['types: cli', bin('tsc'), '-p', 'apps/cli'],
    ['types: web', bin('tsc'), '-p', 'apps/web'],
    ['types: tests and tools', bin('tsc'), '-p', '.'],
    ['notice', process.execPath, 'tools/notice.mjs'],
  ];
}
