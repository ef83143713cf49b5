import type { ParseArgsConfig } from 'node:util';

/**
 * Done; the input has faults (all listed, nothing written), or Fivespan itself has one; the command was called wrongly.
 * An interrupted command has 128 and the signal's number (interrupt.ts).
 */
export const EXIT = { done: 0, faults: 1, usage: 2 } as const;
export type ExitCode = (typeof EXIT)[keyof typeof EXIT];

/** A wrong call: its message says which option or argument, and what it takes. */
export class UsageError extends Error {
  override readonly name = 'UsageError';
}

/** One option as the help prints it and the parser reads it. */
export interface OptionText {
  readonly type: 'string' | 'boolean';
  /** One letter that says the same: `o` for `-o`. */
  readonly short?: string;
  /** What stands after the option in the help, `KEY` or `small|medium|large`; absent for a switch. */
  readonly value?: string;
  readonly text: string;
}

export interface Command {
  readonly name: string;
  readonly summary: string;
  /** What stands after the name: `CHART…`. */
  readonly operands: string;
  readonly options: Readonly<Record<string, OptionText>>;
  /** A switch with which the operands may be left out. */
  readonly alone?: string;
  readonly example: string;
  /** Loads the code behind the command only when it runs, so that help starts at once. */
  readonly load: () => Promise<{ readonly run: (call: Call) => Promise<ExitCode> }>;
}

/** A parsed call of one command. */
export interface Call {
  readonly operands: readonly string[];
  readonly options: Readonly<Record<string, string | boolean | undefined>>;
}

export function parserOptions(command: Command): NonNullable<ParseArgsConfig['options']> {
  return Object.fromEntries(
    Object.entries(command.options).map(([name, { type, short }]) => [
      name,
      short === undefined ? { type } : { type, short },
    ]),
  );
}
