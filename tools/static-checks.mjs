/** The checks that run nothing of ours, the longest first. */
import { join } from 'node:path';

/** @param {string} root the repository */
export function staticChecks(root) {
  const bin = (name) => join(root, 'node_modules', '.bin', name);
  return [
    ['format', bin('prettier'), '--check', '--log-level', 'warn', '.'],
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
