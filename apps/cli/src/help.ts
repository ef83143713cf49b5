import { COMMANDS } from './commands.ts';
import type { Command } from './command.ts';

const INPUTS = `CHART is a file (.chart), - for standard input, or the changes themselves: 'Fm7 | Bb7 | Ebmaj7'.`;

/** Two columns, the second aligned. */
function columns(rows: readonly (readonly [string, string])[]): string[] {
  const width = Math.max(...rows.map(([left]) => left.length)) + 2;
  return rows.map(([left, right]) => `  ${left.padEnd(width)}${right}`);
}

/** The help of the whole program. */
export function generalHelp(): string {
  return [
    'fivespan: from a chord chart to a keyboard lesson',
    '',
    'fivespan COMMAND CHART [options]',
    '',
    ...columns(COMMANDS.map((command) => [command.name, command.summary])),
    '',
    INPUTS,
    "Each command's own help: fivespan COMMAND --help",
    'Exit: 0 done, 1 the input has faults (all listed, nothing written), 2 wrong usage.',
    '',
    'Example: fivespan lesson examples/DEMO.chart --keys all',
  ].join('\n');
}

/** The help of one command. */
export function helpOf(command: Command): string {
  const options = Object.entries(command.options).map(
    ([name, { short, value, text }]) =>
      [`${short === undefined ? '' : `-${short}, `}--${name}${value === undefined ? '' : ` ${value}`}`, text] as const,
  );
  return [
    `fivespan ${command.name}: ${command.summary}`,
    '',
    `fivespan ${command.name} ${command.operands} [options]`,
    '',
    ...columns([...options, ['--help', 'this page']]),
    '',
    ...(command.operands.startsWith('CHART') ? [INPUTS, ''] : []),
    `Example: ${command.example}`,
  ].join('\n');
}
