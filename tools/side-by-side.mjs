/** Runs programs side by side, as many at a time as there are cores; each one's words are printed when it is through. */
import { spawn } from 'node:child_process';
import { availableParallelism } from 'node:os';

/**
 * @typedef {readonly [name: string, command: string, ...args: string[]]} Check
 * @param {readonly Check[]} checks the longest first
 * @param {{ cwd: string }} options
 * @returns {Promise<string[]>} the names of those that failed
 */
export async function sideBySide(checks, { cwd }) {
  const failed = [];
  const left = [...checks];
  const worker = async () => {
    for (let check = left.shift(); check !== undefined; check = left.shift()) {
      const { words, passed, seconds } = await run(check, cwd);
      console.log(`\n— ${check[0]}`);
      if (words.trim() !== '') console.log(words.trimEnd());
      console.log(`  ${passed ? 'passed' : 'FAILED'} in ${seconds.toFixed(1)} s`);
      if (!passed) failed.push(check[0]);
    }
  };
  await Promise.all(Array.from({ length: availableParallelism() }, worker));
  return failed;
}

/** One program to its end; `CI=true`: a snapshot that is missing or differs fails instead of being written. */
function run([, command, ...args], cwd) {
  return new Promise((resolve) => {
    const start = Date.now();
    const done = (words, passed) => resolve({ words, passed, seconds: (Date.now() - start) / 1000 });
    const child = spawn(command, args, {
      cwd,
      stdio: ['ignore', 'pipe', 'pipe'],
      env: { ...process.env, CI: 'true' },
    });
    let words = '';
    const hear = (piece) => (words += piece);
    child.stdout.setEncoding('utf8').on('data', hear);
    child.stderr.setEncoding('utf8').on('data', hear);
    child.on('error', (error) => done(error.message, false));
    child.on('close', (status) => done(words, status === 0));
  });
}
