import { shownText } from '@fivespan/core';

/** Shows how far the work is on standard error: one line that grows on a terminal, one short line each quarter elsewhere. */
export function progressLine(what: string, total: number): { readonly step: () => void; readonly end: () => void } {
  const terminal = process.stderr.isTTY;
  let done = 0;
  return {
    step: () => {
      done++;
      const text = shownText(`${what}: ${done} of ${total} files`);
      if (terminal) process.stderr.write(`\r\u001b[K${text}`);
      else if (done === total || (done * 4) % total < 4) process.stderr.write(`${text}\n`);
    },
    end: () => {
      if (terminal) process.stderr.write('\r\u001b[K');
    },
  };
}
