import { parseArgs } from 'node:util';
import { COMMANDS } from './commands.ts';
import { EXIT, parserOptions, UsageError, type Call, type Command } from './command.ts';
import { reasonOf, sentenceOfFault } from './fault.ts';
import { generalHelp, helpOf } from './help.ts';
import { Interrupted } from './interrupt.ts';

function parse(command: Command, words: readonly string[]): Call & { readonly help: boolean } {
  try {
    const { values, positionals } = parseArgs({
      args: [...words],
      options: { ...parserOptions(command), help: { type: 'boolean', short: 'h' } },
      allowPositionals: true,
    });
    const { help, ...options } = values;
    return { operands: positionals, options: options, help: help === true };
  } catch (error) {
    throw new UsageError(wordsOf(error as Error & { readonly code?: string }, command));
  }
}

/** What is wrong with the options, in our words; Node's own say how to escape a dash, which nobody asked. */
function wordsOf({ code, message }: Error & { readonly code?: string }, command: Command): string {
  const [quoted = ''] = /(?<=')-[^' =]*/u.exec(message) ?? [];
  const names = Object.keys(parserOptions(command)).map((name) => `--${name}`);
  if (code === 'ERR_PARSE_ARGS_UNKNOWN_OPTION') return `${quoted} is none of its options: ${names.join(' ')}`;
  if (code !== 'ERR_PARSE_ARGS_INVALID_OPTION_VALUE') return message;
  return message.includes('does not take an argument')
    ? `${quoted} takes no value`
    : `${quoted} needs a value after it`;
}

/**
 * A reader that went away (`| head`) is no fault of ours: stop quietly. A disk that cannot take the answer is reported.
 */
function leaveWhenNobodyReads(): void {
  process.stdout.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code === 'EPIPE') process.exit(EXIT.done);
    process.stderr.write(`fivespan: the answer could not be written: ${reasonOf(error)}\n`);
    process.exit(EXIT.faults);
  });
  // nowhere is left to say it
  process.stderr.on('error', () => process.exit(EXIT.faults));
}

/**
 * Runs the program.
 * @param words the arguments after the program's name
 */
export async function main(words: readonly string[]): Promise<number> {
  leaveWhenNobodyReads();
  const [name, ...rest] = words;
  if (name === undefined || name === '--help' || name === '-h' || name === 'help') {
    (name === undefined ? process.stderr : process.stdout).write(`${generalHelp()}\n`);
    return name === undefined ? EXIT.usage : EXIT.done;
  }
  const command = COMMANDS.find((each) => each.name === name);
  if (command === undefined) {
    process.stderr.write(`fivespan: '${name}' is no command\n\n${generalHelp()}\n`);
    return EXIT.usage;
  }
  try {
    const call = parse(command, rest);
    if (call.help) {
      process.stdout.write(`${helpOf(command)}\n`);
      return EXIT.done;
    }
    const isAlone = command.alone !== undefined && call.options[command.alone] === true;
    if (call.operands.length === 0 && !isAlone) throw new UsageError(`${command.operands} is missing`);
    const { run } = await command.load();
    return await run(call);
  } catch (error) {
    if (error instanceof Interrupted) {
      process.stderr.write('Interrupted: nothing was written.\n');
      return error.exit;
    }
    if (!(error instanceof UsageError)) {
      process.stderr.write(`fivespan ${command.name}: ${sentenceOfFault(error)}\n`);
      return EXIT.faults;
    }
    process.stderr.write(
      `fivespan ${command.name}: ${error.message}\nfivespan ${command.name} ${command.operands} [options]; see fivespan ${command.name} --help\n`,
    );
    return EXIT.usage;
  }
}
